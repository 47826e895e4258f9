import { sayFigure, sayNumber } from '../../core/findings/say-figure.js';
import { overlaid, type Drawing } from '../marks/drawing.js';
import { pathData } from '../marks/path-data.js';
import { clockText } from '../strip/beat-grid.js';
import type { EvidenceContext, EvidencePanel } from './evidence-panel.js';
import { numberOf, numbersOf, textOf } from './evidence-values.js';
import { hertzAxis, levelAxis, levelHatch, placeAxis, plotArea, type PlotArea } from './plot-area.js';

interface LossBand {
  readonly centre_Hz: number;
  readonly loss_dB: number;
  readonly correlation: number | null;
  readonly expected_dB: number | null;
}

const HEIGHT = 240;
const CLOSE_HEIGHT = 177;
const TIME_HEIGHT = 110;

/** What is lost of each third octave in mono: level strokes that hang under a line. */
export function foldDownLoss(context: EvidenceContext): EvidencePanel[] {
  const { finding } = context;
  const losses = numbersOf(finding, 'bandLoss_dB');
  const correlations = numbersOf(finding, 'bandCorrelation');
  const after = bandsAfter(context);
  const bands = numbersOf(finding, 'bands_Hz').flatMap((centre_Hz, i): LossBand[] => {
    const loss_dB = losses[i];
    if (centre_Hz === null || loss_dB === null || loss_dB === undefined) return [];
    return [{ centre_Hz, loss_dB, correlation: correlations[i] ?? null, expected_dB: after[i] ?? null }];
  });
  if (bands.length === 0) return [];
  const part = textOf(finding, 'part');
  return [
    {
      heading: 'Lost in mono',
      scope: `${part === 'sum' ? 'sum of all stems' : part}, whole song, by third octave`,
      axis: 'dB lost when both sides are added',
      describes: `Most is lost at ${sayFigure(worst(bands).centre_Hz, 'Hz', 0)}: ${sayFigure(worst(bands).loss_dB, 'dB')}.`,
      height: (_, close) => (close ? CLOSE_HEIGHT : HEIGHT),
      draw: (width, height) =>
        drawLoss(
          bands,
          numberOf(finding, 'tolerance_dB') ?? 1,
          numberOf(finding, 'monoFrequency_Hz') ?? 120,
          width,
          height,
        ),
      table: {
        columns: [
          { name: 'Band', numbers: true },
          { name: 'Lost', numbers: true },
          { name: 'Correlation', numbers: true },
          ...(context.after === null ? [] : [{ name: 'Expected', numbers: true }]),
        ],
        rows: bands.map(({ centre_Hz, loss_dB, correlation, expected_dB }) => [
          sayFigure(centre_Hz, 'Hz', 0),
          sayFigure(loss_dB, 'dB', 2),
          correlation === null ? '' : correlation.toFixed(2).replace('-', '\u2212'),
          ...(context.after === null ? [] : [expected_dB === null ? '' : sayFigure(expected_dB, 'dB', 2)]),
        ]),
      },
    },
    ...lossOverTime(context),
  ];
}

function bandsAfter({ finding, after }: EvidenceContext): (number | null)[] {
  if (after === null || after.centre.kind !== 'measured') return [];
  const part = textOf(finding, 'part') as 'kick' | 'bass' | 'rest' | 'sum';
  const measured = after.centre[part];
  return measured !== undefined && measured.kind === 'measured' ? measured.bands.map(({ loss_dB }) => loss_dB) : [];
}

function worst(bands: readonly LossBand[]): LossBand {
  return bands.reduce((most, band) => (band.loss_dB > most.loss_dB ? band : most));
}

