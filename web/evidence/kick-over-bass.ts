import { sayFigure, sayShare } from '../../core/findings/say-figure.js';
import type { BandClearance, ClearanceMeasure } from '../../core/measure/clearance.js';
import { isMeasured, valueOf } from '../../core/units/reading.js';
import { nearestNote } from '../../core/units/notes.js';
import { bandMark } from '../marks/band-mark.js';
import { dimensionMark } from '../marks/dimension-mark.js';
import { overlaid, type Drawing, type Label, type Place } from '../marks/drawing.js';
import { CLEAR_dB } from '../marks/hit-mark.js';
import { pathData } from '../marks/path-data.js';
import { waterlineMark } from '../marks/waterline-mark.js';
import { sayLevel } from '../strip/say-level.js';
import type { EvidenceContext, EvidencePanel } from './evidence-panel.js';
import { levelAxis, noteAxis, plotArea, type PlotArea } from './plot-area.js';

/** Bands that are drawn: from a fourth under E1 to the E an octave and a half over the strings. */
const FROM_Hz = 36;
const TO_Hz = 190;
const COUNTS_FROM = 0.005;
const CONTESTED_FROM = 0.5;
/** Pixels a band is thick for each share of the kick that lies in it. */
const PX_PER_SHARE = 90;

/** The kick over the bass in each band, on the waterline. */
export function kickOverBass({ measured, after }: EvidenceContext): EvidencePanel[] {
  const { clearance } = measured;
  if (!isMeasured(clearance) || clearance.bands.length === 0) return [];
  const bands = shownBands(clearance);
  const expected = after !== null && isMeasured(after.clearance) ? after.clearance : null;
  return [
    {
      heading: 'Kick over bass',
      scope: scopeOf(clearance),
      axis: 'dB, kick over bass in each third octave',
      key:
        'Solid: the kick is clear, 2 dB or more. Sunk, dashed: the bass is stronger. Crossed: contested. Thick: counts more; hairline: ' +
        'does not count. Thin ends: P10 and P90 of the hits.' +
        (expected === null ? '' : ' Dotted: expected.'),
      describes: describe(clearance, bands),
      height: (width, close) => (close ? 190 : width < 420 ? 230 : 272),
      draw: (width, height) => drawBands(clearance, bands, expected, width, height),
      table: {
        columns: [
          { name: 'Band', numbers: true },
          { name: 'Note' },
          { name: 'P10', numbers: true },
          { name: 'Median', numbers: true },
          { name: 'P90', numbers: true },
          ...(expected === null ? [] : [{ name: 'Expected', numbers: true }]),
          { name: 'Counts', numbers: true },
          { name: 'Contested' },
        ],
        rows: bands.filter(({ weight }) => weight >= COUNTS_FROM).map((band) => rowOf(band, clearance, expected)),
      },
    },
  ];
}

function scopeOf({ coveredHits, countedHits }: ClearanceMeasure): string {
  const hits = coveredHits > 0 ? `the ${coveredHits} covered hits` : `all ${countedHits} hits`;
  return `first 150 ms, median of ${hits}`;
}

function shownBands({ bands }: ClearanceMeasure): readonly BandClearance[] {
  const counting = bands.filter(({ weight }) => weight >= COUNTS_FROM);
  const low = Math.min(FROM_Hz, ...counting.map(({ centre_Hz }) => centre_Hz));
  const high = Math.max(TO_Hz, ...counting.map(({ centre_Hz }) => centre_Hz));
  return bands.filter(({ centre_Hz }) => centre_Hz >= low - 0.01 && centre_Hz <= high + 0.01);
}

/** The scale: as far as what counts reaches, and a little further; ±24 dB at most. */
function rangeOf(bands: readonly BandClearance[], expected: readonly BandClearance[]): readonly [number, number] {
  const counting = [...bands, ...expected].filter(({ weight }) => weight >= COUNTS_FROM);
  const most = Math.max(8, ...counting.map(({ margin_dB, p90_dB, weight }) => (weight > 0.02 ? p90_dB : margin_dB)));
  const least = Math.min(-6, ...counting.map(({ margin_dB, p10_dB, weight }) => (weight > 0.02 ? p10_dB : margin_dB)));
  return [Math.max(-24, least - 1), Math.min(24, most + 1)];
}

function drawBands(
  clearance: ClearanceMeasure,
  bands: readonly BandClearance[],
  expected: ClearanceMeasure | null,
  width: number,
  height: number,
): Drawing {
  const after = expected === null ? [] : bandsLike(bands, expected);
  const [least, most] = rangeOf(bands, after);
  const step = 2 ** (1 / 24);
  const range = { from: bands[0]!.centre_Hz / step, to: bands.at(-1)!.centre_Hz * step, log: true, least, most };
  const area = plotArea(width, 8, height - 38, range, 14);
  const px_per_dB = Math.abs(area.y(1) - area.y(0));
  const water = waterlineMark({
    left: area.left,
    right: area.right,
    zero_y: area.y(0),
    bottom_y: area.bottom,
    px_per_dB,
  });
  const thin = (area.right - area.left) / bands.length;
  return overlaid([
    levelAxis(area),
    { strokes: water, labels: [toleranceLabel(area)] },
    noteAxis(area),
    ...bands.map((band) => ({ strokes: markOf(band, area, thin), labels: [] })),
    expectedMarks(after, area, thin),
    contestedLength(clearance, bands, area),
    { strokes: [], labels: [], places: bands.map((band) => placeOf(band, area)) },
  ]);
}

