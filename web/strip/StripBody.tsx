import { useCallback, useEffect, useLayoutEffect, useMemo, useRef, useState, type KeyboardEvent } from 'react';
import type { SongStripProps } from './SongStrip.js';
import { StripCanvas } from './StripCanvas.js';
import { LoopMark } from './LoopMark.js';
import { placeAt } from './place-at.js';
import { PlayLine } from './PlayLine.js';
import { listenToGestures } from './strip-gestures.js';
import { stripAction } from './strip-keys.js';
import { movedBy, type StripStand } from './strip-stand.js';
import { readStrip, sayReading, type StripReading } from './strip-reading.js';
import { rowNamed, type StripLayout } from './strip-rows.js';
import { stripScene } from './strip-scene.js';
import { lengthOf, showing } from './strip-view.js';
import type { StripWindow } from './strip-window.js';

interface StripBodyProps extends Omit<SongStripProps, 'rows' | 'balloons'> {
  readonly layout: StripLayout;
  readonly window: StripWindow;
  readonly onRead: (reading: StripReading | null) => void;
}

const REACH_px = 10;

/** The rows themselves: canvas, hairline, loop and play line, pointer and keys. */
export function StripBody(props: StripBodyProps) {
  const { song, layout, window: stripWindow, onRead } = props;
  const body = useRef<HTMLDivElement>(null);
  const latest = useRef(props);
  latest.current = props;
  const [drawing, setDrawing] = useState<readonly [number, number] | null>(null);
  const [stand, setStand] = useState<StripStand>({ time_s: stripWindow.view.from_s, row: 'clearance' });
  const [pinned, setPinned] = useState<StripReading | null>(null);
  const [pointed, setPointed] = useState<StripReading | null>(null);
  const scene = useCallback(
    (width: number) => stripScene(song, layout, stripWindow.view, width),
    [song, layout, stripWindow],
  );
  const read = useCallback(
    (time_s: number): StripReading => {
      const width = Math.max(1, body.current?.clientWidth ?? 1);
      return readStrip(song, time_s, (REACH_px / width) * lengthOf(stripWindow.view));
    },
    [song, stripWindow],
  );
  const { pinned_s } = props;
  useEffect(() => {
    if (pinned_s !== undefined) setPinned(pinned_s === null ? null : readStrip(song, pinned_s, 0.001));
  }, [pinned_s, song]);
  const shown = pointed ?? pinned;
  useLayoutEffect(() => onRead(shown), [shown, onRead]);

  useEffect(() => {
    const { current: element } = body;
    if (element === null) return undefined;
    return listenToGestures(element, {
      window: stripWindow,
      duration_s: () => song.duration_s,
      onPoint: (time_s) => setPointed(time_s === null ? null : read(time_s)),
      onPick: (time_s) => {
        const picked = read(time_s);
        setPinned(picked);
        setStand((before) => ({ ...before, time_s: picked.time_s }));
        latest.current.onPin?.(picked.time_s);
        latest.current.onListenFrom?.(picked.time_s);
      },
      onDrawing: (from_s, to_s) => setDrawing([from_s, to_s]),
      onStretch: (from_s, to_s) => {
        setDrawing(null);
        latest.current.onLoop?.([from_s, to_s]);
      },
      loop: () => latest.current.loop ?? null,
    });
  }, [song, stripWindow, read]);

  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const action = stripAction(event.key, event.shiftKey);
    if (action === null) return;
    event.preventDefault();
    if (action.kind === 'pin') {
      const picked = readStrip(song, stand.time_s, 0.001);
      setPinned(picked);
      props.onPin?.(picked.time_s);
      props.onListenFrom?.(picked.time_s);
    } else if (action.kind === 'let-go') {
      setPinned(null);
      setPointed(null);
      props.onPin?.(null);
    } else {
      const next = movedBy(action, stand, song, stripWindow.view);
      setStand(next.stand);
      stripWindow.set(
        action.kind === 'zoom' || action.kind === 'whole-song'
          ? next.view
          : showing(next.view, next.stand.time_s, song.duration_s),
      );
      setPointed(readStrip(song, next.stand.time_s, 0.001));
    }
  };

  const row = rowNamed(layout, stand.row);
  const place = useMemo(() => (shown === null ? null : shown.time_s), [shown]);
  return (
    <div
      ref={body}
      className="strip-body"
      style={{ height: layout.height }}
      role="application"
      aria-roledescription="song strip"
      aria-label={`Song strip, row of the ${ROW_WORDS[stand.row]}. Arrows move by a beat or a row, brackets by a hit or note.`}
      tabIndex={0}
      onKeyDown={onKeyDown}
      onBlur={() => setPointed(null)}
    >
      <StripCanvas scene={scene} height={layout.height} moves={stripWindow} />
      <LoopMark loop={drawing ?? props.loop ?? null} window={stripWindow} song={song} />
      <Hairline time_s={place} window={stripWindow} />
      {row !== undefined && <span className="strip-row-mark" style={{ top: row.top, height: row.height }} />}
      {props.playingAt_s && <PlayLine at_s={props.playingAt_s} window={stripWindow} duration_s={song.duration_s} />}
      <span className="seen-by-ear" aria-live="polite">
        {shown === null ? '' : sayReading(shown)}
      </span>
    </div>
  );
}

const ROW_WORDS = { bars: 'bars', clearance: 'kick hits', notes: 'bass notes', lows: 'lows' } as const;

/** One hairline through all rows at the place that is read. */
function Hairline({ time_s, window: stripWindow }: { readonly time_s: number | null; readonly window: StripWindow }) {
  const line = useRef<HTMLSpanElement>(null);
  useLayoutEffect(() => {
    const put = (): void => placeAt(line.current, stripWindow.view, time_s);
    put();
    return stripWindow.subscribe(put);
  }, [time_s, stripWindow]);
  return <span ref={line} className="strip-hairline" />;
}
