import { power_to_dB } from '../units/decibels.js';
import { clamp } from '../units/units.js';
import { TWELFTHS_Hz } from './third-octaves.js';

/** Margins are cut here, so that one empty band does not hide a covered one. */
export const MARGIN_LIMIT_dB = 24;
/** From here on a hit counts as unopposed: clear in the share, out of median and P10. */
export const UNOPPOSED_dB = 23.5;
/** The kick's bands: those within this of its own peak band (12 dB as a power ratio). */
const KICK_BAND_SHARE = 0.063095734448019325;

/**
 * How far a hit stands over what masks it, in the bands that make this kick (measured for this project, docs/decisions.md):
 *
 *   margin_b  = clip(10 lg(P_kick(b) / P_masker(b)), -24, +24) dB
 *   clearance = sum_b P_kick(b) margin_b / sum_b P_kick(b)     over the bands within 12 dB of the kick's peak band
 *
 * @param kick,masker band powers over `TWELFTHS_Hz` (`HitSpectra.bandPowers`).
 * @returns dB, 0 where kick and masker are equals; null where the kick is silent.
 */
export function clearanceOfHit(kick: Float64Array, masker: Float64Array): number | null {
  const least = leastKickBand(kick);
  let weighted = 0;
  let weight = 0;
  for (let b = 0; b < kick.length; b++) {
    const power = kick[b]!;
    if (power < least || power === 0) continue;
    weighted += power * bandMargin_dB(power, masker[b]!);
    weight += power;
  }
  return weight > 0 ? weighted / weight : null;
}

/** Kick over masker in one band, clipped; +24 where the masker is silent. */
export function bandMargin_dB(kickPower: number, maskerPower: number): number {
  if (maskerPower === 0) return MARGIN_LIMIT_dB;
  if (kickPower === 0) return -MARGIN_LIMIT_dB;
  return clamp(power_to_dB(kickPower / maskerPower), -MARGIN_LIMIT_dB, MARGIN_LIMIT_dB);
}

/** Adds each band's overlap P_k P_m / (P_k + P_m), in the kick's bands, to `sum`. */
export function addOverlap(sum: Float64Array, kick: Float64Array, masker: Float64Array): void {
  const least = leastKickBand(kick);
  for (let b = 0; b < kick.length; b++) {
    const power = kick[b]!;
    if (power < least || power === 0) continue;
    sum[b]! += (power * masker[b]!) / (power + masker[b]!);
  }
}

/** The band of the largest overlap in Hz, or null where nothing overlaps. */
export function contestedBand_Hz(overlap: Float64Array): number | null {
  let best = 0;
  for (let b = 1; b < overlap.length; b++) if (overlap[b]! > overlap[best]!) best = b;
  return overlap[best]! > 0 ? TWELFTHS_Hz[best]! : null;
}

/** Power under which a band is not one of the kick's. */
export function leastKickBand(kick: Float64Array): number {
  let peak = 0;
  for (let b = 0; b < kick.length; b++) if (kick[b]! > peak) peak = kick[b]!;
  return peak * KICK_BAND_SHARE;
}
