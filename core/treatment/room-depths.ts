import { dB_to_amplitude, power_to_dB } from '../units/decibels.js';
import { clamp } from '../units/units.js';

/** Band powers of one hit, over the bands that make the kick and the same window as the clearance measure. */
export interface RoomHit {
  readonly kickPower: ArrayLike<number>;
  /** Power of the bass X. */
  readonly bassPower: ArrayLike<number>;
  /** Power of the bass through the band filter, B(X). */
  readonly bandPower: ArrayLike<number>;
  /** Real part of X times the conjugate of B(X), summed over the band. */
  readonly crossPower: ArrayLike<number>;
}

const MARGIN_LIMIT_dB = 24;
/** Bands within 12 dB of the kick's own peak band count. */
const KICK_BAND_SHARE = 0.063095734448019325;

/**
 * Clearance of a hit with the band lowered by `cut_dB`, without rendering: the bass X + (g - 1) B(X), g = 10^(-cut/20), has
 * |X|^2 + 2 (g - 1) Re(X B*) + (g - 1)^2 |B|^2 in each band. Margins are cut at +-24 dB and weighted by the kick's power.
 */
export function clearanceAtCut_dB(hit: RoomHit, cut_dB: number): number {
  const change = dB_to_amplitude(-cut_dB) - 1;
  let peak = 0;
  for (let b = 0; b < hit.kickPower.length; b++) peak = Math.max(peak, hit.kickPower[b]!);
  let weighted = 0;
  let weight = 0;
  for (let b = 0; b < hit.kickPower.length; b++) {
    const kick = hit.kickPower[b]!;
    if (kick < peak * KICK_BAND_SHARE || kick === 0) continue;
    const bass = hit.bassPower[b]! + 2 * change * hit.crossPower[b]! + change * change * hit.bandPower[b]!;
    const margin_dB = bass > 0 ? clamp(power_to_dB(kick / bass), -MARGIN_LIMIT_dB, MARGIN_LIMIT_dB) : MARGIN_LIMIT_dB;
    weighted += kick * margin_dB;
    weight += kick;
  }
  return weight > 0 ? weighted / weight : MARGIN_LIMIT_dB;
}

export interface RoomDepths {
  /** One cut per hit; 0 where the hit is clear as it is. */
  readonly cutPerHit_dB: readonly number[];
  /** Predicted clearance of each hit after its cut. */
  readonly clearance_dB: readonly number[];
  /**
   * Where the cap stops so many hits that the wished share stays out of reach: by how much the bass is too loud here, that is,
   * the level it would have to lose beside the cuts; null where the wish is met.
   */
  readonly tooLoud_dB: number | null;
}

/**
 * The least cut per hit that lifts it to the wish and a little more, by bisection on the hit's band powers (within 0.01 dB).
 * A hit that stands at the wish already is left alone.
 *
 * @param wish_dB what a hit counts as clear at, 2 dB in the clearance measure.
 * @param share wished share of clear hits, 0..1.
 * @param cap_dB the most any hit may take.
 * @param spare_dB how far over the wish a hit is lifted, 0.5 dB as a rule.
 */
export function roomDepths(
  hits: readonly RoomHit[],
  wish_dB: number,
  share: number,
  cap_dB: number,
  spare_dB = 0.5,
): RoomDepths {
  const cutPerHit_dB = hits.map((hit) => leastCut_dB(hit, wish_dB, wish_dB + spare_dB, cap_dB));
  const clearance_dB = hits.map((hit, i) => clearanceAtCut_dB(hit, cutPerHit_dB[i]!));
  const missing_dB = clearance_dB.map((got) => Math.max(0, wish_dB - got)).sort((a, b) => a - b);
  const last = Math.ceil(share * hits.length) - 1;
  const short_dB = last >= 0 ? missing_dB[last]! : 0;
  return { cutPerHit_dB, clearance_dB, tooLoud_dB: short_dB > 0 ? short_dB : null };
}

function leastCut_dB(hit: RoomHit, clear_dB: number, wished_dB: number, cap_dB: number): number {
  if (clearanceAtCut_dB(hit, 0) >= clear_dB) return 0;
  if (clearanceAtCut_dB(hit, cap_dB) < wished_dB) return cap_dB;
  let low = 0;
  let high = cap_dB;
  while (high - low > 0.01) {
    const middle = 0.5 * (low + high);
    if (clearanceAtCut_dB(hit, middle) < wished_dB) low = middle;
    else high = middle;
  }
  return high;
}
