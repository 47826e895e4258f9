import { sayFigure } from '../../core/findings/say-figure.js';
import type { EvennessMeasure, EvennessNote } from '../../core/measure/evenness.js';
import { isMeasured } from '../../core/units/reading.js';
import { overlaid, type Drawing, type Place } from '../marks/drawing.js';
import { pathData } from '../marks/path-data.js';
import { clockText } from '../strip/beat-grid.js';
import { placeLabels } from '../strip/place-labels.js';
import { sayLevel } from '../strip/say-level.js';
import type { EvidenceContext, EvidencePanel } from './evidence-panel.js';
import { levelAxis, plotArea, type PlotArea } from './plot-area.js';

/** The counted notes of one pitch. */
export interface PitchGroup {
  readonly name: string;
  readonly midi: number;
  readonly line_dBFS: number;
  readonly median_dBFS: number;
  readonly notes: readonly CountedNote[];
}

interface CountedNote {
  readonly start_s: number;
  readonly level_dBFS: number;
  readonly deviation_dB: number;
}

const HEIGHT = 270;
const CLOSE_HEIGHT = 199;

/** Every note at its pitch, a level stroke at its level, with the line through the pitches and the tolerance round it. */
export function notesByPitch({ finding, measured, after }: EvidenceContext): EvidencePanel[] {
  const { evenness } = measured;
  if (!isMeasured(evenness)) return [];
  const groups = groupByPitch(evenness.notes);
  if (groups.length === 0) return [];
  const tolerance_dB = finding.id === 'resonant-note' ? 3 : 4;
  const expected = after !== null && isMeasured(after.evenness) ? groupByPitch(after.evenness.notes) : [];
  return [
    {
      heading: 'Notes by pitch',
      scope: `30 to 250 ms of every note, ${evenness.countedNotes} counted`,
      axis: 'dBFS, unweighted, at its pitch',
      describes: describe(groups, tolerance_dB),
      height: (_, close) => (close ? CLOSE_HEIGHT : HEIGHT),
      draw: (width, height) => drawPitches(groups, expected, tolerance_dB, width, height),
      table: tableOf(groups, evenness, expected),
    },
  ];
}

/** Counted notes by rising pitch, with where the line through the pitches lies at each. */
export function groupByPitch(notes: readonly EvennessNote[]): PitchGroup[] {
  const groups = new Map<number, { name: string; notes: CountedNote[] }>();
  for (const { midi, name, start_s, level_dBFS, deviation_dB } of notes) {
    if (level_dBFS === null || deviation_dB === null) continue;
    const group = groups.get(midi) ?? { name, notes: [] };
    group.notes.push({ start_s, level_dBFS, deviation_dB });
    groups.set(midi, group);
  }
  return [...groups]
    .sort(([a], [b]) => a - b)
    .map(([midi, { name, notes: own }]) => {
      const lines = own.map(({ level_dBFS, deviation_dB }) => level_dBFS - deviation_dB);
      return {
        name,
        midi,
        notes: own,
        line_dBFS: middle(lines),
        median_dBFS: middle(own.map(({ level_dBFS }) => level_dBFS)),
      };
    });
}

function middle(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
}

function drawPitches(
  groups: readonly PitchGroup[],
  expected: readonly PitchGroup[],
  tolerance_dB: number,
  width: number,
  height: number,
): Drawing {
  const levels = groups.flatMap(({ notes, line_dBFS }) => [...notes.map(({ level_dBFS }) => level_dBFS), line_dBFS]);
  const range = {
    from: 0,
    to: groups.length,
    least: Math.min(...levels) - 1,
    most: Math.max(...levels) + 1,
  };
  const area = plotArea(width, 8, height - 40, range, 68);
  const half = Math.min(15, 0.3 * (area.x(1) - area.x(0)));
  const far = groups.filter(({ median_dBFS, line_dBFS }) => Math.abs(median_dBFS - line_dBFS) >= tolerance_dB);
  const places: Place[] = [];
  const columns = groups.map((group, i): Drawing => {
    const x = area.x(i + 0.5);
    places.push(...placesOf(group, x, area));
    return columnOf(group, expected, x, half, area);
  });
  const labels = far.map((group) => ({
    x: area.x(groups.indexOf(group) + 0.5) + half + 4,
    y: area.y(group.median_dBFS) + 4,
    text: sayLevel(group.median_dBFS - group.line_dBFS),
    ink: 'bass' as const,
    strong: true,
    halo: true,
  }));
  return overlaid([
    toleranceBand(groups, tolerance_dB, area),
    levelAxis(area),
    ...columns,
    foot(groups, area),
    { strokes: [], labels: placeLabels(labels), places },
  ]);
}

function columnOf(
  group: PitchGroup,
  expected: readonly PitchGroup[],
  x: number,
  half: number,
  area: PlotArea,
): Drawing {
  const after = expected.find(({ midi }) => midi === group.midi);
  const y_after = after === undefined ? 0 : area.y(Math.max(area.least, Math.min(area.most, after.median_dBFS)));
  return {
    strokes: [
      {
        path: group.notes.map(({ level_dBFS }) => pathData.level(x - half, x + half, area.y(level_dBFS))).join(''),
        ink: 'bass',
        width: 1,
      },
      {
        path: pathData.level(x - half - 4, x + half + 4, area.y(group.median_dBFS)),
        ink: 'bass',
        width: 2.8,
      },
      ...(after === undefined
        ? []
        : [
            {
              path: pathData.level(x - half - 6, x + half + 6, y_after),
              ink: 'wanted' as const,
              width: 2,
              dash: [2, 1.5],
            },
          ]),
    ],
    labels: [],
  };
}

