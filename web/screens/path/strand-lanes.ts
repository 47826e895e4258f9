/** Where the bundles lie across the flow, and how close their strands are. */
export interface StrandLanes {
  readonly bass: number;
  readonly high: number;
  readonly low: number;
  readonly kick: number;
  readonly gap: number;
  /** How far tracks of one role lie apart before they become one bundle. */
  readonly trackStep: number;
  readonly bassStrands: number;
  readonly highStrands: number;
  readonly kickStrands: number;
}

/** Shallower strands keep the room over the lanes and give way between low lane and kick. */
export const SHALLOW_px = 300;

/** Lying strands: lanes above and below the bus, the kick at the foot. Upright: close together at the left, the kick first. */
export function strandLanes(depth: number, upright: boolean, bassTracks: number, kickTracks: number): StrandLanes {
  const bassStrands = Math.max(7, bassTracks);
  const shared = { bassStrands, highStrands: Math.floor((bassStrands * 3) / 7), kickStrands: Math.max(3, kickTracks) };
  if (upright) {
    const step = Math.min(18, 40 / Math.max(1, Math.max(bassTracks, kickTracks) - 1));
    return { ...shared, kick: 28, high: 74, bass: 94, low: 114, gap: 3, trackStep: step };
  }
  const [high, bass, low, kick] = depth < SHALLOW_px ? [0.25, 0.405, 0.555, 0.86] : [0.255, 0.42, 0.575, 0.845];
  return {
    ...shared,
    bass: depth * bass,
    high: depth * high,
    low: depth * low,
    kick: depth * kick,
    gap: 4,
    trackStep: Math.min(depth * 0.1, (depth * 0.3) / Math.max(1, Math.max(bassTracks, kickTracks) - 1)),
  };
}

/** How far the k-th of n stands from the middle of them. */
export function offset(k: number, n: number, step: number): number {
  return (k - (n - 1) / 2) * step;
}
