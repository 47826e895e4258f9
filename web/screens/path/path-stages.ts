import { formatAddress } from '../../../core/treatment/paths.js';
import type { StageAddress, StageInstance, TreatedRole, Treatment } from '../../../core/treatment/treatment.js';

/** One stage where it stands in the path. */
export interface PathStage {
  readonly key: string;
  readonly address: StageAddress;
  readonly instance: StageInstance;
}

/** A role's stages by the part of the path they stand in. */
export interface PathOfRole {
  readonly role: TreatedRole;
  readonly tracks: readonly { readonly file: string; readonly stages: readonly PathStage[] }[];
  /** On the bus, before the lanes part (all of them where the role has no lanes). */
  readonly before: readonly PathStage[];
  readonly low: readonly PathStage[];
  readonly high: readonly PathStage[];
  /** On the bus, after the lanes have joined. */
  readonly after: readonly PathStage[];
  readonly splits: boolean;
}

/** The stages of a role as they stand in the treatment: what is added to a path appears by itself. */
export function pathOfRole(treatment: Treatment, role: TreatedRole): PathOfRole {
  const path = treatment[role];
  const at =
    (track: string | null, lane: StageAddress['lane']) =>
    (instance: StageInstance): PathStage => {
      const address: StageAddress = { role, track, lane, stage: instance.stage };
      return { key: formatAddress(address), address, instance };
    };
  const bus = path.stages.map(at(null, null));
  const splitAt = bus.findIndex(({ instance }) => instance.stage === 'split');
  const splits = splitAt >= 0 && path.lanes.low.length + path.lanes.high.length > 0;
  return {
    role,
    tracks: path.tracks.map(({ file, stages }) => ({ file, stages: stages.map(at(file, null)) })),
    before: splits ? bus.slice(0, splitAt + 1) : bus,
    low: path.lanes.low.map(at(null, 'low')),
    high: path.lanes.high.map(at(null, 'high')),
    after: splits ? bus.slice(splitAt + 1) : [],
    splits,
  };
}

/** Every stage of the song in the order of the signal: bass, kick, then rest. */
export function stagesInOrder(treatment: Treatment): PathStage[] {
  return (['bass', 'kick', 'rest'] as const).flatMap((role) => {
    const { tracks, before, low, high, after } = pathOfRole(treatment, role);
    return [...tracks.flatMap(({ stages }) => stages), ...before, ...low, ...high, ...after];
  });
}

/** The neighbour that a stage of a lane can change places with; null at the end of the lane, or on the bus. */
export function movedInLane(stages: readonly PathStage[], key: string, by: -1 | 1): string[] | null {
  const order = stages.map((stage) => stage.key);
  const from = order.indexOf(key);
  const to = from + by;
  if (from < 0 || to < 0 || to >= order.length) return null;
  order.splice(to, 0, ...order.splice(from, 1));
  return order;
}
