import type { SpeakerId } from '../../core/measure/small-speakers.js';
import type { HeardPart } from '../../protocol/heard-part.js';
import type { Side } from '../audio/heard-mix.js';

/** How the song is listened to: plain data, changed by the bar, the sheet and the keys alike. */
export interface Listening {
  readonly side: Side;
  readonly solo: HeardPart;
  /** Only what was taken or added. */
  readonly difference: boolean;
  /** The stage that is left out of what is heard, by its address; null for none. */
  readonly without: string | null;
  /** The reference that is heard instead of the song, by its file; null for the song. */
  readonly reference: string | null;
  readonly speaker: SpeakerId | 'full range';
  readonly mono: boolean;
  readonly monitor_dB: number;
  /** Whether the monitor may pass its lock at -12 dB. */
  readonly unlocked: boolean;
}

export const LISTENING_AT_FIRST: Listening = {
  side: 'treated',
  solo: 'all',
  difference: false,
  without: null,
  reference: null,
  speaker: 'full range',
  mono: false,
  monitor_dB: -20,
  unlocked: false,
};

export function otherSide({ side }: Listening): Listening['side'] {
  return side === 'source' ? 'treated' : 'source';
}

/** What S does: the other side of the song; from a reference back to the side that was heard. */
export function swapped(listening: Listening): Partial<Listening> {
  const side = listening.reference === null ? otherSide(listening) : listening.side;
  return { side, difference: false, reference: null };
}

/** The next of the references, then the song again. */
export function nextReference({ reference }: Listening, files: readonly string[]): string | null {
  return files[reference === null ? 0 : files.indexOf(reference) + 1] ?? null;
}

/** `1:27.1`. */
export function sayTime(position_s: number): string {
  const tenths = Math.floor(position_s * 10 + 1e-6);
  const minutes = Math.floor(tenths / 600);
  const rest = tenths - 600 * minutes;
  return `${minutes}:${String(Math.floor(rest / 10)).padStart(2, '0')}.${rest % 10}`;
}

/** `−20 dB`. */
export function sayMonitor(level_dB: number): string {
  const rounded = Math.round(level_dB);
  return `${rounded < 0 ? '−' : ''}${Math.abs(rounded)}\u00a0dB`;
}
