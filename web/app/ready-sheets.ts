import type { Sheet, WorkbenchState } from '../state/workbench-state.js';

/** The sheets that can be looked at: findings as soon as there are any, the others once all is measured. */
export function readySheets({ song }: WorkbenchState): ReadonlySet<Sheet> {
  if (song === null) return new Set(['stems']);
  return new Set(song.measuring.length > 0 ? ['stems', 'findings'] : ['stems', 'findings', 'path', 'proof']);
}
