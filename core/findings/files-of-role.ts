import type { Role, Stem } from '../song/song.js';

/** Files of these roles, in the order of the stems. */
export function filesOf(stems: readonly Stem[], ...roles: readonly Role[]): string[] {
  return stems.filter(({ role }) => roles.includes(role)).map(({ file }) => file);
}
