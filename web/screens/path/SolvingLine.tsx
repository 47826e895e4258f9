import type { SolvingState } from './path-props.js';

/** How far solving has come: a stroke for each step, filled as it is done; Stop keeps the best so far. */
export function SolvingLine({ solving, onStop }: { readonly solving: SolvingState; onStop(): void }) {
  const { what, done, total, left_s } = solving;
  const left = left_s === null ? '' : `, ${Math.ceil(left_s)}\u00a0s left`;
  const strokes = Math.max(total, done);
  return (
    <p className="solving" role="status">
      <svg width={strokes * 5} height={10} aria-hidden="true">
        {Array.from({ length: strokes }, (_, i) => (
          <path
            key={i}
            d={`M${2 + 5 * i} 0v10`}
            stroke={i < done ? 'var(--ink)' : 'var(--rule-strong)'}
            strokeWidth={i < done ? 2 : 1}
          />
        ))}
      </svg>
      {what}: {done} of {total}
      {left}
      <button type="button" className="act-quiet" onClick={onStop}>
        Stop
      </button>
    </p>
  );
}
