import type { Hit, Note } from '../song/song.js';

/** Whether two note lists say the same; compared by value, since lists are copied between threads. Allocates nothing. */
export function sameNotes(a: readonly Note[], b: readonly Note[]): boolean {
  if (a === b) return true;
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) {
    const p = a[i]!;
    const q = b[i]!;
    if (p.start_s !== q.start_s || p.end_s !== q.end_s || p.frequency_Hz !== q.frequency_Hz) return false;
    if (p.level_dBFS !== q.level_dBFS || p.fundamentalMissing !== q.fundamentalMissing) return false;
    if (!sameNumbers(p.harmonics_dB, q.harmonics_dB) || !sameNumbers(p.curve_Hz, q.curve_Hz)) return false;
    if (p.curveStep_s !== q.curveStep_s) return false;
  }
  return true;
}

/** Whether two hit lists say the same. */
export function sameHits(a: readonly Hit[], b: readonly Hit[]): boolean {
  if (a === b) return true;
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) {
    if (a[i]!.time_s !== b[i]!.time_s || a[i]!.level_dBFS !== b[i]!.level_dBFS) return false;
  }
  return true;
}

function sameNumbers(a: readonly number[] | null, b: readonly number[] | null): boolean {
  if (a === b) return true;
  if (a === null || b === null || a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}
