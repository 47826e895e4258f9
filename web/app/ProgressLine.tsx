import { Button } from 'react-aria-components';
import type { Work } from '../state/worker-client.js';
import { progressSentence, soFarSentence } from './progress-sentence.js';

const MOST_STROKES = 96;

/** One stroke for each file, part or render, those done in ink; what is being done, in words. */
export function ProgressLine({ work, onStop }: { readonly work: Work; onStop(): void }) {
  const { done, total } = work;
  const strokes = Math.min(total, MOST_STROKES);
  const inked = total === 0 ? 0 : Math.floor((done / total) * strokes);
  const soFar = soFarSentence(work);
  return (
    <section className="progress" aria-label="Progress">
      <span role="status">{progressSentence(work)}</span>
      <svg width={strokes * 5} height="12" aria-hidden="true">
        {Array.from({ length: strokes }, (_, n) => (
          <path key={n} data-done={n < inked} d={`M${n * 5 + 1.5} 1v10`} />
        ))}
      </svg>
      {soFar !== null && <span className="figure">{soFar}</span>}
      <Button className="word-button slim" onPress={onStop}>
        Stop
      </Button>
    </section>
  );
}
