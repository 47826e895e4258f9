import {
  useCallback,
  useContext,
  useEffect,
  useMemo,
  useRef,
  useState,
  type KeyboardEvent,
  type RefObject,
} from 'react';
import { useKey } from '../keys/use-keys.js';
import type { SongStripProps } from './SongStrip.js';
import { listenToGestures } from './strip-gestures.js';
import { stripAction, type StripAction } from './strip-keys.js';
import { readStrip, type StripReading } from './strip-reading.js';
import { movedBy, type StripStand } from './strip-stand.js';
import { SharedReadingContext, useReadTime } from './shared-reading.js';
import { lengthOf, showing } from './strip-view.js';
import type { StripWindow } from './strip-window.js';

/** What pointer and keyboard have done to the strip. */
export interface StripHand {
  readonly body: RefObject<HTMLDivElement | null>;
  /** What is read: under the pointer or the keyboard, else what is pinned. */
  readonly reading: StripReading | null;
  readonly stand: StripStand;
  /** A stretch while it is being drawn. */
  readonly drawing: readonly [number, number] | null;
  readonly onKeyDown: (event: KeyboardEvent) => void;
  readonly onBlur: () => void;
}

const REACH_px = 10;
/** The keyboard stands on a hit exactly, or on none. */
const EXACT_s = 0.001;

/** Pointer and keys on the strip: reading, pinning, stepping, drawing a loop. */
export function useStripHand(props: SongStripProps, stripWindow: StripWindow): StripHand {
  const { song } = props;
  const shared = useContext(SharedReadingContext);
  const read_s = useReadTime();
  const [stand, setStand] = useState<StripStand>({ time_s: stripWindow.view.from_s, row: 'clearance' });
  const [pointed, setOwn] = useState<StripReading | null>(null);
  const setPointed = useCallback(
    (reading: StripReading | null): void => {
      setOwn(reading);
      shared.point(reading?.time_s ?? null);
    },
    [shared],
  );
  useEffect(
    () => () => {
      shared.point(null);
      shared.pin(null);
    },
    [shared, song.duration_s],
  );
  // what is read elsewhere, or pinned
  const outside = useMemo(() => (read_s === null ? null : readStrip(song, read_s, EXACT_s)), [read_s, song]);
  const latest = useRef(props);
  useEffect(() => {
    latest.current = props;
  });
  const pick = useCallback(
    (picked: StripReading): void => {
      shared.pin(picked.time_s);
      setStand((before) => ({ ...before, time_s: picked.time_s }));
      latest.current.onListenFrom?.(picked.time_s);
    },
    [shared],
  );
  const { body, drawing } = useGestures(latest, song, stripWindow, setPointed, pick);
  const letGo = (): void => {
    setPointed(null);
    shared.pin(null);
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const action = stripAction(event.key, event.shiftKey);
    if (action === null) return;
    event.preventDefault();
    if (action.kind === 'pin') return pick(readStrip(song, stand.time_s, EXACT_s));
    if (action.kind === 'let-go') return letGo();
    act(action);
  };
  const act = (action: StripAction): void => {
    const next = movedBy(action, stand, song, stripWindow.view);
    const still = action.kind === 'zoom' || action.kind === 'whole-song';
    stripWindow.set(still ? next.view : showing(next.view, next.stand.time_s, song.duration_s));
    setStand(next.stand);
    if (!still) setPointed(readStrip(song, next.stand.time_s, EXACT_s));
  };
  const step = (direction: 1 | -1) => () => act({ kind: 'step', direction });
  useKey('place-before', step(-1));
  useKey('place-after', step(1));
  useKey('closer', () => act({ kind: 'zoom', factor: 0.5 }));
  useKey('farther', () => act({ kind: 'zoom', factor: 2 }));
  useKey('whole-song', () => act({ kind: 'whole-song' }));
  return { body, reading: pointed ?? outside, stand, drawing, onKeyDown, onBlur: () => setPointed(null) };
}

function useGestures(
  latest: RefObject<SongStripProps>,
  song: SongStripProps['song'],
  stripWindow: StripWindow,
  setPointed: (reading: StripReading | null) => void,
  pick: (reading: StripReading) => void,
): Pick<StripHand, 'body' | 'drawing'> {
  const body = useRef<HTMLDivElement>(null);
  const [drawing, setDrawing] = useState<readonly [number, number] | null>(null);
  useEffect(() => {
    const { current: element } = body;
    if (element === null) return undefined;
    const read = (time_s: number): StripReading =>
      readStrip(song, time_s, (REACH_px / Math.max(1, element.clientWidth)) * lengthOf(stripWindow.view));
    return listenToGestures(element, {
      window: stripWindow,
      duration_s: () => song.duration_s,
      onPoint: (time_s) => setPointed(time_s === null ? null : read(time_s)),
      onPick: (time_s) => pick(read(time_s)),
      onDrawing: (from_s, to_s) => setDrawing([from_s, to_s]),
      onTakenBack: () => setDrawing(null),
      onStretch: (from_s, to_s) => {
        setDrawing(null);
        latest.current.onLoop?.([from_s, to_s]);
      },
      loop: () => latest.current.loop ?? null,
    });
  }, [latest, song, stripWindow, setPointed, pick]);
  return { body, drawing };
}
