import type { ChainInput } from '../core/treatment/treatment-chain.js';
import type { SettingChange } from '../core/treatment/setting-changes.js';
import type { Treatment } from '../core/treatment/treatment.js';

/** The name under which the audio thread's engine registers itself. */
export const ENGINE_NAME = 'keelson-engine';

/**
 * Outputs of the engine, each stereo and in time with all others. The lane is the one asked for; silent where none is.
 * Treated and source leave side by side, so that whoever listens can compare, match and subtract.
 */
export const ENGINE_OUTPUTS = [
  'treated kick',
  'treated bass',
  'treated rest',
  'source kick',
  'source bass',
  'source rest',
  'treated lane',
  'source lane',
] as const;

export type LaneName = 'low' | 'high';

/** A stretch of the song, in samples: `from` is heard, `to` is not. */
export interface Loop {
  readonly from: number;
  readonly to: number;
}

/** What the page tells the engine. Sound comes in chunks of `chunkFrames`, whole multiples of 128, the last one padded with 0. */
export type ToEngine =
  | {
      readonly kind: 'song';
      readonly treatment: Treatment;
      readonly frameCount: number;
      readonly chunkFrames: number;
      readonly lane: LaneName | null;
      /** Changes under way from the start of the song on, as renders take them. */
      readonly changes: readonly SettingChange[];
      /** Whether fingerprints of what is given out are told at the song's end. */
      readonly hashed: boolean;
    }
  | { readonly kind: 'chunk'; readonly index: number; readonly sound: ChainInput }
  | { readonly kind: 'drop'; readonly index: number }
  | { readonly kind: 'treatment'; readonly treatment: Treatment }
  | { readonly kind: 'lane'; readonly lane: LaneName | null }
  | { readonly kind: 'locate'; readonly to: number }
  | { readonly kind: 'loop'; readonly loop: Loop | null }
  | { readonly kind: 'play' }
  | { readonly kind: 'pause' };

/** What the engine tells the page. */
export type FromEngine =
  | {
      readonly kind: 'at';
      /** Song sample that is heard. */
      readonly position: number;
      /** Where the next stretch is being made ready, or null. */
      readonly preparing: number | null;
      readonly playing: boolean;
      /** Playing, but silent until sound arrives or a jump is ready. */
      readonly waiting: boolean;
    }
  /** At the song's end: fingerprints of the treated buses, float64, of every frame given out since the song was set. */
  | { readonly kind: 'hash'; readonly kick: string; readonly bass: string; readonly rest: string }
  | { readonly kind: 'refused'; readonly sentence: string };
