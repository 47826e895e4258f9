import type { Treatment } from '../../../core/treatment/treatment.js';
import type { Label, Stroke } from '../../marks/drawing.js';
import type { PathStage } from './path-stages.js';
import { acrossAt, coursePath, partOf, type Knot } from './strand-course.js';
import { keyDrawing } from './strand-key.js';
import { effectOf } from './strand-effects.js';
import { offset, strandLanes, type StrandLanes } from './strand-lanes.js';
import { strandSlots, type StrandSlots } from './strand-slots.js';

/** A stage's frame across the strands. */
export interface StrandFrame {
  readonly stage: PathStage;
  readonly along: number;
  readonly across: number;
  /** Half its length across the flow. */
  readonly half: number;
  /** On which side its words stand: above or below where the strands lie. */
  readonly side: 'above' | 'below';
}

/** A part of the bundle that can be heard alone. */
export interface StrandRegion {
  /** `bass`, `bass.low`, `bass.high`, `kick` or `low-end`. */
  readonly solo: string;
  readonly name: string;
  readonly path: string;
  readonly width: number;
}

export interface StrandPicture {
  readonly strokes: readonly Stroke[];
  readonly frames: readonly StrandFrame[];
  readonly regions: readonly StrandRegion[];
  readonly names: readonly Label[];
  readonly slots: StrandSlots;
  readonly lanes: StrandLanes;
}

export interface StrandRoom {
  /** Along the flow and across it, in pixels. */
  readonly length: number;
  readonly depth: number;
  readonly upright: boolean;
}

/** Shorter strands bear no names of tracks. */
const NAMES_FROM_px = 900;

/** Room at the start of the flow for the names of the tracks. */
const LEAD = 104;

/** The whole path as strands: a bundle that parts at the split and joins again, the kick beside it, frames across them. */
export function strandPicture(treatment: Treatment, room: StrandRoom): StrandPicture {
  const slots = strandSlots(
    treatment,
    room.length,
    room.upright,
    room.upright ? 24 : room.length < NAMES_FROM_px ? 20 : LEAD,
  );
  const lanes = strandLanes(room.depth, room.upright, slots.bass.tracks.length, slots.kick.tracks.length);
  const bass = bassCourses(slots, lanes);
  const kick = kickCourses(slots, lanes);
  const key = keyDrawing(slots, lanes, room.upright);
  const strokes = [
    ...bass.map((knots): Stroke => ({ path: coursePath(knots, room.upright), ink: 'bass', width: 1.5 })),
    ...kick.map((knots): Stroke => ({ path: coursePath(knots, room.upright), ink: 'kick', width: 1.5 })),
    ...grownStrands(slots, lanes, room.upright),
    ...thickened(slots, lanes, bass, room.upright),
    ...key.strokes,
  ];
  return {
    strokes,
    frames: framesOf(slots, lanes, bass, kick),
    regions: regionsOf(slots, lanes, room.upright),
    names: room.upright ? [] : [...namesOf(slots, lanes, room), ...key.labels],
    slots,
    lanes,
  };
}

/** The gap factor of a lane behind the place `along`: the product of what its stages so far do. */
function spreadAt(stages: readonly PathStage[], slots: StrandSlots, along: number): number {
  let factor = 1;
  for (const stage of stages) if (slots.stages.get(stage.key)! < along) factor *= effectOf(stage).spread ?? 1;
  return factor;
}

function bassCourses(slots: StrandSlots, lanes: StrandLanes): Knot[][] {
  const { bass, start, merged, parts, parted, joins, joined, meets, met, end } = slots;
  const { bassStrands: count, highStrands, gap } = lanes;
  const tracks = Math.max(1, bass.tracks.length);
  return Array.from({ length: count }, (_, i) => {
    const own = offset(i, count, gap);
    const track = Math.floor((i * tracks) / count);
    const tracked = lanes.bass + offset(track, tracks, lanes.trackStep) + trackOffset(i, count, tracks, gap);
    const trackEnd = lastTrackStage(slots) ?? start;
    const knots: Knot[] = [
      { along: start, across: tracked },
      { along: trackEnd, across: tracked },
      { along: merged, across: lanes.bass + own },
      { along: parts, across: lanes.bass + own },
    ];
    if (bass.splits) knots.push(...laneKnots(i, slots, lanes, highStrands, parted, joins));
    knots.push({ along: joined, across: lanes.bass + own }, ...lifted(slots, lanes, own));
    knots.push({ along: meets, across: lanes.bass + own }, { along: met, across: lanes.bass + own * 1.25 });
    return [...knots, { along: end, across: lanes.bass + own * 1.25 }];
  });
}

