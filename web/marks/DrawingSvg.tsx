import { Fragment } from 'react';
import type { Drawing, Label, Stroke } from './drawing.js';
import { penData } from './path-pen.js';
import './marks.css';

/** A drawing as part of an SVG. */
export function DrawingSvg({ drawing }: { readonly drawing: Drawing }) {
  return (
    <>
      {drawing.strokes.map((stroke, i) => (
        <StrokePath key={i} stroke={stroke} />
      ))}
      {drawing.labels.map((label, i) => (
        <Fragment key={i}>
          {/* labels are words apart for those who hear or copy them too */}
          {i > 0 && ' '}
          <LabelText label={label} />
        </Fragment>
      ))}
    </>
  );
}

function StrokePath({ stroke }: { readonly stroke: Stroke }) {
  return (
    <path
      d={stroke.pen === undefined ? stroke.path : stroke.path + penData(stroke.pen)}
      className={stroke.hatch ? 'stroke hatch' : 'stroke'}
      stroke={stroke.ink === null ? 'none' : `var(--${stroke.ink})`}
      strokeDasharray={stroke.dash?.join(' ')}
      fill={stroke.fill === undefined ? 'none' : `var(--${stroke.fill})`}
      style={{ strokeWidth: `calc(var(--line) * ${stroke.width / 1.5})` }}
    />
  );
}

function LabelText({ label }: { readonly label: Label }) {
  const classes = [
    'label',
    label.strong ? 'label-strong' : '',
    label.axis ? 'label-axis' : '',
    label.halo ? 'label-halo' : '',
  ];
  return (
    <text
      x={label.x}
      y={label.y}
      textAnchor={label.anchor ?? 'start'}
      className={classes.join(' ')}
      fill={`var(--${label.ink})`}
    >
      {label.text}
    </text>
  );
}
