import { useLayoutEffect, useRef } from 'react';
import { clearance_y } from './clearance-row.js';
import { placeAt } from './place-at.js';
import { nearestHit } from './strip-reading.js';
import { rowNamed, type StripLayout } from './strip-rows.js';
import type { StripSong } from './strip-song.js';
import type { StripWindow } from './strip-window.js';

interface HairlineProps {
  readonly time_s: number | null;
  readonly window: StripWindow;
  readonly song: StripSong;
  readonly layout: StripLayout;
}

/** One hairline through all rows at the place that is read, with a heavy ring round the hit it stands on. */
export function Hairline({ time_s, window: stripWindow, song, layout }: HairlineProps) {
  const line = useRef<HTMLSpanElement>(null);
  useLayoutEffect(() => {
    const put = (): void => placeAt(line.current, stripWindow.view, time_s);
    put();
    return stripWindow.subscribe(put);
  }, [time_s, stripWindow]);
  const ring_y = time_s === null ? null : hitHead_y(song, layout, time_s);
  return (
    <span ref={line} className="strip-hairline">
      {ring_y !== null && <span className="strip-hit-ring" style={{ top: ring_y }} />}
    </span>
  );
}

/** Where the head of the hit at just this time stands in its row; null where there is none. */
function hitHead_y(song: StripSong, layout: StripLayout, time_s: number): number | null {
  const row = rowNamed(layout, 'clearance');
  const hit = nearestHit(song, time_s, 1e-6);
  const level = hit === null ? null : (song.treated ?? song.hits)[hit]?.clearance_dB;
  if (row === undefined || level === null || level === undefined) return null;
  const { least_dB, most_dB } = song.scale;
  const frame = { view: { from_s: 0, to_s: song.duration_s }, width: 1, beat_s: song.beat_s, ...row };
  return clearance_y(frame, song.scale, Math.max(least_dB, Math.min(most_dB, level)));
}
