import type { Knowledge, SongSound } from '../measure/song-sound.js';
import type { Measurements } from '../measure/measurements.js';
import type { StereoSignal } from '../signal/stereo-signal.js';
import type { Hit, Note } from '../song/song.js';
import type { SettingValue, StageAddress, StageInstance } from '../treatment/treatment.js';
import type { Wish } from '../wishes/wish.js';
import type { Trial } from './bounded-search.js';

/** The song as it came, which does not change while its treatment is solved. */
export interface SolveSong {
  readonly source: SongSound;
  readonly known: Knowledge;
  readonly measured: Measurements;
}

/** Where a stage stands while it is solved: what reaches it, and how to hear what it would do. */
export interface StagePlace {
  readonly address: StageAddress;
  readonly song: SolveSong;
  /** Every declared setting: defaults, then what the finding measured, then what was set by hand. */
  readonly settings: Readonly<Record<string, SettingValue>>;
  /** Figures that came with the finding. */
  readonly figures: StageSolution['figures'];
  /** Keys that are given, by a finding or by hand: the solver leaves them alone. */
  readonly given: ReadonlySet<string>;
  readonly wish: Wish | null;
  /** 1, or less where the stage is turned down because the whole path did harm. */
  readonly strength: number;
  /** What reaches the stage: the whole bass, a lane of it, the kick. */
  readonly input: StereoSignal;
  /** The kick as it leaves its path; null where the song has none. */
  readonly kick: StereoSignal | null;
  /** The whole bass if this stage gave `output`: the other lane and what follows as they stand. */
  bassWith(output: StereoSignal): StereoSignal;
  /** The sound of the stage with these settings and figures. On the whole input unless another is given with its lists. */
  render(
    instance: StageInstance,
    on?: { input: StereoSignal; notes: readonly Note[]; hits: readonly Hit[] },
  ): Promise<StageSound>;
  /** Told the best result of a search so far; true where the search is to end with it. */
  searched(statistic: string, best: number): Promise<boolean>;
}

/** What a rendered stage gives: its output at the place of its input, and its meter once a tick where it has one. */
export interface StageSound {
  readonly output: StereoSignal;
  readonly meter_dB: Float64Array;
}

/** What solving a stage gives. */
export interface StageSolution {
  /** False where the wish is met without it: the stage stays off. */
  readonly on: boolean;
  readonly settings: Readonly<Record<string, SettingValue>>;
  readonly figures: Readonly<Record<string, number | readonly number[]>>;
  /** The wanted statistic before and (as predicted or rendered here) after; null where the stage has none. */
  readonly now: number | null;
  readonly reached: number | null;
  readonly met: boolean | null;
  /** Every amount tried, and which setting was the amount. */
  readonly trials: readonly Trial[];
  readonly amountKey: string | null;
  /** One plain sentence where something must be said: why it was left off, what stopped it, what it costs. */
  readonly remark: string | null;
  /** The rendered output with just these settings and figures, where the solver has made it already. */
  readonly output: StereoSignal | null;
}

/** One stage's way from a wish to settings and figures. Pure: the same place gives the same solution. */
export type StageSolver = (place: StagePlace) => StageSolution | Promise<StageSolution>;

/** A solution that only takes over what was given. */
export function asGiven(
  place: StagePlace,
  figures: StageSolution['figures'] = place.figures,
  remark: string | null = null,
): StageSolution {
  return {
    on: true,
    settings: place.settings,
    figures,
    now: null,
    reached: null,
    met: null,
    trials: [],
    amountKey: null,
    remark,
    output: null,
  };
}

/** A solution that leaves the stage off and says why. */
export function leftOff(
  place: StagePlace,
  now: number | null,
  remark: string,
  met: boolean | null = true,
): StageSolution {
  return { ...asGiven(place, {}, remark), on: false, now, reached: now, met };
}

export function settingOf(place: StagePlace, key: string): number {
  return Number(place.settings[key]);
}