function bandsLike(bands: readonly BandClearance[], other: ClearanceMeasure): readonly BandClearance[] {
  return bands.flatMap(({ centre_Hz, weight }) => {
    const band = other.bands.find((candidate) => Math.abs(candidate.centre_Hz - centre_Hz) < 0.01);
    return band === undefined || weight < COUNTS_FROM ? [] : [band];
  });
}

function markOf(band: BandClearance, area: PlotArea, thin: number) {
  const counts = band.weight >= COUNTS_FROM;
  return bandMark({
    x: area.x(band.centre_Hz),
    thickness: counts ? Math.min(0.8 * thin, Math.max(2, PX_PER_SHARE * band.weight)) : 0,
    margin_dB: band.margin_dB,
    p10_dB: band.p10_dB,
    p90_dB: band.p90_dB,
    contested: counts && band.overlap >= CONTESTED_FROM,
    y: area.y,
    most_dB: area.most,
    least_dB: area.least,
  });
}

function expectedMarks(bands: readonly BandClearance[], area: PlotArea, thin: number): Drawing {
  const path = bands
    .map(({ centre_Hz, margin_dB }) => {
      const y = area.y(Math.max(area.least, Math.min(area.most, margin_dB)));
      return pathData.level(area.x(centre_Hz) - 0.45 * thin, area.x(centre_Hz) + 0.45 * thin, y);
    })
    .join('');
  return { strokes: [{ path, ink: 'wanted', width: 2, dash: [2, 1.5] }], labels: [] };
}

function toleranceLabel(area: PlotArea): Label {
  return { x: area.right, y: area.y(CLEAR_dB) - 5, text: '+2\u00a0dB', ink: 'ink-2', anchor: 'end', halo: true };
}

function contestedLength(clearance: ClearanceMeasure, bands: readonly BandClearance[], area: PlotArea): Drawing {
  const contested = bands.filter(({ overlap, weight }) => overlap >= CONTESTED_FROM && weight >= COUNTS_FROM);
  const most = valueOf(clearance.contested_Hz);
  if (contested.length === 0 || most === null) return { strokes: [], labels: [] };
  const [first, last] = [contested[0]!.centre_Hz, contested.at(-1)!.centre_Hz];
  const text = `contested, ${Math.round(first)} to ${sayFigure(last, 'Hz', 0)}, most at ${Math.round(most)}`;
  return dimensionMark(area.x(first) - 5, area.x(last) + 5, area.bottom - 9, text, area.right);
}

function placeOf(band: BandClearance, area: PlotArea): Place {
  const { margin_dB, p10_dB, p90_dB, weight, overlap, centre_Hz } = band;
  const note = nearestNote(centre_Hz).name;
  const contested = overlap >= CONTESTED_FROM && weight >= COUNTS_FROM ? ', contested' : '';
  return {
    x: area.x(centre_Hz),
    top: area.top,
    bottom: area.bottom,
    says:
      `${sayFigure(centre_Hz, 'Hz', 0)}, ${note}: ${sayLevel(margin_dB)}\u00a0dB, ${sayLevel(p10_dB)} to ` +
      `${sayLevel(p90_dB)}, counts ${sayShare(weight)}${contested}`,
  };
}

function rowOf(band: BandClearance, clearance: ClearanceMeasure, expected: ClearanceMeasure | null): string[] {
  const most = valueOf(clearance.contested_Hz);
  const isMost = most !== null && Math.abs(most - band.centre_Hz) < 0.01;
  const after = expected?.bands.find(({ centre_Hz }) => Math.abs(centre_Hz - band.centre_Hz) < 0.01);
  return [
    sayFigure(band.centre_Hz, 'Hz', 0),
    nearestNote(band.centre_Hz).name,
    sayLevel(band.p10_dB),
    sayLevel(band.margin_dB),
    sayLevel(band.p90_dB),
    ...(expected === null ? [] : [after === undefined ? '' : sayLevel(after.margin_dB)]),
    sayShare(band.weight),
    isMost ? 'most' : band.overlap >= CONTESTED_FROM ? 'yes' : '',
  ];
}

function describe(clearance: ClearanceMeasure, bands: readonly BandClearance[]): string {
  const counting = bands.filter(({ weight }) => weight >= COUNTS_FROM);
  const under = counting.filter(({ margin_dB }) => margin_dB < 0);
  const most = valueOf(clearance.contested_Hz);
  const contested = most === null ? '' : ` Contested most at ${sayFigure(most, 'Hz', 0)}.`;
  return `The bass is stronger than the kick in ${under.length} of the ${counting.length} bands that count.${contested}`;
}
