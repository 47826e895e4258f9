/**
 * The gain that lifts onsets by a wished amount. Onset over sustain = level(-3..20 ms) - level(60..160 ms), median over notes;
 * the gain stands on the first window and is gone in the second, so it rises by the gain itself: no search.
 * @returns gain_dB, held within -12..12; 0 where the wish is already met.
 */
export function onsetGain_dB(now_dB: number, wished_dB: number): number {
  const gain_dB = wished_dB - now_dB;
  if (!(gain_dB > 0)) return 0;
  return gain_dB > 12 ? 12 : gain_dB;
}
