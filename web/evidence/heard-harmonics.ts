import { sayFigure, sayShare } from '../../core/findings/say-figure.js';
import { overlaid, type Drawing, type Place, type Stroke } from '../marks/drawing.js';
import { pathData } from '../marks/path-data.js';
import type { EvidenceContext, EvidencePanel } from './evidence-panel.js';
import { numberOf, numbersOf, textsOf } from './evidence-values.js';
import { hertzAxis, LEFT_px, plotArea, type PlotArea } from './plot-area.js';

/** The harmonics of one pitch: on what share of its notes each is heard, and the longest run of the middle note. */
export interface HeardPitch {
  readonly name: string;
  readonly frequency_Hz: number;
  readonly notes: number;
  readonly shares: readonly number[];
  readonly inARow: number;
}

const ROW = 30;
const FROM_Hz = 36;
const TO_Hz = 1100;
const CORNER_Hz = 200;
const MOST_HARMONICS = 16;

/** Harmonics of each note, heard on a laptop or not. */
export function heardHarmonics({ finding }: EvidenceContext): EvidencePanel[] {
  const names = textsOf(finding, 'noteName');
  const heard = textsOf(finding, 'noteHeard');
  const pitches = pitchesHeard(
    names,
    numbersOf(finding, 'noteFrequency_Hz'),
    heard,
    numbersOf(finding, 'noteHeardInARow'),
  );
  if (pitches.length === 0) return [];
  const share = numberOf(finding, 'heardHarmonicsShare');
  const two = pitches.filter(({ inARow }) => inARow >= 2).length;
  return [
    {
      heading: 'Heard on a laptop',
      scope: share === null ? 'harmonics of each note' : `two in a row on ${sayShare(share)} of the notes`,
      axis: 'harmonics of each pitch: a stroke for each quarter of its notes that is heard, hollow: none',
      describes: `On ${two} of ${pitches.length} pitches two harmonics in a row are heard on a laptop.`,
      height: () => ROW * pitches.length + 44,
      draw: (width) => drawHeard(pitches, width),
      table: {
        columns: [
          { name: 'Pitch' },
          { name: 'Notes', numbers: true },
          { name: 'In a row', numbers: true },
          ...[1, 2, 3, 4, 5, 6].map((harmonic) => ({ name: `${harmonic}.`, numbers: true })),
        ],
        rows: pitches.map(({ name, notes, inARow, shares }) => [
          name,
          String(notes),
          String(inARow),
          ...[0, 1, 2, 3, 4, 5].map((h) => (shares[h] === undefined ? '' : sayShare(shares[h]))),
        ]),
      },
    },
    ...carryOf(finding),
  ];
}

/** Groups the notes by name, from low to high; notes that are too short to be judged are left out. */
export function pitchesHeard(
  names: readonly (string | null)[],
  frequencies_Hz: readonly (number | null)[],
  heard: readonly (string | null)[],
  runs: readonly (number | null)[],
): HeardPitch[] {
  const groups = new Map<string, { frequency_Hz: number; heard: string[]; runs: number[] }>();
  names.forEach((name, i) => {
    const [signs, frequency_Hz] = [heard[i], frequencies_Hz[i]];
    if (name === null || signs === null || signs === undefined || frequency_Hz === null || frequency_Hz === undefined)
      return;
    const group = groups.get(name) ?? { frequency_Hz, heard: [], runs: [] };
    group.heard.push(signs);
    group.runs.push(runs[i] ?? 0);
    groups.set(name, group);
  });
  return [...groups]
    .map(([name, group]): HeardPitch => {
      const count = Math.min(MOST_HARMONICS, Math.min(...group.heard.map((signs) => signs.length)));
      const shares = Array.from(
        { length: count },
        (_, h) => group.heard.filter((signs) => signs[h] === 'x').length / group.heard.length,
      );
      const sorted = group.runs.toSorted((a, b) => a - b);
      const inARow = sorted[sorted.length >> 1]!;
      return { name, frequency_Hz: group.frequency_Hz, notes: group.heard.length, shares, inARow };
    })
    .sort((a, b) => a.frequency_Hz - b.frequency_Hz);
}

function drawHeard(pitches: readonly HeardPitch[], width: number): Drawing {
  const bottom = 16 + ROW * pitches.length;
  const range = { from: FROM_Hz, to: TO_Hz, log: true, least: 0, most: pitches.length };
  const area = plotArea(width, 16, bottom, range, 84);
  const corner_x = area.x(CORNER_Hz);
  return overlaid([
    hertzAxis(area, 60),
    {
      strokes: [{ path: pathData.upright(corner_x, 8, bottom), ink: 'ink', width: 1, dash: [2, 3] }],
      labels: [{ x: corner_x + 5, y: 12, text: 'laptop, 3\u00a0dB down', ink: 'ink-2' }],
    },
    ...pitches.map((pitch, i) => drawPitch(pitch, area, area.y(i + 0.35))),
  ]);
}

