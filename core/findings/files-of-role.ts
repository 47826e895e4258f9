import type { Measurements } from '../measure/measurements.js';

/** Files of the bass, as far as the measurements know them. */
export function bassFiles(measured: Measurements): string[] {
  return measured.stemLows.filter((stem) => stem.role === 'bass').map((stem) => stem.file);
}
