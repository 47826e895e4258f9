import { useMemo, useRef, useState, type ReactNode } from 'react';
import { sayReading, type StripReading } from './strip-reading.js';
import { StripBody } from './StripBody.js';
import { stripLayout, STRIP_ROWS, type StripRowId } from './strip-rows.js';
import { StripNames, StripUnits, type WantedClear } from './StripMargins.js';
import type { StripSong } from './strip-song.js';
import { StripWindow } from './strip-window.js';
import { openingView } from './opening-view.js';
import { useWindowSize } from './use-window-size.js';
import { WholeSong } from './WholeSong.js';
import './strip.css';

export type StripLoop = readonly [from_s: number, to_s: number];

export interface SongStripProps {
  readonly song: StripSong;
  /** Kept by whoever wants to move the strip to a finding, hit or note (`showing`, `viewOfStretch`); own where none is given. */
  readonly window?: StripWindow;
  readonly rows?: readonly StripRowId[];
  readonly loop?: StripLoop | null;
  readonly onLoop?: (loop: StripLoop | null) => void;
  /** A click or Enter at a time: listen from here. */
  readonly onListenFrom?: (time_s: number) => void;
  /** Where the song is being played; asked once a frame while the strip stands. Null: nowhere. */
  readonly playingAt_s?: () => number | null;
  /** The share of hits that are wanted clear, drawn as a bracket on their row and changed there; null for none. */
  readonly wantedClear?: WantedClear | null;
  /** What stands behind a row's name: the balloons of findings. */
  readonly balloons?: Partial<Record<StripRowId, ReactNode>>;
}

/** The song strip: what the song is, in rows under one line of the whole song. */
export function SongStrip({ rows = STRIP_ROWS, ...props }: SongStripProps) {
  const { song } = props;
  const size = useWindowSize();
  const layout = useMemo(() => stripLayout(rows, size.width, size.height), [rows, size.width, size.height]);
  const own = useRef<StripWindow>(null);
  own.current ??= new StripWindow(openingView(song, size.width));
  const window = props.window ?? own.current;
  const [reading, setReading] = useState<StripReading | null>(null);
  return (
    <section className="strip" aria-label="Song strip">
      <WholeSong song={song} window={window} layout={layout} />
      <div
        className="strip-frame"
        style={{ gridTemplateColumns: `${layout.gutter}px minmax(0, 1fr) ${layout.margin}px` }}
      >
        <StripNames song={song} layout={layout} reading={reading} balloons={props.balloons ?? {}} />
        <StripBody {...props} layout={layout} window={window} onRead={setReading} />
        <StripUnits song={song} layout={layout} wantedClear={props.wantedClear ?? null} />
      </div>
      {layout.gutter === 0 && <p className="strip-caption">{reading === null ? CAPTION : sayReading(reading)}</p>}
    </section>
  );
}

const CAPTION =
  'Top: kick clearance, hollow is covered. Middle: bass notes on the open strings, a stroke for each dB off the middle level. ' +
  'Bottom: the lows; crossed is contested.';
