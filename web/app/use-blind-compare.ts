import { useEffect, useRef, useState } from 'react';
import type { BlindCompareRecord } from '../../core/session/session-format.js';
import type { BlindTerms } from '../audio/blind-compare.js';
import type { BlindRun } from '../audio/blind-run.js';
import { useKeysRest } from '../keys/use-keys.js';
import { recordOf } from '../listen/kept-compare.js';
import type { LiveListening } from './use-live-sound.js';

export interface OpenBlindCompare {
  /** The compare under way or just ended; null while none is open. */
  readonly run: BlindRun | null;
  readonly underWay: boolean;
  begin(terms: BlindTerms): void;
  /** Every trial is answered, or it was abandoned: it is kept, and the page is free again. */
  end(): void;
  close(): void;
}

/** One blind compare at a time: fixes what is heard while it is under way, and keeps every one that was begun. */
export function useBlindCompare(live: LiveListening, keep: (record: BlindCompareRecord) => void): OpenBlindCompare {
  const [run, setRun] = useState<BlindRun | null>(null);
  const underWay = live.blind !== null;
  useKeysRest(underWay);
  const end = () => {
    const record = run?.record ?? null;
    if (record !== null) keep(recordOf(record, new Date()));
    live.endBlind();
  };
  const leave = () => {
    if (run === null || run.record !== null) return;
    run.abandon();
    end();
  };
  // the sound was closed under it: another song, or another rate
  const lost = run !== null && run.record === null && !underWay;
  useEffect(() => {
    if (lost) leave();
  });
  const latest = useRef(leave);
  useEffect(() => {
    latest.current = leave;
  });
  useEffect(() => () => latest.current(), []);
  return {
    run,
    underWay,
    begin: (terms) => setRun(live.beginBlind(terms)),
    end,
    close: () => {
      leave();
      setRun(null);
    },
  };
}
