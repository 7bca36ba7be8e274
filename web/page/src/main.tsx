import { render } from 'preact';
import { Page } from './Page.tsx';

render(<Page />, document.getElementById('page')!);
