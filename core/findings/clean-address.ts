import type { StemLows } from '../measure/stem-lows.js';

/** Kick and bass are cleaned as roles, linked, so that they keep their agreement; the rest file by file. */
export function cleanAddress({ role, file }: Pick<StemLows, 'role' | 'file'>): string {
  return role === 'rest' ? `rest[${JSON.stringify(file)}].clean` : `${role}.clean`;
}
