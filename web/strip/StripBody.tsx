import { useCallback, useLayoutEffect } from 'react';
import { Hairline } from './Hairline.js';
import { LoopMark } from './LoopMark.js';
import { PlayLine } from './PlayLine.js';
import type { SongStripProps } from './SongStrip.js';
import { StripCanvas } from './StripCanvas.js';
import { sayReading, type StripReading } from './strip-reading.js';
import { rowNamed, type StripLayout } from './strip-rows.js';
import { stripScene } from './strip-scene.js';
import type { StripWindow } from './strip-window.js';
import { useStripHand } from './use-strip-hand.js';

interface StripBodyProps extends Omit<SongStripProps, 'rows' | 'balloons'> {
  readonly layout: StripLayout;
  readonly window: StripWindow;
  readonly onRead: (reading: StripReading | null) => void;
}

/** The rows themselves: canvas, hairline, loop and play line, pointer and keys. */
export function StripBody(props: StripBodyProps) {
  const { song, layout, window: stripWindow, onRead } = props;
  const { body, reading, stand, drawing, onKeyDown, onBlur } = useStripHand(props, stripWindow);
  useLayoutEffect(() => onRead(reading), [reading, onRead]);
  const scene = useCallback(
    (width: number) => stripScene(song, layout, stripWindow.view, width),
    [song, layout, stripWindow],
  );
  const row = rowNamed(layout, stand.row);
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
      onBlur={onBlur}
    >
      <StripCanvas scene={scene} height={layout.height} moves={stripWindow} />
      <LoopMark loop={drawing ?? props.loop ?? null} window={stripWindow} song={song} />
      <Hairline time_s={reading?.time_s ?? null} window={stripWindow} song={song} layout={layout} />
      {row !== undefined && <span className="strip-row-mark" style={{ top: row.top, height: row.height }} />}
      {props.playingAt_s && <PlayLine at_s={props.playingAt_s} window={stripWindow} duration_s={song.duration_s} />}
      <span className="seen-by-ear" aria-live="polite">
        {reading === null ? '' : sayReading(reading)}
      </span>
    </div>
  );
}

const ROW_WORDS = { bars: 'bars', clearance: 'kick hits', notes: 'bass notes', lows: 'lows' } as const;
