import { formatBest } from '../../core/solve/solve-watch.js';
import { parseAddress } from '../../core/treatment/paths.js';
import type { Work } from '../state/worker-client.js';

/** What is being done and how far it is: `Solving harmonics: 23 of about 60 renders, 9 s left.` */
export function progressSentence({ what, done, total, solving, left_s }: Work): string {
  const stage = solving?.stage ?? null;
  const doing = stage === null ? what.trim() : `solving ${stageName(stage)}`;
  const sentence = doing.charAt(0).toUpperCase() + doing.slice(1);
  const left = left_s === null || done === total ? '' : `, ${sayLeft(left_s)} left`;
  if (solving !== null) return `${sentence}: ${done} of about ${total} renders${left}.`;
  return total > 1 ? `${sentence}: ${done} of ${total}${left}.` : `${sentence}.`;
}

/** `bass.low.harmonics` is harmonics, `bass["Amp.wav"].clean` is clean. */
function stageName(address: string): string {
  return parseAddress(address).address.stage.replaceAll('-', ' ');
}

/** The best that solving has found: `So far −12.9 LU, carry on a laptop`; null where there is none. */
export function soFarSentence({ solving }: Work): string | null {
  return solving === null || solving.best === null ? null : `So far ${formatBest(solving.best)}`;
}

function sayLeft(left_s: number): string {
  const whole = Math.ceil(left_s);
  return whole < 90 ? `${whole}\u00a0s` : `${Math.ceil(whole / 60)}\u00a0min`;
}
