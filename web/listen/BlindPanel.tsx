import { useEffect, useId, useState } from 'react';
import type { BlindCompareRecord } from '../../core/session/session-format.js';
import type { BlindTerms } from '../audio/blind-compare.js';
import type { BlindRun } from '../audio/blind-run.js';
import type { Letter } from '../audio/blind-order.js';
import { blindKey } from './blind-key.js';
import { BlindResult } from './BlindResult.js';
import { sayKept } from './guessing.js';

export interface BlindPanelProps {
  /** What is compared and how it is heard, as it stands now; kept from the first trial on. */
  readonly terms: Omit<BlindTerms, 'trials'>;
  /** Why it cannot begin, in a sentence; null where it can. */
  readonly refusal: string | null;
  /** The compare under way or just ended; null while none is open. */
  readonly run: BlindRun | null;
  /** Compares of this song, the latest last. */
  readonly kept: readonly BlindCompareRecord[];
  readonly playing: boolean;
  readonly onBegin: (trials: number) => void;
  /** After the last answer, and where it is abandoned. */
  readonly onEnd: () => void;
  readonly onClose: () => void;
  readonly onPause: () => void;
}

const TRIALS = [8, 12, 16, 20, 24];

/** The blind compare: agree the trials, listen to A, B and X, say what X is; the result is shown after the last answer. */
export function BlindPanel(props: BlindPanelProps) {
  const { run, kept } = props;
  const terms = run?.terms ?? props.terms;
  return (
    <section aria-label="Blind compare">
      <h2>
        Blind compare{' '}
        <small>
          A {terms.a} against B {terms.b}; {terms.conditions}
        </small>
      </h2>
      {run === null ? <BeforeFirst {...props} /> : <OpenCompare {...props} run={run} />}
      {run === null && kept.length > 0 && (
        <>
          <h3>Kept in the session</h3>
          <ol className="listen-kept">
            {kept.toReversed().map((record, i) => (
              <li key={kept.length - i}>{sayKept(record)}</li>
            ))}
          </ol>
        </>
      )}
    </section>
  );
}

function BeforeFirst({ refusal, onBegin }: BlindPanelProps) {
  const [trials, setTrials] = useState(16);
  const id = useId();
  if (refusal !== null) return <p>Not now. {refusal}</p>;
  return (
    <>
      <p>
        X is A or B by the toss of a coin, anew in each trial. Part, loudspeaker, loop, match and the number of trials
        are fixed when it begins; both are equally loud.
      </p>
      <div className="listen-agree">
        <label htmlFor={id}>Trials, agreed before the first</label>
        <select id={id} value={trials} onChange={(event) => setTrials(Number(event.target.value))}>
          {TRIALS.map((count) => (
            <option key={count}>{count}</option>
          ))}
        </select>
        <button type="button" className="listen-act" onClick={() => onBegin(trials)}>
          Begin
        </button>
      </div>
    </>
  );
}

function OpenCompare(props: BlindPanelProps & { readonly run: BlindRun }) {
  const { run, playing: sounds, onEnd, onClose, onPause } = props;
  const [, setAnswered] = useState(run.answered);
  const [playing, setPlaying] = useState<Letter | 'X'>('A');
  const play = (letter: Letter | 'X') => {
    setPlaying(letter);
    run.play(letter);
  };
  const answer = (letter: Letter) => {
    run.answer(letter);
    setAnswered(run.answered);
    if (run.record === null) play('X');
    else onEnd();
  };
  const close = () => {
    if (run.record === null) {
      run.abandon();
      onEnd();
      setAnswered(-1);
    } else onClose();
  };
  useOwnKeyboard(run.record === null, { play, answer, close, pause: onPause });
  const { record } = run;
  if (record !== null) return <BlindResult record={record} onClose={onClose} />;
  return (
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
        Trial {run.answered + 1} of {run.terms.trials}, agreed beforehand; the tally stays covered until the last.
        {sounds ? '' : ' The song is paused: Space goes on.'}
      </p>
      <ol className="listen-trials" aria-hidden="true">
        {Array.from({ length: run.terms.trials }, (_, i) => (
          <li key={i} data-answered={i < run.answered} />
        ))}
      </ol>
      <p>It has the keyboard to itself. Esc abandons it: no tally is shown then, and it is kept as abandoned.</p>
      <button type="button" onClick={close}>
        Abandon <kbd>Esc</kbd>
      </button>
    </>
  );
}

interface BlindActs {
  play(letter: Letter | 'X'): void;
  answer(letter: Letter): void;
  pause(): void;
  close(): void;
}

/** While a compare is open no other key acts, but Tab, and Enter on what has the focus. */
function useOwnKeyboard(open: boolean, acts: BlindActs): void {
  useEffect(() => {
    if (!open) return undefined;
    const act = (event: KeyboardEvent) => {
      if (event.key === 'Tab' || event.key === 'Enter') return event.stopImmediatePropagation();
      event.stopImmediatePropagation();
      if (event.ctrlKey || event.altKey || event.metaKey) return undefined;
      const what = blindKey(event.key);
      // an answer is one press: a key that is held must not answer the trials that follow
      if (what === null || event.repeat) return event.preventDefault();
      event.preventDefault();
      if (what === 'close') acts.close();
      else if (what === 'pause') acts.pause();
      else if ('play' in what) acts.play(what.play);
      else acts.answer(what.answer);
      return undefined;
    };
    window.addEventListener('keydown', act, true);
    return () => window.removeEventListener('keydown', act, true);
  });
}
