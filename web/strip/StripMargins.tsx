import type { ReactNode } from 'react';
import { uprightBracket } from '../marks/bracket-mark.js';
import { NOTHING_DRAWN, type Drawing } from '../marks/drawing.js';
import { DrawingSvg } from '../marks/DrawingSvg.js';
import { CLEAR_dB } from '../marks/hit-mark.js';
import { NumberField } from '../fields/NumberField.js';
import { clearance_y } from './clearance-row.js';
import { lowsNames } from './lows-row.js';
import { pitch_y } from './notes-row.js';
import { sayLevel } from './say-level.js';
import type { StripFrame } from './strip-frame.js';
import type { StripReading } from './strip-reading.js';
import { rowNamed, type StripLayout, type StripRow, type StripRowId } from './strip-rows.js';
import type { StripSong } from './strip-song.js';

interface StripNamesProps {
  readonly song: StripSong;
  readonly layout: StripLayout;
  readonly reading: StripReading | null;
  readonly balloons: Partial<Record<StripRowId, ReactNode>>;
}

const NAMES: Record<StripRowId, string> = {
  bars: 'Bar',
  clearance: 'Kick clearance',
  notes: 'Bass notes',
  lows: 'What the lows do',
};

const SMALL_PRINT: Record<StripRowId, readonly string[]> = {
  bars: [],
  clearance: ['dB over the bass,', '0: equals'],
  notes: ['a stroke for each', 'dB over or under', 'the middle level'],
  lows: ['level: bass', 'upright: kick', 'crossed: contested'],
};

/** Names of the rows at the left; a reading takes the place of their small print. */
export function StripNames({ song, layout, reading, balloons }: StripNamesProps) {
  if (layout.gutter === 0) return <span />;
  return (
    <div className="strip-names">
      {layout.rows.map((row) => (
        <div key={row.id} className="strip-name" style={{ top: row.top }}>
          {row.id === 'bars' && reading !== null ? (
            <b>{reading.place.join('  ')}</b>
          ) : (
            <span className={row.id === 'bars' ? '' : 'strip-name-word'}>
              {row.id === 'bars' && song.grid === null ? 'Time' : NAMES[row.id]}
              {balloons[row.id]}
            </span>
          )}
          {linesOf(row, reading, layout).map((line) => (
            <small key={line} data-reads={reading !== null && row.id !== 'bars'}>
              {line}
            </small>
          ))}
        </div>
      ))}
      <svg className="strip-scale" width={layout.gutter} height={layout.height} aria-hidden="true">
        {scaleLabels(song, layout).map(({ y, text, strong }) => (
          <text
            key={text + y}
            x={layout.gutter - 8}
            y={y + 4}
            className={strong ? 'label label-strong' : 'label'}
            textAnchor="end"
          >
            {text}
          </text>
        ))}
      </svg>
    </div>
  );
}

function linesOf({ id, height }: StripRow, reading: StripReading | null, layout: StripLayout): readonly string[] {
  const room = Math.max(1, Math.floor((height - 14) / 13));
  const lines = reading === null || id === 'bars' ? SMALL_PRINT[id] : reading[id];
  return lines.slice(0, id === 'lows' ? Math.min(room, layout.bandsShown === 5 ? 3 : 1) : room);
}

function scaleLabels(song: StripSong, layout: StripLayout): { y: number; text: string; strong?: boolean }[] {
  return layout.rows.flatMap((row) => {
    const frame = frameOf(song, row);
    if (row.id === 'clearance' && song.noClearance === null) {
      const { most_dB, least_dB } = song.scale;
      return [most_dB > 12 ? 10 : 5, 0, least_dB].map((level) => ({
        y: clearance_y(frame, song.scale, level),
        text: sayLevel(level, 0),
        strong: level === 0,
      }));
    }
    if (row.id !== 'notes' || song.noNotes !== null) return [];
    return song.staff.lines.map(({ name, frequency_Hz }) => ({
      y: pitch_y(frame, song.staff, frequency_Hz),
      text: name,
    }));
  });
}

/** How many hits are wanted clear, 0..1, and what changes it. */
export interface WantedClear {
  readonly share: number;
  onShare(share: number): void;
}

interface StripUnitsProps extends Pick<StripNamesProps, 'song' | 'layout'> {
  readonly wantedClear: WantedClear | null;
}

/** Units at the right: what is wanted of clearance, the strings in Hz, the third octaves. */
export function StripUnits({ song, layout, wantedClear }: StripUnitsProps) {
  if (layout.margin === 0) return <span />;
  const units = layout.rows.flatMap((row): { y: number; text: string }[] => {
    const frame = frameOf(song, row);
    if (row.id === 'notes' && song.noNotes === null) {
      return song.staff.lines.map(({ frequency_Hz }) => ({
        y: pitch_y(frame, song.staff, frequency_Hz) + 4,
        text: `${Math.round(frequency_Hz)}\u00a0Hz`,
      }));
    }
    return row.id === 'lows' && song.lows !== null ? lowsNames(song.lows, row, layout.bandsShown) : [];
  });
  const clearance = rowNamed(layout, 'clearance');
  const wanted = song.noClearance === null && clearance !== undefined ? wantedClear : null;
  return (
    <div className="strip-units">
      {wanted !== null && clearance !== undefined && (
        <span className="strip-wanted" style={{ top: clearance.top }}>
          <NumberField
            name="Wanted: hits at least 2 dB clear"
            value={Math.round(1000 * wanted.share) / 10}
            unit="%"
            range={PER_CENT}
            solved={null}
            rest={90}
            tempo_bpm={null}
            wanted
            onChange={(share) => wanted.onShare(share / 100)}
          />
        </span>
      )}
      <svg className="strip-scale" width={layout.margin} height={layout.height} aria-hidden="true">
        <DrawingSvg drawing={wanted === null ? NOTHING_DRAWN : wantedBracket(song, clearance!)} />
        {units.map(({ y, text }) => (
          <text key={text + y} x={8} y={y} className="label">
            {text}
          </text>
        ))}
      </svg>
    </div>
  );
}

const PER_CENT = { min: 0, max: 100, scale: 'linear' as const };

function frameOf(song: StripSong, row: StripRow): StripFrame {
  return { view: { from_s: 0, to_s: song.duration_s }, width: 1, beat_s: song.beat_s, ...row };
}

/** From 2 dB up: what counts as clear. */
function wantedBracket(song: StripSong, row: StripRow): Drawing {
  const y = clearance_y(frameOf(song, row), song.scale, CLEAR_dB);
  return {
    strokes: [uprightBracket(8, row.top + 4, y)],
    labels: [{ x: 13, y: y + 2, text: sayLevel(CLEAR_dB, 0), ink: 'wanted', strong: true }],
  };
}