function placesOf({ name, notes, median_dBFS, line_dBFS }: PitchGroup, x: number, area: PlotArea): Place[] {
  const off = sayLevel(median_dBFS - line_dBFS);
  const count = notes.length === 1 ? '1 note' : `${notes.length} notes`;
  const says = `${name}: ${count}, ${off}\u00a0dB off the line in the middle`;
  return [{ x, top: area.top, bottom: area.bottom, says, time_s: notes[0]!.start_s }];
}

function toleranceBand(groups: readonly PitchGroup[], tolerance_dB: number, area: PlotArea): Drawing {
  const ends = [groups[0]!, ...groups, groups.at(-1)!];
  const at = (shift: number): [number, number][] =>
    ends.map(({ line_dBFS }, i) => [
      i === 0 ? area.left : i === ends.length - 1 ? area.right : area.x(i - 0.5),
      area.y(Math.max(area.least, Math.min(area.most, line_dBFS + shift))),
    ]);
  const [above, below] = [at(tolerance_dB), at(-tolerance_dB)];
  const edge = (points: readonly [number, number][]): number => points.at(-1)![1] + 4;
  return {
    strokes: [
      { path: `${pathData.through([...above, ...below.toReversed()])}Z`, ink: null, width: 0, fill: 'band' },
      { path: pathData.through(above) + pathData.through(below), ink: 'rule-strong', width: 1 },
      { path: pathData.through(at(0)), ink: 'ink', width: 1.2, dash: [2, 2] },
    ],
    labels: [
      { x: area.right + 5, y: edge(above), text: `+${tolerance_dB}\u00a0dB`, ink: 'ink-2' },
      { x: area.right + 5, y: edge(at(0)), text: 'line', ink: 'ink-2' },
      { x: area.right + 5, y: edge(below), text: `\u2212${tolerance_dB}\u00a0dB`, ink: 'ink-2' },
    ],
  };
}

function foot(groups: readonly PitchGroup[], area: PlotArea): Drawing {
  const apart = area.x(1) - area.x(0);
  return {
    strokes: [{ path: pathData.level(area.left, area.right, area.bottom), ink: 'rule-strong', width: 1 }],
    labels: [
      { x: area.left - 7, y: area.bottom + 31, text: 'notes', ink: 'ink-2', anchor: 'end', axis: true },
      ...groups.flatMap(({ name, notes }, i) => [
        {
          x: area.x(i + 0.5),
          y: area.bottom + (apart < 24 && i % 2 === 1 ? 15 : 16),
          text: apart < 24 && name.length > 2 ? name.slice(0, 2) : name,
          ink: 'ink' as const,
          anchor: 'middle' as const,
          strong: true,
        },
        {
          x: area.x(i + 0.5),
          y: area.bottom + 31,
          text: String(notes.length),
          ink: 'ink-2' as const,
          anchor: 'middle' as const,
        },
      ]),
    ],
  };
}

function describe(groups: readonly PitchGroup[], tolerance_dB: number): string {
  const far = groups.filter(({ median_dBFS, line_dBFS }) => Math.abs(median_dBFS - line_dBFS) >= tolerance_dB);
  if (far.length === 0) return 'Every pitch lies within the tolerance in the middle; single notes do not.';
  const words = far.map(({ name, median_dBFS, line_dBFS }) => `${name} ${sayLevel(median_dBFS - line_dBFS)} dB`);
  return `Off the line through the pitches: ${words.join(', ')}.`;
}

function tableOf(groups: readonly PitchGroup[], evenness: EvennessMeasure, expected: readonly PitchGroup[]) {
  const lanes = new Map(evenness.pitches.map((pitch) => [pitch.name, pitch]));
  return {
    columns: [
      { name: 'Pitch' },
      { name: 'Notes', numbers: true },
      { name: 'Middle', numbers: true },
      { name: 'Off the line', numbers: true },
      ...(expected.length === 0 ? [] : [{ name: 'Expected', numbers: true }]),
      { name: 'Below 300 Hz', numbers: true },
      { name: 'Above', numbers: true },
      { name: 'First at' },
    ],
    rows: groups.map(({ name, midi, notes, median_dBFS, line_dBFS }) => {
      const pitch = lanes.get(name);
      const after = expected.find((group) => group.midi === midi);
      return [
        name,
        String(notes.length),
        sayFigure(median_dBFS, 'dBFS'),
        `${sayLevel(median_dBFS - line_dBFS)}\u00a0dB`,
        ...(expected.length === 0
          ? []
          : [after === undefined ? '' : `${sayLevel(after.median_dBFS - after.line_dBFS)}\u00a0dB`]),
        pitch === undefined ? '' : `${sayLevel(pitch.lowLaneDeviation_dB)}\u00a0dB`,
        pitch === undefined ? '' : `${sayLevel(pitch.highLaneDeviation_dB)}\u00a0dB`,
        clockText(notes[0]!.start_s),
      ];
    }),
  };
}
