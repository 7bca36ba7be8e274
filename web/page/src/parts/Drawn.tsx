import type { Drawing, Shape, Tone } from '../../../../src/report/shapes.ts';

/** A drawing of the report as elements: tones are classes, as nothing may stand in style attributes. */
export function Drawn(props: { readonly drawing: Drawing; readonly className: string; readonly isDecor?: boolean }) {
  const { drawing } = props;
  const viewBox = `0 0 ${drawing.width} ${drawing.height}`;
  const shapes = drawing.shapes.map((shape, index) => <DrawnShape key={index} shape={shape} />);
  if (props.isDecor === true)
    return (
      <svg class={props.className} viewBox={viewBox} aria-hidden="true">
        {shapes}
      </svg>
    );
  return (
    <svg class={props.className} viewBox={viewBox} role="img" aria-label={drawing.label}>
      {shapes}
    </svg>
  );
}

function DrawnShape({ shape }: { readonly shape: Shape }) {
  if (shape.kind === 'text')
    return (
      <text
        x={shape.x}
        y={shape.y}
        font-size={shape.size}
        font-weight={shape.strong ? 600 : 400}
        text-anchor={shape.anchor}
        class={`fill-${shape.tone}`}
      >
        {shape.text}
      </text>
    );
  return (
    <path
      d={shape.d}
      class={`${classOf('fill', shape.fill)} ${classOf('stroke', shape.stroke)}`}
      fill={shape.fill.startsWith('#') ? shape.fill : undefined}
      stroke={shape.stroke.startsWith('#') ? shape.stroke : undefined}
      stroke-width={shape.strokeWidth}
      stroke-dasharray={shape.dash?.join(' ')}
      opacity={shape.opacity}
    />
  );
}

function classOf(what: 'fill' | 'stroke', tone: Tone): string {
  return tone.startsWith('#') ? '' : `${what}-${tone}`;
}
