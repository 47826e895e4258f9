import type { HitClearance } from '../../core/measure/clearance.js';
import { isMeasured } from '../../core/units/reading.js';
import { nearestNote } from '../../core/units/notes.js';
import { breakMark } from '../marks/break-mark.js';
import { overlaid, type Drawing, type Place, type Stroke } from '../marks/drawing.js';
import { CLEAR_dB } from '../marks/hit-mark.js';
import { pathData } from '../marks/path-data.js';
import { waterlineMark } from '../marks/waterline-mark.js';
import { sayLevel } from '../strip/say-level.js';
import type { EvidenceContext, EvidencePanel } from './evidence-panel.js';
import { LEFT_px } from './plot-area.js';

/** The hits over one pitch, best to worst. */
export interface NoteGroup {
  readonly name: string;
  readonly frequency_Hz: number;
  readonly hits: readonly { readonly time_s: number; readonly clearance_dB: number }[];
  readonly covered: number;
}

const GROUP_GAP = 22;
const MOST_PX_PER_HIT = 8;
/** Room for `13 of 13`. */
const LEAST_GROUP = 30;
const ROOM_FOR_WORDS_px = 50;
const TOP = 24;
const FOOT = 20;
const HEIGHT = 112;
const MOST_dB = 12;

/** Counted hits by the pitch of the bass note under them, by rising pitch; hits over no note come last, named `no note`. */
export function groupByNote(
  hits: readonly HitClearance[],
  notes: readonly { readonly frequency_Hz: number }[],
): NoteGroup[] {
  const groups = new Map<number, { name: string; frequency_Hz: number; hits: NoteGroup['hits'][number][] }>();
  for (const { ghost, clearance_dB, note, time_s } of hits) {
    if (ghost || clearance_dB === null) continue;
    const frequency_Hz = note === null ? Number.POSITIVE_INFINITY : notes[note]!.frequency_Hz;
    const pitch = note === null ? null : nearestNote(frequency_Hz);
    const key = pitch?.midi ?? 999;
    const group = groups.get(key) ?? { name: pitch?.name ?? 'no note', frequency_Hz, hits: [] };
    group.hits.push({ time_s, clearance_dB });
    groups.set(key, group);
  }
  return [...groups]
    .sort(([a], [b]) => a - b)
    .map(([, group]) => ({
      ...group,
      hits: group.hits.sort((a, b) => b.clearance_dB - a.clearance_dB),
      covered: group.hits.filter(({ clearance_dB }) => clearance_dB < CLEAR_dB).length,
    }));
}

/** Which notes do it: every hit, best to worst, in groups by the note under it. */
export function hitsByNote({ measured }: EvidenceContext): EvidencePanel[] {
  const { clearance, known } = measured;
  if (!isMeasured(clearance)) return [];
  const groups = groupByNote(clearance.hits, known.notes);
  if (groups.length === 0) return [];
  return [
    {
      heading: 'Which notes do it',
      scope: 'every hit, best to worst, by the bass note under it; under +2 dB is covered',
      axis: 'dB over the bass',
      describes:
        groups.map(({ name, covered, hits }) => `${name}: ${covered} of ${hits.length} covered`).join(', ') + '.',
      height: () => HEIGHT,
      draw: (width) => drawGroups(groups, width),
      table: {
        columns: [
          { name: 'Note' },
          { name: 'Hits', numbers: true },
          { name: 'Covered', numbers: true },
          { name: 'Lowest', numbers: true },
          { name: 'Highest', numbers: true },
        ],
        rows: groups.map(({ name, hits, covered }) => [
          name,
          String(hits.length),
          String(covered),
          `${sayLevel(hits.at(-1)!.clearance_dB)}\u00a0dB`,
          `${sayLevel(hits[0]!.clearance_dB)}\u00a0dB`,
        ]),
      },
    },
  ];
}

