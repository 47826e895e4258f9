import type { Measurements } from '../../../core/measure/measurements.js';
import type { SettingValue, Treatment } from '../../../core/treatment/treatment.js';
import type { Wish } from '../../../core/wishes/wish.js';
import type { PathSolution } from './path-solution.js';

/** What is solved at this moment. */
export interface SolvingState {
  /** The stage at work, by its address; null while the whole song is measured. */
  readonly address: string | null;
}

/** What the path screen is given, and what it asks for. Addresses are those of `core/treatment/paths.ts`. */
export interface PathScreenProps {
  readonly treatment: Treatment;
  readonly solution: PathSolution | null;
  readonly measured: Measurements;
  /** Wishes that stand, by their statistic; they may be newer than what was solved. */
  readonly wishes: ReadonlyMap<string, Wish>;
  readonly solving: SolvingState | null;
  /** The address of the open stage; null opens the first that is on. */
  readonly open: string | null;
  readonly soloed: string | null;
  /** The stage that is left out of what is heard, by its address; null for none. */
  readonly without: string | null;
  /** Addresses of settings that were set by hand. */
  readonly byHand: ReadonlySet<string>;
  /** Something was decided or set since it was solved: what was reached is not known any more. */
  readonly unsolved: boolean;
  onOpen(address: string): void;
  onSolo(target: string | null): void;
  onWithout(address: string | null): void;
  onSetting(address: string, value: SettingValue): void;
  /** A setting by hand is given back: it stands as it was found. */
  onRelease(address: string, found: SettingValue): void;
  onWish(address: string, wish: Wish): void;
  onStage(address: string, on: boolean): void;
  /** The whole lane in its new order, as addresses. */
  onOrder(addresses: readonly string[]): void;
  onSolve(): void;
}
