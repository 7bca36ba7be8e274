import type { ComponentChildren } from 'preact';
import { goTo } from '../route.ts';

/** A link to a view of this page. */
export function Link(props: {
  readonly to: string;
  readonly className?: string;
  readonly isHere?: boolean;
  readonly children: ComponentChildren;
}) {
  return (
    <a
      href={props.to}
      class={props.className}
      aria-current={props.isHere ? 'page' : undefined}
      onClick={(event: MouseEvent) => {
        if (event.ctrlKey || event.metaKey || event.shiftKey || event.button !== 0) return;
        event.preventDefault();
        goTo(props.to);
      }}
    >
      {props.children}
    </a>
  );
}
