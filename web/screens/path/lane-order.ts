import type { PathStage } from './path-stages.js';

/** The order of a lane when one of its frames is let go at a place along the flow; null where nothing changes. */
export function laneOrderAt(
  lane: readonly PathStage[],
  places: ReadonlyMap<string, number>,
  key: string,
  along: number,
): string[] | null {
  const before = lane.map((stage) => stage.key);
  const at = (one: string): number => (one === key ? along : places.get(one)!);
  const after = [...before].sort((a, b) => at(a) - at(b));
  return after.every((one, i) => one === before[i]) ? null : after;
}
