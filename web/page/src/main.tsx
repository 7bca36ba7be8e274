import '@fontsource/source-sans-3/latin-400.css';
import '@fontsource/source-sans-3/latin-600.css';
import '@fontsource/source-sans-3/latin-ext-400.css';
import '@fontsource/source-sans-3/latin-ext-600.css';
import './styles/base.css';
import './styles/jobs.css';
import './styles/review.css';
import './styles/forms.css';
import './styles/papers.css';
import { render } from 'preact';
import { Page } from './Page.tsx';
import { remembered, showTheme, type Theme } from './settings.ts';

showTheme((remembered('theme') as Theme | null) ?? 'system');
render(<Page />, document.getElementById('page')!);