function laneKnots(
  i: number,
  slots: StrandSlots,
  lanes: StrandLanes,
  highStrands: number,
  from: number,
  to: number,
): Knot[] {
  const inHigh = i < highStrands;
  const stages = inHigh ? slots.bass.high : slots.bass.low;
  const centre = inHigh ? lanes.high : lanes.low;
  const place = (along: number): Knot => {
    const count = inHigh ? highStrands : lanes.bassStrands - highStrands;
    const k = inHigh ? i : i - highStrands;
    return { along, across: centre + offset(k, count, lanes.gap * spreadAt(stages, slots, along)) };
  };
  const changes = stages
    .filter((stage) => effectOf(stage).spread !== undefined)
    .flatMap(({ key }) => [slots.stages.get(key)!, Math.min(to, slots.stages.get(key)! + 34)]);
  return [from, ...changes, to].map(place);
}

/** Make room lifts the bus over the hits that reach up from the kick. */
function lifted(slots: StrandSlots, lanes: StrandLanes, own: number): Knot[] {
  const at = slots.bass.after.find((stage) => effectOf(stage).lifts === true);
  if (at === undefined) return [];
  const along = slots.stages.get(at.key)!;
  const up = { along, across: lanes.bass + own - Math.sign(lanes.kick - lanes.bass) * 2.2 * lanes.gap };
  const before = Math.max(slots.joined, along - 42);
  const behind = Math.min(slots.meets, along + 52);
  return [{ along: before, across: lanes.bass + own }, up, { along: behind, across: lanes.bass + own }];
}

function trackOffset(i: number, count: number, tracks: number, gap: number): number {
  const track = Math.floor((i * tracks) / count);
  const first = Math.ceil((track * count) / tracks);
  const last = Math.ceil(((track + 1) * count) / tracks) - 1;
  return offset(i - first, last - first + 1, gap);
}

function lastTrackStage(slots: StrandSlots): number | null {
  const keys = [...slots.bass.tracks, ...slots.kick.tracks].flatMap(({ stages }) => stages.map(({ key }) => key));
  return keys.length === 0 ? null : Math.max(...keys.map((key) => slots.stages.get(key)!)) + 14;
}

function kickCourses(slots: StrandSlots, lanes: StrandLanes): Knot[][] {
  const { kick, start, merged, meets, met, end } = slots;
  const { kickStrands: count, gap } = lanes;
  const tracks = Math.max(1, kick.tracks.length);
  return Array.from({ length: kick.tracks.length === 0 ? 0 : count }, (_, i) => {
    const own = lanes.kick + offset(i, count, gap);
    const track = Math.floor((i * tracks) / count);
    const step = Math.min(lanes.trackStep, 22);
    const tracked = lanes.kick + offset(track, tracks, step) + trackOffset(i, count, tracks, gap);
    const meeting = lanes.bass + offset(i, count, gap * 2.5) + gap * 0.6;
    const knots = [
      { along: start, across: tracked },
      { along: lastTrackStage(slots) ?? start, across: tracked },
      { along: merged, across: own },
      { along: meets - 30, across: own },
      { along: met, across: meeting },
    ];
    return [...knots, { along: end, across: meeting }];
  });
}

/** Harmonics grow fine strands at the edge of their lane, which join the bundle where the lane does. */
function grownStrands(slots: StrandSlots, lanes: StrandLanes, upright: boolean): Stroke[] {
  return (['high', 'low'] as const).flatMap((lane) => {
    const count = lane === 'high' ? lanes.highStrands : lanes.bassStrands - lanes.highStrands;
    return slots.bass[lane].flatMap((stage) => {
      const grows = effectOf(stage).grows ?? 0;
      const from = slots.stages.get(stage.key)!;
      const edge = lanes[lane] - (count / 2) * lanes.gap;
      return Array.from({ length: grows }, (_, k): Stroke => {
        const across = edge - 2.5 - 2.5 * k;
        const knots = [
          { along: from, across: edge + lanes.gap },
          { along: Math.min(slots.joins, from + 36 + 6 * k), across },
          { along: slots.joins, across },
          { along: slots.joined, across: lanes.bass },
        ];
        return { path: coursePath(knots, upright), ink: 'bass', width: 0.8 };
      });
    });
  });
}

/** Saturate thickens its lane from its frame on. */
function thickened(slots: StrandSlots, lanes: StrandLanes, bass: readonly Knot[][], upright: boolean): Stroke[] {
  return (['high', 'low'] as const).flatMap((lane) =>
    slots.bass[lane].flatMap((stage) => {
      const { thickens } = effectOf(stage);
      if (thickens === undefined) return [];
      const own = lane === 'high' ? bass.slice(0, lanes.highStrands) : bass.slice(lanes.highStrands);
      const from = slots.stages.get(stage.key)!;
      return own.map((knots): Stroke => {
        const path = coursePath(partOf(knots, from, slots.joined), upright);
        return { path, ink: 'bass', width: 1.5 * thickens };
      });
    }),
  );
}

