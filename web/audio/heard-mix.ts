import type { HeardPart } from '../../protocol/heard-part.js';
import { gainOf } from './monitor-level.js';

export type Side = 'source' | 'treated';

export interface Hearing {
  readonly side: Side;
  readonly solo: HeardPart;
  /** Only what was taken or added: treated less source, not matched. */
  readonly difference: boolean;
  /** Gain on the treated side that makes both equally loud. */
  readonly match_dB: number;
}

/** Gain of each of the engine's outputs, in the order of ENGINE_OUTPUTS. */
export function outputGains({ side, solo, difference, match_dB }: Hearing): number[] {
  const lane = solo === 'low lane' || solo === 'high lane';
  const heard = [
    solo === 'all' || solo === 'low end' || solo === 'kick',
    solo === 'all' || solo === 'low end' || solo === 'bass',
    solo === 'all' || solo === 'rest',
  ];
  const treated = difference ? 1 : side === 'treated' ? gainOf(match_dB) : 0;
  const source = difference ? -1 : side === 'source' ? 1 : 0;
  const of = (gain: number, on: boolean) => (on && gain !== 0 ? gain : 0);
  return [
    ...heard.map((on) => of(treated, on)),
    ...heard.map((on) => of(source, on)),
    of(treated, lane),
    of(source, lane),
  ];
}
