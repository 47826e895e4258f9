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
  /** What opens the stage: each known hit ahead of time, or the kick as it sounds; left out where nothing does. */
  readonly opens?: 'known hits' | 'kick as key';
}

const EFFECTS: Partial<Readonly<Record<StageId, StrandEffect>>> = {
  steady: { spread: 0.6 },
  widen: { spread: 1.9 },
  harmonics: { grows: 4 },
  saturate: { thickens: 1.8 },
  'make-room': { lifts: true },
};

const OPENED: Readonly<Record<string, StrandEffect>> = {
  ahead: { opens: 'known hits' },
  keyed: { opens: 'kick as key' },
};

export function effectOf({ instance }: PathStage): StrandEffect {
  if (!instance.on) return {};
  const effect = EFFECTS[instance.stage] ?? {};
  return effect.lifts === true ? { ...effect, ...OPENED[String(instance.settings['way'])] } : effect;
}
