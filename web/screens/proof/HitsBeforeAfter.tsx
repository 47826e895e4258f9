import type { Measurements } from '../../../core/measure/measurements.js';
import { isMeasured } from '../../../core/units/reading.js';
import { DrawingSvg } from '../../marks/DrawingSvg.js';
import { coveredHits, hitsLine } from './hits-line.js';

export interface HitsBeforeAfterProps {
  readonly before: Measurements;
  readonly after: Measurements;
  readonly names: readonly [string, string];
  readonly width: number;
}

const HEIGHT = 56;
const NAMES = 76;

/** All hits of the song, before and after, one line under the other. */
export function HitsBeforeAfter({ before, after, names, width }: HitsBeforeAfterProps) {
  const lines = [before, after].map(({ clearance }) => (isMeasured(clearance) ? clearance.hits : null));
  const last = Math.max(
    1,
    ...before.known.hits.map(({ time_s }) => time_s),
    ...before.known.notes.map(({ end_s }) => end_s),
  );
  if (!lines[0] || !lines[1]) {
    const reason = isMeasured(before.clearance)
      ? isMeasured(after.clearance)
        ? ''
        : after.clearance.reason
      : before.clearance.reason;
    return <p className="not-drawn">Not measured: {reason}</p>;
  }
  return (
    <svg
      className="hits-lines"
      width={width}
      height={2 * HEIGHT + 12}
      role="img"
      aria-label={sayHits(lines[0], lines[1])}
    >
      {lines.map((hits, i) => (
        <g key={names[i]} transform={`translate(0 ${i * (HEIGHT + 10)})`}>
          <text x={0} y={HEIGHT * 0.7} className="label label-strong" fill="var(--ink)">
            {names[i]}
          </text>
          <g transform={`translate(${NAMES} 0)`}>
            <DrawingSvg drawing={hitsLine(hits ?? [], last, Math.max(80, width - NAMES), HEIGHT)} />
          </g>
        </g>
      ))}
    </svg>
  );
}

function sayHits(...[before, after]: Parameters<typeof coveredHits>[0][]): string {
  return `Covered hits: ${coveredHits(before!).covered} before, ${coveredHits(after!).covered} now.`;
}
