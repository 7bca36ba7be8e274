import type { ComponentChildren } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';

const rowPx = 44;

/** A list of any length, of which only the rows that are seen exist. */
export function Rows(props: {
  readonly count: number;
  readonly mostSeen: number;
  /** Kept in sight; null: none. */
  readonly at: number | null;
  row(index: number): ComponentChildren;
}) {
  const { count, at } = props;
  const [scrolled, setScrolled] = useState(0);
  const box = useRef<HTMLDivElement>(null);
  const seen = Math.min(props.mostSeen, count);
  useEffect(() => {
    const element = box.current;
    if (element === null || at === null) return;
    const top = at * rowPx;
    if (top < element.scrollTop || top + rowPx > element.scrollTop + element.clientHeight)
      element.scrollTop = Math.max(0, top - element.clientHeight / 2);
  }, [at]);
  const first = Math.max(0, Math.floor(scrolled / rowPx) - 2);
  const last = Math.min(count, first + seen + 5);
  return (
    <div
      ref={box}
      class="place-box"
      onScroll={(event) => setScrolled(event.currentTarget.scrollTop)}
      style={{ height: `${seen * rowPx}px` }}
    >
      <ul style={{ height: `${count * rowPx}px` }}>
        {Array.from({ length: Math.max(0, last - first) }, (_, offset) => {
          const index = first + offset;
          return (
            <li
              key={index}
              aria-setsize={count}
              aria-posinset={index + 1}
              style={{ transform: `translateY(${index * rowPx}px)` }}
            >
              {props.row(index)}
            </li>
          );
        })}
      </ul>
    </div>
  );
}
