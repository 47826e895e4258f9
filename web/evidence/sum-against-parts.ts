import { sayFigure } from '../../core/findings/say-figure.js';
import { overlaid, type Drawing } from '../marks/drawing.js';
import { dimensionMark } from '../marks/dimension-mark.js';
import { pathData } from '../marks/path-data.js';
import { sayLevel } from '../strip/say-level.js';
import type { EvidenceContext, EvidencePanel } from './evidence-panel.js';
import { numberOf, numbersOf, textOf } from './evidence-values.js';
import { hertzAxis, levelAxis, levelHatch, plotArea, type PlotArea } from './plot-area.js';

interface SumBand {
  readonly centre_Hz: number;
  readonly now_dB: number;
  readonly aligned_dB: number;
}

const HEIGHT = 232;
const CLOSE_HEIGHT = 171;

/** Two files of one source: their sum against the sum of their powers, as it is and put right. */
export function sumAgainstParts({ finding }: EvidenceContext): EvidencePanel[] {
  const now = numbersOf(finding, 'sumNow_dB');
  const aligned = numbersOf(finding, 'sumAligned_dB');
  const bands = numbersOf(finding, 'bands_Hz').flatMap((centre_Hz, i): SumBand[] => {
    const [now_dB, aligned_dB] = [now[i], aligned[i]];
    return centre_Hz === null ||
      now_dB === null ||
      now_dB === undefined ||
      aligned_dB === null ||
      aligned_dB === undefined
      ? []
      : [{ centre_Hz, now_dB, aligned_dB }];
  });
  if (bands.length < 2) return [];
  const role = textOf(finding, 'role') === 'kick' ? 'kick' : 'bass';
  const mend = mendInWords(finding);
  return [
    {
      heading: 'Sum against parts',
      scope: `${textOf(finding, 'reference')} and ${textOf(finding, 'file')}, whole song`,
      axis: 'dB, both together against adding their powers',
      describes: `The two lose most at ${sayFigure(worst(bands).centre_Hz, 'Hz', 0)}: ${sayLevel(worst(bands).now_dB)} dB.`,
      height: (_, close) => (close ? CLOSE_HEIGHT : HEIGHT),
      draw: (width, height) => drawSum(bands, role, mend, finding.where.bands_Hz, width, height),
      table: {
        columns: [
          { name: 'Band', numbers: true },
          { name: 'As it is', numbers: true },
          { name: 'Put right', numbers: true },
          { name: 'Lost', numbers: true },
        ],
        rows: bands.map(({ centre_Hz, now_dB, aligned_dB }) => [
          sayFigure(centre_Hz, 'Hz', 0),
          `${sayLevel(now_dB)}\u00a0dB`,
          `${sayLevel(aligned_dB)}\u00a0dB`,
          sayFigure(Math.max(0, aligned_dB - now_dB), 'dB'),
        ]),
      },
    },
  ];
}

function worst(bands: readonly SumBand[]): SumBand {
  return bands.reduce((most, band) => (band.aligned_dB - band.now_dB > most.aligned_dB - most.now_dB ? band : most));
}

function mendInWords(finding: EvidenceContext['finding']): string {
  const delay_ms = (numberOf(finding, 'delay_ms') ?? 0) + (numberOf(finding, 'nudge_ms') ?? 0);
  const turned = numberOf(finding, 'polarity') === -1 ? ', polarity turned' : '';
  return `put right: ${sayFigure(Math.abs(delay_ms), 'ms')} ${delay_ms > 0 ? 'earlier' : 'later'}${turned}`;
}

function drawSum(
  bands: readonly SumBand[],
  role: 'kick' | 'bass',
  mend: string,
  losing_Hz: readonly number[],
  width: number,
  height: number,
): Drawing {
  const levels = bands.flatMap(({ now_dB, aligned_dB }) => [now_dB, aligned_dB]);
  const range = {
    from: bands[0]!.centre_Hz * 0.94,
    to: bands.at(-1)!.centre_Hz * 1.06,
    log: true,
    least: Math.min(-3, ...levels) - 1.5,
    most: Math.max(3, ...levels) + 1,
  };
  const area = plotArea(width, 8, height - 26, range);
  const line = (of: (band: SumBand) => number): string =>
    pathData.through(bands.map((band): [number, number] => [area.x(band.centre_Hz), area.y(of(band))]));
  const best = bands.reduce((most, band) => (band.aligned_dB > most.aligned_dB ? band : most));
  return overlaid([
    levelAxis(area),
    hertzAxis(area),
    {
      strokes: [
        { path: lostHatch(bands, area), ink: role, width: 1, hatch: true },
        { path: pathData.level(area.left, area.right, area.y(0)), ink: 'ink', width: 1.2 },
        { path: line(({ aligned_dB }) => aligned_dB), ink: 'wanted', width: 1.8, dash: [2, 2] },
        { path: line(({ now_dB }) => now_dB), ink: role, width: 2.2 },
      ],
      labels: [
        {
          x: Math.max(area.left + 90, Math.min(area.right - 90, area.x(best.centre_Hz))),
          y: area.y(best.aligned_dB) - 6,
          text: mend,
          ink: 'wanted',
          anchor: 'middle',
          strong: true,
          halo: true,
        },
      ],
    },
    losingLength(bands, losing_Hz, area),
    {
      strokes: [],
      labels: [],
      places: bands.map(({ centre_Hz, now_dB, aligned_dB }) => ({
        x: area.x(centre_Hz),
        top: area.top,
        bottom: area.bottom,
        says: `${sayFigure(centre_Hz, 'Hz', 0)}: ${sayLevel(now_dB)}\u00a0dB, put right ${sayLevel(aligned_dB)}\u00a0dB`,
      })),
    },
  ]);
}

/** Level strokes between what is and what could be, band by band: what is lost hangs there. */
function lostHatch(bands: readonly SumBand[], area: PlotArea): string {
  return bands
    .map(({ centre_Hz, now_dB, aligned_dB }, i) => {
      if (aligned_dB - now_dB < 0.3) return '';
      const before = bands[i - 1]?.centre_Hz ?? centre_Hz;
      const after = bands[i + 1]?.centre_Hz ?? centre_Hz;
      const left = area.x(Math.sqrt(before * centre_Hz)) + 3;
      const right = area.x(Math.sqrt(after * centre_Hz)) - 3;
      return levelHatch(left, right, area.y(aligned_dB), area.y(now_dB), 4);
    })
    .join('');
}

function losingLength(bands: readonly SumBand[], losing_Hz: readonly number[], area: PlotArea): Drawing {
  const [first, last] = [losing_Hz[0], losing_Hz.at(-1)];
  if (first === undefined || last === undefined) return { strokes: [], labels: [] };
  const text =
    first === last
      ? `most lost at ${sayFigure(first, 'Hz', 0)}`
      : `most lost, ${Math.round(first)} to ${sayFigure(last, 'Hz', 0)}`;
  return dimensionMark(area.x(first) - 8, area.x(last) + 8, area.bottom - 9, text, area.right);
}