function drawPitch(pitch: HeardPitch, area: PlotArea, y: number): Drawing {
  const strokes: Stroke[] = [{ path: pathData.level(area.left, area.right, y), ink: 'rule', width: 0.8 }];
  const places: Place[] = [];
  let heard = '';
  let unheard = '';
  pitch.shares.forEach((share, h) => {
    const frequency_Hz = (h + 1) * pitch.frequency_Hz;
    if (frequency_Hz > TO_Hz) return;
    const x = area.x(frequency_Hz);
    const half = Math.max(1.5, Math.min(5, 0.35 * (area.x(frequency_Hz + pitch.frequency_Hz) - x)));
    const quarters = Math.ceil(4 * share - 1e-9);
    if (quarters === 0) unheard += pathData.ring(x, y, Math.min(2.5, half));
    for (let q = 0; q < quarters; q++) heard += pathData.level(x - half, x + half, y - 1 - 3.5 * q);
    const says = `${pitch.name}, harmonic ${h + 1}, ${sayFigure(frequency_Hz, 'Hz', 0)}: heard on ${sayShare(share)} of ${pitch.notes} notes`;
    places.push({ x, top: y - 18, bottom: y + 6, says });
  });
  strokes.push({ path: heard, ink: 'bass', width: 1.6 }, { path: unheard, ink: 'bass', width: 1, fill: 'paper' });
  const run = pitch.inARow === 0 ? 'none heard' : pitch.inARow === 1 ? '1 heard' : `${pitch.inARow} in a row`;
  return {
    strokes,
    labels: [
      { x: LEFT_px - 10, y: y + 4, text: pitch.name, ink: 'ink', anchor: 'end', strong: true },
      { x: area.right + 8, y: y + 4, text: run, ink: pitch.inARow >= 2 ? 'bass' : 'ink-2', strong: pitch.inARow >= 2 },
    ],
    places,
  };
}

const SPEAKERS = [
  ['laptop, judged', 'laptop_LU'],
  ['phone', 'phone_LU'],
  ['earbud, seal lost', 'earbud_LU'],
  ['small mono speaker', 'monoSpeaker_LU'],
] as const;

/** How much further the bass falls than the song on each loudspeaker. */
function carryOf(finding: EvidenceContext['finding']): EvidencePanel[] {
  const carries = SPEAKERS.flatMap(([name, key]) => {
    const carry_LU = numberOf(finding, key);
    return carry_LU === null ? [] : [{ name, carry_LU }];
  });
  if (carries.length === 0) return [];
  return [
    {
      heading: 'How far it falls',
      scope: 'the bass against the song, whole song',
      axis: 'LU further than the song does',
      describes: carries.map(({ name, carry_LU }) => `${name}: ${sayFigure(-carry_LU, 'LU')}`).join(', ') + '.',
      height: () => 24 * carries.length + 34,
      draw: (width) => drawCarry(carries, width),
      table: {
        columns: [{ name: 'Loudspeaker' }, { name: 'Carry', numbers: true }],
        rows: carries.map(({ name, carry_LU }) => [name, sayFigure(carry_LU, 'LU')]),
      },
    },
  ];
}

const TOLERANCE_LU = 16;

function drawCarry(carries: readonly { readonly name: string; readonly carry_LU: number }[], width: number): Drawing {
  const names_px = 124;
  const most = Math.max(24, ...carries.map(({ carry_LU }) => -carry_LU + 2));
  const x = (fall_LU: number): number => names_px + (Math.max(0, fall_LU) / most) * (width - names_px - 62);
  const bottom = 24 * carries.length + 12;
  return {
    strokes: [
      { path: pathData.box(x(0), 8, x(TOLERANCE_LU) - x(0), bottom - 8), ink: null, width: 0, fill: 'band' },
      { path: pathData.upright(x(TOLERANCE_LU), 8, bottom), ink: 'rule-strong', width: 1 },
      { path: pathData.upright(x(0), 8, bottom), ink: 'ink', width: 1.2 },
      ...carries.map(({ carry_LU }, i): Stroke => {
        const y = 24 * i + 22;
        const path = pathData.level(x(0), x(-carry_LU), y) + pathData.upright(x(-carry_LU), y - 4, y + 4);
        return { path, ink: 'bass', width: 2 };
      }),
    ],
    labels: [
      ...carries.flatMap(({ name, carry_LU }, i) => [
        { x: 0, y: 24 * i + 26, text: name, ink: 'ink' as const },
        {
          x: x(-carry_LU) + 6,
          y: 24 * i + 26,
          text: sayFigure(-carry_LU, 'LU'),
          ink: 'bass' as const,
          strong: true,
          halo: true,
        },
      ]),
      {
        x: x(TOLERANCE_LU),
        y: bottom + 14,
        text: `tolerance ${sayFigure(TOLERANCE_LU, 'LU', 0)}, laptop`,
        ink: 'ink-2',
        anchor: 'middle',
      },
    ],
    places: carries.map(({ name, carry_LU }, i) => ({
      x: x(-carry_LU),
      top: 24 * i + 12,
      bottom: 24 * i + 32,
      says: `${name}: ${sayFigure(-carry_LU, 'LU')} further than the song`,
    })),
  };
}
