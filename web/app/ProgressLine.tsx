import { Button } from 'react-aria-components';
import type { Work } from '../state/worker-client.js';

const MOST_STROKES = 48;

/** One stroke for each file or render, those done in ink; what is being done, in words. */
export function ProgressLine({ work, onStop }: { readonly work: Work; onStop(): void }) {
  const { what, done, total } = work;
  const strokes = Math.min(total, MOST_STROKES);
  const inked = total === 0 ? 0 : Math.floor((done / total) * strokes);
  return (
    <section className="progress" aria-label="Progress">
      <span role="status">{sentenceOf(what)}</span>
      <svg width={strokes * 5} height="12" aria-hidden="true">
        {Array.from({ length: strokes }, (_, n) => (
          <path key={n} data-done={n < inked} d={`M${n * 5 + 1.5} 1v10`} />
        ))}
      </svg>
      {total > 1 && (
        <span className="figure">
          {done} of {total}
        </span>
      )}
      <Button className="word-button slim" onPress={onStop}>
        Stop
      </Button>
    </section>
  );
}

function sentenceOf(what: string): string {
  return what.charAt(0).toUpperCase() + what.slice(1);
}
