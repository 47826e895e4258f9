import { NOTHING_DRAWN, type Drawing, type Stroke } from '../../marks/drawing.js';
import { onPaper, type Knot } from './strand-course.js';
import { effectOf } from './strand-effects.js';
import type { StrandLanes } from './strand-lanes.js';
import type { StrandSlots } from './strand-slots.js';

const HITS_AT = [-12, -4, 4, 12];
const END_px = 3;

/**
 * What reaches up from the kick to where room is made: known hits as dotted uprights, one for each; the kick as a key as one line
 * that leaves it at a dot and comes in at a ring. Nothing, where nothing opens the stage.
 */
export function keyDrawing(slots: StrandSlots, lanes: StrandLanes, upright: boolean): Drawing {
  const stage = slots.bass.after.find((one) => effectOf(one).lifts === true);
  const opens = stage === undefined ? undefined : effectOf(stage).opens;
  if (stage === undefined || opens === undefined || slots.kick.tracks.length === 0) return NOTHING_DRAWN;
  const along = slots.stages.get(stage.key)!;
  const towardsKick = Math.sign(lanes.kick - lanes.bass);
  const edge = lanes.bass + towardsKick * ((lanes.bassStrands / 2) * lanes.gap + 3);
  const line = (shift: number, from: number, to: number): string => {
    const ends = [from, to].map((across) => onPaper({ along: along + shift, across }, upright).join(' '));
    return `M${ends.join('L')}`;
  };
  const [, y] = onPaper({ along, across: lanes.kick - towardsKick * 14 }, upright);
  const strokes =
    opens === 'known hits'
      ? HITS_AT.map((shift): Stroke => {
          const path = line(shift, lanes.kick - towardsKick * 8, edge);
          return { path, ink: 'kick', width: 1.3, dash: [2, 4] };
        })
      : keyLine(
          line(0, lanes.kick, edge + towardsKick * END_px),
          [
            { along, across: lanes.kick },
            { along, across: edge },
          ],
          upright,
        );
  return { strokes, labels: [{ x: along - 18, y, text: opens, ink: 'kick', axis: true, halo: true, anchor: 'end' }] };
}

function keyLine(path: string, [leaves, comesIn]: readonly [Knot, Knot], upright: boolean): Stroke[] {
  const end = (knot: Knot) => ringAt(...onPaper(knot, upright));
  return [
    { path, ink: 'kick', width: 1.3 },
    { path: end(leaves), ink: null, width: 0, fill: 'kick' },
    { path: end(comesIn), ink: 'kick', width: 1.3, fill: 'paper' },
  ];
}

function ringAt(x: number, y: number): string {
  return `M${x + END_px} ${y}a${END_px} ${END_px} 0 1 1 ${-2 * END_px} 0a${END_px} ${END_px} 0 1 1 ${2 * END_px} 0Z`;
}
