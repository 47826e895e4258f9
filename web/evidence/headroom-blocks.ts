import { sayFigure } from '../../core/findings/say-figure.js';
import { overlaid, type Drawing } from '../marks/drawing.js';
import { pathData } from '../marks/path-data.js';
import { clockText } from '../strip/beat-grid.js';
import { sayLevel } from '../strip/say-level.js';
import type { EvidenceContext, EvidencePanel } from './evidence-panel.js';
import { numberOf, numbersOf } from './evidence-values.js';
import { levelAxis, placeAxis, plotArea } from './plot-area.js';

interface PeakBlock {
  readonly start_s: number;
  readonly peak_dBTP: number;
  readonly cost_dB: number;
}

const HEIGHT = 240;
const CLOSE_HEIGHT = 177;
const TOLERANCE_dBTP = -1;

/** Peaks of the sum of all stems, block by block, and what the lows cost of each. */
export function headroomBlocks({ finding }: EvidenceContext): EvidencePanel[] {
  const peaks = numbersOf(finding, 'blockPeak_dBTP');
  const costs = numbersOf(finding, 'blockCost_dB');
  const blocks = numbersOf(finding, 'blockStart_s').flatMap((start_s, i): PeakBlock[] => {
    const [peak_dBTP, cost_dB] = [peaks[i], costs[i]];
    return start_s === null ||
      peak_dBTP === null ||
      peak_dBTP === undefined ||
      cost_dB === null ||
      cost_dB === undefined
      ? []
      : [{ start_s, peak_dBTP, cost_dB }];
  });
  if (blocks.length === 0) return [];
  const cost = numberOf(finding, 'cost_dB');
  return [
    {
      heading: 'Peaks of the sum',
      scope: 'all stems, blocks of 400 ms within 12 dB of the loudest',
      axis: 'dBTP; thin: what the lows cost of it',
      describes: `${blocks.filter(({ peak_dBTP }) => peak_dBTP > TOLERANCE_dBTP).length} of ${blocks.length} blocks peak above −1 dBTP.`,
      height: (_, close) => (close ? CLOSE_HEIGHT : HEIGHT),
      draw: (width, height) => drawBlocks(blocks, cost, width, height),
      table: {
        columns: [
          { name: 'From' },
          { name: 'Peak', numbers: true },
          { name: 'Without the lows', numbers: true },
          { name: 'Cost', numbers: true },
        ],
        rows: blocks.map(({ start_s, peak_dBTP, cost_dB }) => [
          clockText(start_s),
          sayFigure(peak_dBTP, 'dBTP'),
          sayFigure(peak_dBTP - cost_dB, 'dBTP'),
          sayFigure(cost_dB, 'dB'),
        ]),
      },
    },
  ];
}

function drawBlocks(blocks: readonly PeakBlock[], cost: number | null, width: number, height: number): Drawing {
  const range = {
    from: 0,
    to: blocks.at(-1)!.start_s + 0.4,
    least: Math.min(...blocks.map(({ peak_dBTP, cost_dB }) => peak_dBTP - Math.max(0, cost_dB))) - 1,
    most: Math.max(1, ...blocks.map(({ peak_dBTP }) => peak_dBTP)) + 1,
  };
  const area = plotArea(width, 10, height - 24, range);
  const length = Math.max(1.5, area.x(0.4) - area.x(0) - 1);
  const at = ({ start_s }: PeakBlock): number => area.x(start_s);
  const peaks = blocks.map((block) => pathData.level(at(block), at(block) + length, area.y(block.peak_dBTP)));
  const without = blocks.map((block) =>
    pathData.level(at(block), at(block) + length, area.y(block.peak_dBTP - block.cost_dB)),
  );
  const lost = blocks.map((block) =>
    pathData.upright(at(block) + length / 2, area.y(block.peak_dBTP), area.y(block.peak_dBTP - block.cost_dB)),
  );
  return overlaid([
    levelAxis(area),
    placeAxis(area, (time_s) => clockText(time_s).replace(/\.0$/, '')),
    {
      strokes: [
        { path: pathData.level(area.left, area.right, area.y(TOLERANCE_dBTP)), ink: 'rule-strong', width: 1.2 },
        { path: lost.join(''), ink: 'ink-3', width: 0.9 },
        { path: without.join(''), ink: 'ink-3', width: 1.2 },
        { path: peaks.join(''), ink: 'ink', width: 2.2 },
      ],
      labels: [
        {
          x: area.right,
          y: area.y(TOLERANCE_dBTP) + 13,
          text: `tolerance ${sayLevel(TOLERANCE_dBTP, 0)}\u00a0dBTP`,
          ink: 'ink-2',
          anchor: 'end',
          halo: true,
        },
        ...(cost === null
          ? []
          : [
              {
                x: area.right,
                y: area.bottom - 4,
                text: `middle block: ${sayFigure(cost, 'dB')} for the lows`,
                ink: 'ink' as const,
                anchor: 'end' as const,
                halo: true,
              },
            ]),
      ],
      places: blocks.map((block) => ({
        x: at(block) + length / 2,
        top: area.top,
        bottom: area.bottom,
        says: `${clockText(block.start_s)}: ${sayFigure(block.peak_dBTP, 'dBTP')}, ${sayFigure(block.cost_dB, 'dB')} of it for the lows`,
        time_s: block.start_s,
      })),
    },
  ]);
}
