import { useEffect, useState } from 'react';
import { DrawingSvg } from '../marks/DrawingSvg.js';
import { BlindCompare, blindKey, type BlindRecord, type BlindTerms } from './blind-compare.js';
import type { Letter } from './blind-order.js';
import { chancesDrawing } from './chances-drawing.js';
import { sayMeaning, sayResult } from './guessing.js';

export interface BlindPanelProps {
  /** What is compared and how it is heard, as it stands now; kept from the first trial on. */
  readonly terms: Omit<BlindTerms, 'trials'>;
  /** A number that nobody knows, for the order. */
  readonly newSeed: () => number;
  readonly onPlay: (letter: Letter) => void;
  /** While it is open, no other key acts. */
  readonly onOwnKeyboard: (owns: boolean) => void;
  /** To be kept in the session. */
  readonly onRecord: (record: BlindRecord) => void;
}

const TRIALS = [8, 12, 16, 20, 24];

/** The blind compare: agree the trials, listen to A, B and X, say what X is; the result is shown after the last answer. */
export function BlindPanel(props: BlindPanelProps) {
  const [compare, setCompare] = useState<BlindCompare | null>(null);
  const [trials, setTrials] = useState(16);
  const { terms } = compare ?? props;
  return (
    <section aria-label="Blind compare">
      <h2>
        Blind compare{' '}
        <small>
          {terms.a} against {terms.b}; {terms.conditions}
        </small>
      </h2>
      {compare === null ? (
        <>
          <label className="listen-tick">
            Trials, agreed before the first
            <select value={trials} onChange={(event) => setTrials(Number(event.target.value))}>
              {TRIALS.map((count) => (
                <option key={count}>{count}</option>
              ))}
            </select>
          </label>
          <button
            type="button"
            onClick={() => setCompare(new BlindCompare({ ...props.terms, trials }, props.newSeed()))}
          >
            Begin
          </button>
        </>
      ) : (
        <OpenCompare {...props} compare={compare} onClose={() => setCompare(null)} />
      )}
    </section>
  );
}

type OpenProps = BlindPanelProps & { readonly compare: BlindCompare; readonly onClose: () => void };

function OpenCompare({ compare, onPlay, onOwnKeyboard, onRecord, onClose }: OpenProps) {
  const [, setAnswered] = useState(0);
  const [playing, setPlaying] = useState<Letter | 'X'>('A');
  const play = (letter: Letter | 'X') => {
    setPlaying(letter);
    onPlay(compare.soundOf(letter));
  };
  const answer = (letter: Letter) => {
    if (compare.finished) return;
    compare.answer(letter);
    setAnswered(compare.answered);
    if (compare.record !== null) onRecord(compare.record);
    else play('X');
  };
  useEffect(() => {
    onOwnKeyboard(true);
    return () => onOwnKeyboard(false);
  }, [onOwnKeyboard]);
  useEffect(() => {
    const act = (event: KeyboardEvent) => {
      if (event.ctrlKey || event.altKey || event.metaKey || event.key === 'Tab') return;
      const what = blindKey(event.key);
      // Enter and space keep their usual work on the button that has focus.
      if (what === null)
        return event.key === 'Enter' || event.key === ' ' ? undefined : event.stopImmediatePropagation();
      event.preventDefault();
      event.stopImmediatePropagation();
      if (what === 'close') onClose();
      else if ('play' in what) play(what.play);
      else answer(what.answer);
    };
    window.addEventListener('keydown', act, true);
    return () => window.removeEventListener('keydown', act, true);
  });
  const { record } = compare;
  return record === null ? (
    <>
      <div className="listen-letters">
        {(['A', 'B', 'X'] as const).map((letter) => (
          <button key={letter} type="button" aria-pressed={letter === playing} onClick={() => play(letter)}>
            Play {letter} <kbd>{letter}</kbd>
          </button>
        ))}
      </div>
      <div className="listen-letters">
        <button type="button" onClick={() => answer('A')}>
          X is A <kbd>←</kbd>
        </button>
        <button type="button" onClick={() => answer('B')}>
          X is B <kbd>→</kbd>
        </button>
      </div>
      <p role="status">
        Trial {compare.answered + 1} of {compare.terms.trials}, agreed beforehand; the tally stays covered until the
        last.
      </p>
      <p>The compare has the keyboard to itself; Esc closes it and drops what is not finished.</p>
    </>
  ) : (
    <Result record={record} onClose={onClose} />
  );
}

const FIGURE = { width: 440, height: 190 };

function Result({ record, onClose }: { readonly record: BlindRecord; readonly onClose: () => void }) {
  const { right, trials, answers } = record;
  return (
    <>
      <p className="listen-result" role="status">
        {sayResult(right, trials)}
      </p>
      <p>{sayMeaning(right, trials)} Kept in the session.</p>
      <ol className="listen-answers" aria-label="Answers">
        {answers.map(({ x, said }, i) => (
          <li key={i} className={x === said ? 'listen-right' : undefined}>
            <span className="listen-hidden">{x === said ? 'right' : 'wrong'}</span>
          </li>
        ))}
      </ol>
      <p className="listen-axis">How often a guesser gets this many right</p>
      <svg
        className="listen-figure"
        viewBox={`0 0 ${FIGURE.width} ${FIGURE.height}`}
        role="img"
        aria-label={`Chances of a guesser for 0 to ${trials} right answers; yours: ${right}.`}
      >
        <DrawingSvg drawing={chancesDrawing(right, trials, FIGURE.width, FIGURE.height)} />
      </svg>
      <p className="listen-axis">right answers of {trials}</p>
      <button type="button" onClick={onClose}>
        Close <kbd>Esc</kbd>
      </button>
    </>
  );
}
