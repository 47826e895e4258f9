import type { BlindRecord } from '../audio/blind-compare.js';
import { DrawingSvg } from '../marks/DrawingSvg.js';
import { chancesDrawing } from './chances-drawing.js';
import { sayAbandoned, sayChance, sayMeaning, sayResult } from './guessing.js';
import { ListenFigure } from './ListenFigure.js';
import { trialsDrawing } from './trials-drawing.js';

interface BlindResultProps {
  readonly record: BlindRecord;
  onClose(): void;
}

const CHANCES_HEIGHT = 176;
const TRIALS_HEIGHT = 52;

/** How a compare ended: the tally, the chance of a guesser drawn, and each trial; or that it was abandoned. */
export function BlindResult({ record, onClose }: BlindResultProps) {
  const { right, trials, answers, answered } = record;
  const close = (
    <button type="button" onClick={onClose} autoFocus>
      Close
    </button>
  );
  if (right === null) {
    return (
      <>
        <p className="listen-result" role="status">
          {sayAbandoned(answered, trials)}
        </p>
        <p>No tally: a compare that is left when it suits shows nothing. Kept in the session as abandoned.</p>
        {close}
      </>
    );
  }
  const rightOf = answers.map(({ x, said }) => x === said);
  return (
    <>
      <p className="listen-result" role="status">
        {sayResult(right, trials)}
      </p>
      <p>{sayMeaning(right, trials)} Kept in the session.</p>
      <ListenFigure
        height={TRIALS_HEIGHT}
        says={`Trial by trial: ${rightOf.map((one, i) => `${i + 1} ${one ? 'right' : 'wrong'}`).join(', ')}.`}
      >
        {(width) => <DrawingSvg drawing={trialsDrawing(rightOf, width)} />}
      </ListenFigure>
      <p className="listen-axis">How often a guesser gets this many right</p>
      <ListenFigure
        height={CHANCES_HEIGHT}
        says={`Chances of a guesser for 0 to ${trials} right answers; yours: ${right}. ${sayChance(right, trials)}.`}
      >
        {(width) => <DrawingSvg drawing={chancesDrawing(right, trials, width, CHANCES_HEIGHT)} />}
      </ListenFigure>
      <p className="listen-axis listen-axis-end">right answers of {trials}</p>
      {close}
    </>
  );
}