function drawLoss(
  bands: readonly LossBand[],
  tolerance_dB: number,
  mono_Hz: number,
  width: number,
  height: number,
): Drawing {
  const most = Math.max(2.2, Math.min(12, worst(bands).loss_dB * 1.15));
  const step = 10 ** 0.05;
  const range = {
    from: bands[0]!.centre_Hz / step,
    to: bands.at(-1)!.centre_Hz * step,
    log: true,
    least: 0,
    most,
    downward: true,
  };
  const area = plotArea(width, 12, height - 26, range, 74);
  const half = Math.min(11, (0.36 * (area.right - area.left)) / bands.length);
  const strokes = bands.map((band) => hanging(band, area, half));
  return overlaid([
    toleranceBand(area, tolerance_dB),
    levelAxis(area, false),
    hertzAxis(area),
    {
      strokes: [
        { path: strokes.map(({ hatch }) => hatch).join(''), ink: 'bass', width: 1 },
        { path: strokes.map(({ end }) => end).join(''), ink: 'bass', width: 2.6 },
        { path: pathData.level(area.left, area.right, area.y(0)), ink: 'bass', width: 1.8 },
        { path: strokes.map(({ expected }) => expected).join(''), ink: 'wanted', width: 2, dash: [2, 1.5] },
        { path: pathData.upright(area.x(mono_Hz), area.top, area.bottom), ink: 'wanted', width: 1, dash: [2, 3] },
      ],
      labels: [
        {
          x: area.x(mono_Hz) + 6,
          y: area.bottom - 7,
          text: `judged below ${sayFigure(mono_Hz, 'Hz', 0)}`,
          ink: 'wanted',
          strong: true,
          halo: true,
        },
        {
          x: area.right + 5,
          y: area.y(tolerance_dB) + 4,
          text: `tolerance ${sayNumber(tolerance_dB, 0)}`,
          ink: 'ink-2',
        },
      ],
      places: bands.map(({ centre_Hz, loss_dB, correlation }) => ({
        x: area.x(centre_Hz),
        top: area.top,
        bottom: area.bottom,
        says:
          `${sayFigure(centre_Hz, 'Hz', 0)}: ${sayFigure(loss_dB, 'dB')} lost` +
          (correlation === null ? '' : `, correlation ${correlation.toFixed(2).replace('-', '\u2212')}`),
      })),
    },
  ]);
}

function hanging({ centre_Hz, loss_dB, expected_dB }: LossBand, area: PlotArea, half: number) {
  const x = area.x(centre_Hz);
  const end_y = area.y(Math.min(area.most, loss_dB));
  return {
    hatch: levelHatch(x - half, x + half, area.y(0), end_y),
    end: pathData.level(x - half, x + half, end_y),
    expected:
      expected_dB === null ? '' : pathData.level(x - half - 3, x + half + 3, area.y(Math.min(area.most, expected_dB))),
  };
}

function toleranceBand(area: PlotArea, tolerance_dB: number): Drawing {
  const height = area.y(tolerance_dB) - area.y(0);
  return {
    strokes: [
      { path: pathData.box(area.left, area.y(0), area.right - area.left, height), ink: null, width: 0, fill: 'band' },
      { path: pathData.level(area.left, area.right, area.y(tolerance_dB)), ink: 'rule-strong', width: 1 },
    ],
    labels: [],
  };
}

/** When it is lost: every second of the song. */
function lossOverTime({ finding }: EvidenceContext): EvidencePanel[] {
  const losses = numbersOf(finding, 'windowLoss_dB');
  const points = numbersOf(finding, 'windowTimes_s').flatMap((time_s, i): [number, number][] => {
    const loss = losses[i];
    return time_s === null || loss === null || loss === undefined ? [] : [[time_s, loss]];
  });
  if (points.length < 4) return [];
  const worst_dB = Math.max(...points.map(([, loss]) => loss));
  return [
    {
      heading: 'When',
      scope: 'every second of the song that sounds',
      axis: 'dB lost in mono',
      describes: `The worst second loses ${sayFigure(worst_dB, 'dB')}.`,
      height: () => TIME_HEIGHT,
      draw: (width) => drawOverTime(points, worst_dB, width),
      table: {
        columns: [{ name: 'From' }, { name: 'Lost', numbers: true }],
        rows: points.map(([time_s, loss]) => [clockText(time_s), sayFigure(loss, 'dB')]),
      },
    },
  ];
}

function drawOverTime(points: readonly (readonly [number, number])[], worst_dB: number, width: number): Drawing {
  const range = { from: 0, to: points.at(-1)![0] + 1, least: 0, most: Math.max(1.2, worst_dB), downward: true };
  const area = plotArea(width, 8, TIME_HEIGHT - 22, range);
  const step = Math.max(1, (area.x(0.25) - area.x(0)) * 0.9);
  const levels = points.map(([time_s, loss]) =>
    pathData.level(area.x(time_s + 0.375), area.x(time_s + 0.375) + step, area.y(loss)),
  );
  return overlaid([
    levelAxis(area, false),
    placeAxis(area, (time_s) => clockText(time_s).replace(/\.0$/, '')),
    {
      strokes: [
        { path: pathData.level(area.left, area.right, area.y(0)), ink: 'bass', width: 1.8 },
        { path: levels.join(''), ink: 'bass', width: 1.6 },
      ],
      labels: [],
      places: points.map(([time_s, loss]) => ({
        x: area.x(time_s + 0.5),
        top: area.top,
        bottom: area.bottom,
        says: `${clockText(time_s)}: ${sayFigure(loss, 'dB')} lost`,
        time_s,
      })),
    },
  ]);
}
