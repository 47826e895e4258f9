import type { StageId } from '../../../core/treatment/treatment.js';
import type { PathStage } from './path-stages.js';

/** What a stage that is on does to the strands behind it. A stage that is not named here passes them as they are. */
export interface StrandEffect {
  /** Factor on the gap between the strands. */
  readonly spread?: number;
  /** Fine strands that grow beside the bundle. */
  readonly grows?: number;
  /** Factor on the width of the strands. */
  readonly thickens?: number;
  /** Lifts the bundle over what the kick reaches up with. */
  readonly lifts?: boolean;
}

const EFFECTS: Partial<Readonly<Record<StageId, StrandEffect>>> = {
  steady: { spread: 0.6 },
  widen: { spread: 1.9 },
  harmonics: { grows: 4 },
  saturate: { thickens: 1.8 },
  'make-room': { lifts: true },
};

export function effectOf({ instance }: PathStage): StrandEffect {
  return instance.on ? (EFFECTS[instance.stage] ?? {}) : {};
}
