import { sayFigure } from '../../core/findings/say-figure.js';
import { nearestNote } from '../../core/units/notes.js';
import { dimensionMark } from '../marks/dimension-mark.js';
import { overlaid, type Drawing } from '../marks/drawing.js';
import { pathData } from '../marks/path-data.js';
import type { EvidenceContext, EvidencePanel } from './evidence-panel.js';
import { numberOf, numbersOf } from './evidence-values.js';
import { hertzAxis, levelAxis, plotArea, type PlotArea } from './plot-area.js';

const HEIGHT = 250;
const CLOSE_HEIGHT = 185;
const INFRASONIC_Hz = [5, 20] as const;
const LOWS_Hz = [30, 150] as const;

interface FileBand {
  readonly centre_Hz: number;
  readonly level_dBFS: number;
}

/** One file from 5 to 150 Hz: what lies under the music, and the music. */
export function fileLows({ finding }: EvidenceContext): EvidencePanel[] {
  const levels = numbersOf(finding, 'bands_dBFS');
  const bands = numbersOf(finding, 'bands_Hz').flatMap((centre_Hz, i): FileBand[] => {
    const level_dBFS = levels[i];
    return centre_Hz === null || level_dBFS === null || level_dBFS === undefined ? [] : [{ centre_Hz, level_dBFS }];
  });
  const infrasonic = numberOf(finding, 'infrasonic_dBFS');
  const lows = numberOf(finding, 'lows_dBFS');
  if (bands.length < 2 || infrasonic === null || lows === null) return [];
  return [
    {
      heading: 'Below the notes',
      scope: finding.where.files.join(', '),
      axis: 'dBFS in each twelfth octave',
      describes: `5 to 20 Hz holds ${sayFigure(infrasonic, 'dBFS')}, 30 to 150 Hz ${sayFigure(lows, 'dBFS')}.`,
      height: (_, close) => (close ? CLOSE_HEIGHT : HEIGHT),
      draw: (width, height) => drawFile(bands, infrasonic, lows, numberOf(finding, 'lowestNote_Hz'), width, height),
      table: {
        columns: [
          { name: 'Band', numbers: true },
          { name: 'Level', numbers: true },
        ],
        rows: [
          ['5 to 20\u00a0Hz', sayFigure(infrasonic, 'dBFS')],
          ['30 to 150\u00a0Hz', sayFigure(lows, 'dBFS')],
          ...bands.map(({ centre_Hz, level_dBFS }) => [sayFigure(centre_Hz, 'Hz'), sayFigure(level_dBFS, 'dBFS')]),
        ],
      },
    },
  ];
}

function drawFile(
  bands: readonly FileBand[],
  infrasonic_dBFS: number,
  lows_dBFS: number,
  lowest_Hz: number | null,
  width: number,
  height: number,
): Drawing {
  const most = Math.max(...bands.map(({ level_dBFS }) => level_dBFS)) + 4;
  const range = {
    from: 4.8,
    to: 156,
    log: true,
    least: Math.max(most - 72, Math.min(...bands.map(({ level_dBFS }) => level_dBFS))) - 12,
    most,
  };
  const area = plotArea(width, 20, height - 26, range);
  const y = (level_dBFS: number): number => area.y(Math.max(area.least, level_dBFS));
  const line = (from_Hz: number, to_Hz: number): string =>
    pathData.through(
      bands
        .filter(({ centre_Hz }) => centre_Hz >= from_Hz && centre_Hz <= to_Hz)
        .map(({ centre_Hz, level_dBFS }): [number, number] => [area.x(centre_Hz), y(level_dBFS)]),
    );
  const over = infrasonic_dBFS - lows_dBFS;
  const words = over >= 0 ? `${sayFigure(over, 'dB')} more than 30 to 150\u00a0Hz` : `${sayFigure(-over, 'dB')} less`;
  return overlaid([
    levelAxis(area),
    hertzAxis(area),
    {
      strokes: [
        { path: slanted(bands, area, y), ink: 'ink-2', width: 0.8 },
        { path: line(0, 21), ink: 'ink', width: 1.8, dash: [4, 2] },
        { path: line(19.5, 200), ink: 'ink', width: 2 },
      ],
      labels: [],
    },
    lowestNote(lowest_Hz, area),
    dimensionMark(
      area.x(INFRASONIC_Hz[0]),
      area.x(INFRASONIC_Hz[1]),
      area.bottom - 10,
      `5 to 20\u00a0Hz: ${words}`,
      area.right,
    ),
    dimensionMark(area.x(LOWS_Hz[0]), area.x(LOWS_Hz[1]), area.bottom - 28, '30 to 150\u00a0Hz', area.right),
    {
      strokes: [],
      labels: [],
      places: bands.map(({ centre_Hz, level_dBFS }) => ({
        x: area.x(centre_Hz),
        top: area.top,
        bottom: area.bottom,
        says: `${sayFigure(centre_Hz, 'Hz')}: ${sayFigure(level_dBFS, 'dBFS')}`,
      })),
    },
  ]);
}

/** Slanted hatching under the curve from 5 to 20 Hz: what no note is in. */
function slanted(bands: readonly FileBand[], area: PlotArea, y: (level: number) => number): string {
  const under = bands.filter(({ centre_Hz }) => centre_Hz >= INFRASONIC_Hz[0] && centre_Hz <= INFRASONIC_Hz[1]);
  const top_y = (x: number): number => {
    const after = under.findIndex(({ centre_Hz }) => area.x(centre_Hz) >= x);
    const band = under[after < 0 ? under.length - 1 : after]!;
    return y(band.level_dBFS);
  };
  let path = '';
  for (let x = area.x(INFRASONIC_Hz[0]); x < area.x(INFRASONIC_Hz[1]); x += 5) {
    for (let at = area.bottom; at > top_y(x) + 5; at -= 5) path += pathData.line(x, at, x + 5, at - 5);
  }
  return path;
}

function lowestNote(lowest_Hz: number | null, area: PlotArea): Drawing {
  if (lowest_Hz === null) return { strokes: [], labels: [] };
  const x = area.x(lowest_Hz);
  return {
    strokes: [{ path: pathData.upright(x, 16, area.bottom), ink: 'bass', width: 1 }],
    labels: [{ x: x + 5, y: 14, text: `${nearestNote(lowest_Hz).name}, the lowest note`, ink: 'bass', strong: true }],
  };
}