function framesOf(
  slots: StrandSlots,
  lanes: StrandLanes,
  bass: readonly Knot[][],
  kick: readonly Knot[][],
): StrandFrame[] {
  const at = (stage: PathStage, courses: readonly Knot[][], side: StrandFrame['side']): StrandFrame => {
    const along = slots.stages.get(stage.key)!;
    const places = courses.map((knots) => acrossAt(knots, along));
    const low = Math.min(...places);
    const high = Math.max(...places);
    return { stage, along, across: (low + high) / 2, half: (high - low) / 2 + 9, side };
  };
  const alternate = (stages: readonly PathStage[], courses: readonly Knot[][]): StrandFrame[] =>
    stages.map((stage, i) => at(stage, courses, i % 2 === 0 ? 'above' : 'below'));
  const tracksOf = (role: 'bass' | 'kick', courses: readonly Knot[][]): StrandFrame[] =>
    slots[role].tracks.flatMap(({ stages }, t, all) => {
      const own = courses.filter((_, i) => Math.floor((i * all.length) / courses.length) === t);
      const side = all.length > 1 && t < all.length / 2 ? 'above' : 'below';
      return own.length === 0 ? [] : stages.map((stage) => at(stage, own, side));
    });
  const { highStrands } = lanes;
  return [
    ...tracksOf('bass', bass),
    ...alternate(slots.bass.before, bass),
    ...slots.bass.high.map((stage) => at(stage, bass.slice(0, highStrands), 'above')),
    ...slots.bass.low.map((stage) => at(stage, bass.slice(highStrands), 'below')),
    ...alternate(slots.bass.after, bass),
    ...(kick.length === 0 ? [] : tracksOf('kick', kick)),
    ...(kick.length === 0 ? [] : [...slots.kick.before, ...slots.kick.after].map((stage) => at(stage, kick, 'below'))),
  ];
}

function regionsOf(slots: StrandSlots, lanes: StrandLanes, upright: boolean): StrandRegion[] {
  const line = (solo: string, name: string, across: number, from: number, to: number): StrandRegion => {
    const ends = [
      { along: from, across },
      { along: to, across },
    ];
    return { solo, name, path: coursePath(ends, upright), width: 26 };
  };
  const regions = [
    line('bass', 'bass', lanes.bass, slots.merged, slots.parts),
    line('bass', 'bass, after the lanes', lanes.bass, slots.joined, slots.meets),
    line('low-end', 'kick and bass together', lanes.bass, slots.met, slots.end),
  ];
  if (slots.bass.splits) {
    regions.push(line('bass.high', 'high lane', lanes.high, slots.parted, slots.joins));
    regions.push(line('bass.low', 'low lane', lanes.low, slots.parted, slots.joins));
  }
  if (slots.kick.tracks.length > 0) regions.push(line('kick', 'kick', lanes.kick, slots.merged, slots.meets - 30));
  return regions;
}

function namesOf(slots: StrandSlots, lanes: StrandLanes, { length }: StrandRoom): Label[] {
  const names: Label[] = [];
  for (const role of ['bass', 'kick'] as const) {
    const { tracks } = slots[role];
    const step = role === 'kick' ? Math.min(lanes.trackStep, 22) : lanes.trackStep;
    if (tracks.length === 0) continue;
    const top = lanes[role] + offset(0, tracks.length, step) - 22;
    names.push({ x: 0, y: top, text: role === 'bass' ? 'Bass' : 'Kick', ink: role, strong: true });
    tracks.forEach(({ file }, t) => {
      const y = lanes[role] + offset(t, tracks.length, step);
      names.push({ x: 0, y: y + 4, text: shortFile(file), ink: 'ink-2', halo: true });
    });
  }
  if (slots.bass.splits) {
    names.push({ x: slots.parted + 2, y: lanes.high + 26, text: 'high lane', ink: 'ink-2', axis: true });
    names.push({ x: slots.parted + 2, y: lanes.low - 17, text: 'low lane', ink: 'ink-2', axis: true });
  }
  names.push({ x: length, y: lanes.bass + 36, text: 'low-end sum', ink: 'ink', strong: true, anchor: 'end' });
  return names;
}

/** A track's file without folder, number and ending, cut to what stands beside the strands. */
function shortFile(file: string): string {
  const name = file
    .replace(/^.*\//, '')
    .replace(/\.\w+$/, '')
    .replace(/^\d+[\s_-]+/, '');
  return name.length > 16 ? `${name.slice(0, 15)}…` : name;
}
