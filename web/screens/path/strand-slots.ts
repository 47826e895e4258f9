import { pathOfRole, type PathOfRole, type PathStage } from './path-stages.js';
import type { Treatment } from '../../../core/treatment/treatment.js';

/** Where the stages stand along the flow, in pixels, and where bundles part and meet. */
export interface StrandSlots {
  readonly start: number;
  /** The tracks of a role have become one bundle here. */
  readonly merged: number;
  /** The lanes part from here ... and run side by side from there. */
  readonly parts: number;
  readonly parted: number;
  readonly joins: number;
  readonly joined: number;
  /** Kick and bass have met here. */
  readonly meets: number;
  readonly met: number;
  readonly end: number;
  readonly stages: ReadonlyMap<string, number>;
  readonly bass: PathOfRole;
  readonly kick: PathOfRole;
  readonly rest: PathOfRole;
}

/** Room that a bend takes beside the room of a stage that is on. */
const BEND = 0.55;
const OFF = 0.5;

interface Step {
  readonly keys: readonly string[];
  readonly weight: number;
}

/**
 * Lays the stages along the flow. Lying strands put lanes side by side, so that their stages share places; strands that run
 * down give every stage a place of its own, since all words stand to their right.
 */
export function strandSlots(treatment: Treatment, length: number, upright: boolean, lead = 0): StrandSlots {
  const bass = pathOfRole(treatment, 'bass');
  const kick = pathOfRole(treatment, 'kick');
  const rest = pathOfRole(treatment, 'rest');
  const sections = upright ? serialSections(bass, kick) : sharedSections(bass, kick);
  const steps = sections.flat();
  const unit = (length - lead) / (steps.reduce((sum, { weight }) => sum + weight, 0) + 5 * BEND);
  const stages = new Map<string, number>();
  let at = lead;
  const place = (section: readonly Step[]): void => {
    for (const { keys, weight } of section) {
      for (const key of keys) stages.set(key, at + (weight * unit) / 2);
      at += weight * unit;
    }
  };
  const bend = (): number => (at += BEND * unit);
  const [tracks = [], before = [], lanes = [], after = []] = sections;
  place(tracks);
  const merged = bend();
  place(before);
  const parts = at;
  const parted = bend();
  place(lanes);
  const joins = at;
  const joined = bend();
  place(after);
  const meets = at;
  const met = bend();
  const slots = {
    start: upright ? 0 : Math.max(0, lead - 14),
    merged,
    parts,
    parted,
    joins,
    joined,
    meets,
    met,
    end: length,
    stages,
    bass,
    kick,
    rest,
  };
  if (!upright) spreadKick(stages, kick, merged, meets);
  return slots;
}

function weightOf(stages: readonly PathStage[]): number {
  return stages.some(({ instance }) => instance.on) ? 1 : OFF;
}

/** Places that several bundles share: the first stage of every track, the second of every track, and so on. */
function shared(bundles: readonly (readonly PathStage[])[]): Step[] {
  const most = Math.max(0, ...bundles.map((bundle) => bundle.length));
  return Array.from({ length: most }, (_, i) => {
    const here = bundles.flatMap((bundle) => bundle[i] ?? []);
    return { keys: here.map(({ key }) => key), weight: weightOf(here) };
  });
}

function sharedSections(bass: PathOfRole, kick: PathOfRole): Step[][] {
  const tracks = [...bass.tracks, ...kick.tracks].map(({ stages }) => stages);
  return [shared(tracks), shared([bass.before]), shared([bass.high, bass.low]), shared([bass.after])];
}

function serialSections(bass: PathOfRole, kick: PathOfRole): Step[][] {
  const each = (stages: readonly PathStage[]): Step[] => stages.flatMap((stage) => shared([[stage]]));
  return [
    [...kick.tracks, ...bass.tracks].flatMap(({ stages }) => each(stages)),
    [...each(kick.before), ...each(bass.before)],
    [...each(bass.high), ...each(bass.low)],
    each(bass.after),
  ];
}

/** Lying, the kick's own stages spread over the length that the bass takes. */
function spreadKick(stages: Map<string, number>, kick: PathOfRole, from: number, to: number): void {
  const own = [...kick.before, ...kick.after];
  own.forEach(({ key }, i) => stages.set(key, from + ((i + 0.5) / own.length) * (to - from)));
}

/** Length that strands running down need: words of a stage that is on take four lines, of one that is off a single one. */
export function uprightLength(treatment: Treatment): number {
  const bass = pathOfRole(treatment, 'bass');
  const kick = pathOfRole(treatment, 'kick');
  const weights = serialSections(bass, kick).flat();
  return 62 * (weights.reduce((sum, { weight }) => sum + weight, 0) + 5 * BEND) + 24;
}
