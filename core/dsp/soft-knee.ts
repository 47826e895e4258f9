/**
 * Static curve of a compressor with a soft knee, as the reduction it asks for (dB, >= 0):
 *
 *   over = level - threshold
 *   0                                                      2 over < -knee
 *   (1 - 1/ratio) (over + knee/2)^2 / (2 knee)             2 |over| <= knee
 *   (1 - 1/ratio) over                                     2 over > knee
 *
 * D. Giannoulis, M. Massberg and J. D. Reiss, "Digital Dynamic Range Compressor Design: A Tutorial and Analysis", JAES 60(6),
 * 2012, equation 4, as input minus output. `ratio` >= 1 (Infinity limits), `knee_dB` >= 0.
 */
export function softKneeReduction_dB(level_dB: number, threshold_dB: number, ratio: number, knee_dB: number): number {
  const over_dB = level_dB - threshold_dB;
  const slope = 1 - 1 / ratio;
  if (2 * over_dB > knee_dB) return slope * over_dB;
  if (2 * over_dB <= -knee_dB || !(over_dB + 0.5 * knee_dB > 0)) return 0;
  const into_dB = over_dB + 0.5 * knee_dB;
  return (slope * into_dB * into_dB) / (2 * knee_dB);
}
