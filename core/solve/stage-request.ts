import type { SettingValue, StageAddress } from '../treatment/treatment.js';
import type { Wish } from '../wishes/wish.js';

/** What is asked of one stage, and why. Several findings may ask the same stage. */
export interface StageRequest {
  readonly address: StageAddress;
  /** Ids of findings, `wish` or `set`. */
  readonly because: readonly string[];
  readonly wish: Wish | null;
  /** The wish as it was asked, where `wish` was raised by what the end of the path takes from it. */
  readonly asked?: Wish;
  /** Settings that are given: measured by a finding, or set by hand. */
  readonly settings: Readonly<Record<string, SettingValue>>;
  readonly given: ReadonlySet<string>;
  /** Figures that come with the finding (the means that clean takes out). */
  readonly figures: Readonly<Record<string, number | readonly number[]>>;
}
