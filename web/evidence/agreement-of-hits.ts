import { sayFigure } from '../../core/findings/say-figure.js';
import { overlaid, type Drawing } from '../marks/drawing.js';
import { pathData } from '../marks/path-data.js';
import { clockText } from '../strip/beat-grid.js';
import { sayLevel } from '../strip/say-level.js';
import type { EvidenceContext, EvidencePanel } from './evidence-panel.js';
import { numberOf, numbersOf } from './evidence-values.js';
import { levelAxis, plotArea } from './plot-area.js';

interface AgreeingHit {
  readonly time_s: number;
  readonly now_dB: number;
  readonly mended_dB: number;
}

const HEIGHT = 232;
const CLOSE_HEIGHT = 171;

/** Kick and bass together at every hit, worst first, with the one shift common to all hits dotted. */
export function agreementOfHits({ finding }: EvidenceContext): EvidencePanel[] {
  const now = numbersOf(finding, 'hitAgreement_dB');
  const gain = numbersOf(finding, 'hitGain_dB');
  const hits = numbersOf(finding, 'hitTimes_s')
    .flatMap((time_s, i): AgreeingHit[] => {
      const now_dB = now[i];
      return time_s === null || now_dB === null || now_dB === undefined
        ? []
        : [{ time_s, now_dB, mended_dB: now_dB + (gain[i] ?? 0) }];
    })
    .sort((a, b) => a.now_dB - b.now_dB);
  if (hits.length === 0) return [];
  const tolerance_dB = numberOf(finding, 'tolerance_dB');
  const mend = mendInWords(numberOf(finding, 'commonDelay_ms') ?? 0, numberOf(finding, 'commonPolarity') ?? 1);
  return [
    {
      heading: 'Sum against parts',
      scope: 'kick and bass at 30 to 150 Hz, every hit, worst first',
      axis: 'dB, both together against adding their powers',
      describes: `${hits.filter(({ now_dB }) => now_dB < 0).length} of ${hits.length} hits lose energy; ${mend}.`,
      height: (_, close) => (close ? CLOSE_HEIGHT : HEIGHT),
      draw: (width, height) => drawHits(hits, tolerance_dB, mend, width, height),
      table: {
        columns: [
          { name: 'Hit at' },
          { name: 'As it is', numbers: true },
          { name: 'With the common shift', numbers: true },
        ],
        rows: hits.map(({ time_s, now_dB, mended_dB }) => [
          clockText(time_s),
          `${sayLevel(now_dB)}\u00a0dB`,
          `${sayLevel(mended_dB)}\u00a0dB`,
        ]),
      },
    },
  ];
}

function mendInWords(delay_ms: number, polarity: number): string {
  const turned = polarity === -1 ? `bass turned over${delay_ms === 0 ? '' : ','}` : 'bass';
  const shift = delay_ms === 0 ? '' : ` ${sayFigure(Math.abs(delay_ms), 'ms')} ${delay_ms > 0 ? 'later' : 'earlier'}`;
  return `dotted: ${turned}${shift}`;
}

function drawHits(
  hits: readonly AgreeingHit[],
  tolerance_dB: number | null,
  mend: string,
  width: number,
  height: number,
): Drawing {
  const levels = hits.flatMap(({ now_dB, mended_dB }) => [now_dB, mended_dB]);
  const range = { from: 0, to: hits.length, least: Math.min(-4, ...levels) - 0.5, most: 3.5 };
  const area = plotArea(width, 18, height - 12, range);
  const step = (area.right - area.left) / hits.length;
  const places = hits.map(({ time_s, now_dB, mended_dB }, i) => ({
    x: area.x(i + 0.5),
    top: area.top,
    bottom: area.bottom,
    says: `hit at ${clockText(time_s)}: ${sayLevel(now_dB)}\u00a0dB, with the common shift ${sayLevel(mended_dB)}\u00a0dB`,
    time_s,
  }));
  const half = Math.max(1, Math.min(5, 0.4 * step));
  const dotted = hits.map(({ mended_dB }, i) =>
    pathData.level(area.x(i + 0.5) - half, area.x(i + 0.5) + half, area.y(mended_dB)),
  );
  const uprights = hits.map(({ now_dB }, i) => pathData.upright(area.x(i + 0.5), area.y(0), area.y(now_dB)));
  const tolerance = tolerance_dB === null ? '' : pathData.level(area.left, area.right, area.y(tolerance_dB));
  return overlaid([
    levelAxis(area),
    {
      strokes: [
        { path: tolerance, ink: 'rule-strong', width: 1 },
        { path: uprights.join(''), ink: 'kick', width: Math.max(1, Math.min(2.5, 0.5 * step)) },
        { path: pathData.level(area.left, area.right, area.y(0)), ink: 'bass', width: 1.8 },
        { path: dotted.join(''), ink: 'wanted', width: 2, dash: [2, 1.5] },
      ],
      labels: [
        { x: area.right, y: 12, text: mend, ink: 'wanted', anchor: 'end', strong: true },
        ...(tolerance_dB === null
          ? []
          : [
              {
                x: area.right,
                y: area.y(tolerance_dB) + 13,
                text: `tolerance ${sayLevel(tolerance_dB, 0)}\u00a0dB, middle hit`,
                ink: 'ink-2' as const,
                anchor: 'end' as const,
                halo: true,
              },
            ]),
      ],
      places,
    },
  ]);
}
