import type { Stem } from '../../../core/song/song.js';
import { sayLevel } from '../../strip/say-level.js';

interface MonoStemsProps {
  readonly stems: readonly Stem[];
  readonly level_dB: number;
  onLevel(level_dB: number): void;
}

/** The pan laws in use: a mono stem in the middle stands in both channels at this gain. */
const LEVELS_dB = [0, -3, -4.5, -6];

/** How loud mono stems stand beside stereo ones; asked only where the song has both. */
export function MonoStems({ stems, level_dB, onLevel }: MonoStemsProps) {
  const summed = stems.filter(({ role }) => role === 'kick' || role === 'bass' || role === 'rest');
  const mono = summed.filter(({ channels }) => channels === 1).length;
  if (mono === 0 || mono === summed.length) return null;
  const levels = LEVELS_dB.includes(level_dB) ? LEVELS_dB : [...LEVELS_dB, level_dB];
  return (
    <p className="mono-stems">
      <label>
        Mono stems stand in both channels at{' '}
        <select value={level_dB} onChange={({ target }) => onLevel(Number(target.value))}>
          {levels.map((level) => (
            <option key={level} value={level}>
              {sayLevel(level, Number.isInteger(level) ? 0 : 1)}
              {'\u00a0'}dB
            </option>
          ))}
        </select>
      </label>{' '}
      <span className="note">as your mixer does it; it moves clearance, so the song is measured again</span>
    </p>
  );
}
