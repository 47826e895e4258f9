/** Where monitoring starts every time the sound is opened. */
export const SAFE_START_dB = -20;
export const LOWEST_dB = -60;
/** Above this only when unlocked. */
export const LOCK_dB = -12;
export const HIGHEST_dB = 0;
/** Seconds in which the monitor rises to its level. */
export const RISE_S = 2;

/** The gain that may be set: within the range, and not above the lock while it is locked. */
export function allowedGain_dB(wanted_dB: number, unlocked: boolean): number {
  if (Number.isNaN(wanted_dB)) return SAFE_START_dB;
  return Math.max(LOWEST_dB, Math.min(unlocked ? HIGHEST_dB : LOCK_dB, wanted_dB));
}

/** Seconds for a move of the monitor gain: up slowly, 20 dB in 2 s and never quicker than 0.1 s; down at once, in 30 ms. */
export function riseTime_s(from_dB: number, to_dB: number): number {
  return to_dB <= from_dB ? 0.03 : Math.max(0.1, Math.min(RISE_S, ((to_dB - from_dB) / 20) * RISE_S));
}

/** Where the monitor stands after a safe start: never above it, and no louder than it was. */
export function afterSafeStart_dB(level_dB: number): number {
  return Math.min(SAFE_START_dB, level_dB);
}

export function gainOf(level_dB: number): number {
  return 10 ** (level_dB / 20);
}

export function levelOf_dB(gain: number): number {
  return 20 * Math.log10(gain);
}