/** Widths of groups of hits side by side, and how many of the groups fit: each at least as wide as its words. */
export function fitGroups(counts: readonly number[], room: number, gap: number): readonly number[] {
  const fitting = Math.max(1, Math.floor((room + gap) / (LEAST_GROUP + gap)));
  const shown = counts.slice(0, fitting);
  const free = room - gap * (shown.length - 1);
  const widths = (px_per_hit: number): number[] => shown.map((count) => Math.max(LEAST_GROUP, count * px_per_hit));
  let px_per_hit = MOST_PX_PER_HIT;
  while (px_per_hit > 0.1 && widths(px_per_hit).reduce((sum, width) => sum + width, 0) > free) px_per_hit *= 0.96;
  return widths(px_per_hit);
}

function drawGroups(groups: readonly NoteGroup[], width: number): Drawing {
  const gap = width < 480 ? 10 : GROUP_GAP;
  const counts = groups.map(({ hits }) => hits.length);
  const widths = fitGroups(counts, width - LEFT_px - 10, gap);
  const least_dB = Math.min(-4, ...groups.map(({ hits }) => Math.max(-12, hits.at(-1)!.clearance_dB)));
  const px_per_dB = (HEIGHT - TOP - FOOT) / (MOST_dB - least_dB);
  const y = (level_dB: number): number => TOP + (MOST_dB - Math.max(least_dB, Math.min(MOST_dB, level_dB))) * px_per_dB;
  const room = Math.min(...widths) + gap;
  let left = LEFT_px;
  const drawn = widths.map((groupWidth, i) => {
    const group = groups[i]!;
    const px_per_hit = Math.min(MOST_PX_PER_HIT, groupWidth / group.hits.length);
    const drawing = drawGroup(
      group,
      left,
      left + groupWidth,
      px_per_hit,
      y,
      px_per_dB,
      y(least_dB),
      shareText(group, room),
    );
    left += groupWidth + gap;
    return drawing;
  });
  const figures = [10, 0].map((level) => ({
    x: LEFT_px - 7,
    y: y(level) + 4,
    text: sayLevel(level, 0),
    ink: level === 0 ? ('ink' as const) : ('ink-2' as const),
    anchor: 'end' as const,
  }));
  return overlaid([{ strokes: [], labels: figures }, ...drawn]);
}

/** `13 of 13`; where that would run into its neighbour, `13/13`. */
function shareText({ covered, hits }: NoteGroup, room_px: number): string {
  return room_px < ROOM_FOR_WORDS_px ? `${covered}/${hits.length}` : `${covered} of ${hits.length}`;
}

function drawGroup(
  group: NoteGroup,
  left: number,
  right: number,
  px_per_hit: number,
  y: (level_dB: number) => number,
  px_per_dB: number,
  bottom_y: number,
  share: string,
): Drawing {
  let clear = '';
  let covered = '';
  const breaks: Stroke[] = [];
  const places: Place[] = group.hits.map(({ clearance_dB, time_s }, i) => {
    const x = left + (i + 0.5) * px_per_hit;
    if (clearance_dB >= CLEAR_dB) clear += pathData.upright(x, y(0), y(clearance_dB));
    else covered += pathData.upright(x, y(0), Math.abs(y(clearance_dB) - y(0)) < 1 ? y(0) + 1 : y(clearance_dB));
    if (clearance_dB > MOST_dB) breaks.push(breakMark(x, y(MOST_dB) + 5, 'upright'));
    return { x, top: TOP, bottom: bottom_y, says: `${group.name}: ${sayLevel(clearance_dB)}\u00a0dB`, time_s };
  });
  const width = Math.max(1, Math.min(2, 0.7 * px_per_hit));
  const most = group.covered >= 0.5 * group.hits.length;
  return {
    strokes: [
      ...waterlineMark({ left, right, zero_y: y(0), bottom_y, px_per_dB }),
      { path: clear, ink: 'kick', width },
      { path: covered, ink: 'kick', width, dash: [2, 1.5] },
      ...breaks,
    ],
    labels: [
      { x: left, y: 12, text: group.name, ink: 'ink', strong: true },
      { x: left, y: bottom_y + 15, text: share, ink: most ? 'kick' : 'ink-2', strong: most },
    ],
    places,
  };
}
