import type { StereoSignal } from '../signal/stereo-signal.js';
import { power_to_dB } from '../units/decibels.js';
import { figure, isMeasured, unmeasurable, type Reading, type Unmeasurable } from '../units/reading.js';
import { percentile } from '../units/statistics.js';
import { bootstrapInterval } from './bootstrap.js';
import { MidSideLows, type MidSideEnergy } from './mid-side-lows.js';
import type { SongSound } from './song-sound.js';
import { thirdOctaveEdges_Hz, thirdOctaves_Hz } from './third-octaves.js';

/** Default upper end of what should stand in the middle. */
export const MONO_FREQUENCY_Hz = 120;
const LOWEST_Hz = 20;
/** `rest` counts only where its lows are within this of kick + bass. */
const REST_COUNTS_WITHIN_dB = 20;

/** What is lost of one band when the channels are added to one. */
export interface BandFoldDown {
  readonly centre_Hz: number;
  /** Null where the band is silent (100 dB under the loudest band). */
  readonly loss_dB: number | null;
  readonly correlation: number | null;
}

export interface RoleCentre {
  readonly kind: 'measured';
  /** -10 lg(E_M / (E_M + E_S)), 20 Hz to the mono frequency; capped at 60 dB. */
  readonly foldDownLoss_dB: Reading;
  /** Correlation of left and right there, -1..1; 1 where one side is silent. */
  readonly correlation: number;
  /** Left over right there, dB, cut at +-60. */
  readonly leftOverRight_dB: number;
  /** Mean square 20 Hz to the mono frequency, both channels summed. */
  readonly lows_dBFS: number;
  readonly bands: readonly BandFoldDown[];
  /** Loss in 1 s windows every 0.25 s; only windows within 20 dB of the loudest. */
  readonly windows: { readonly time_s: readonly number[]; readonly loss_dB: readonly number[] };
  readonly worstWindow_dB: number;
  readonly p95Window_dB: number;
  /** Lowest third octave from which left and right no longer work against each other; null where they never do. */
  readonly opposedBelow_Hz: number | null;
}

export interface CentreMeasure {
  readonly kind: 'measured';
  readonly monoFrequency_Hz: number;
  /** The headline: that of the bass, or of the sum where there is no bass. */
  readonly foldDownLoss_dB: Reading;
  readonly kick: RoleCentre | Unmeasurable;
  readonly bass: RoleCentre | Unmeasurable;
  readonly rest: RoleCentre | Unmeasurable;
  readonly sum: RoleCentre | Unmeasurable;
  /** True where the rest's lows are within 20 dB of kick + bass, so that its width matters. */
  readonly restCounts: boolean;
}

/**
 * How much of the lows survives in mono (dB), M = (L + R) / 2, S = (L - R) / 2:
 *
 *   C = 10 lg(E_M / (E_M + E_S)) over the whole song's bins, 20 Hz to the mono frequency, and per third octave
 *   C = 10 lg((1 + rho) / 2) at equal channel powers;  in general 10 lg((P_L + P_R + 2 rho sqrt(P_L P_R)) / (2 (P_L + P_R)))
 *
 * Reported as a loss (-C, positive). A level difference between the channels alone reads as loss too (6.02 dB: 0.46 dB); the
 * correlation tells it apart from width. A mono stem stands in the middle and loses nothing.
 */
export function measureCentre(sound: SongSound, monoFrequency_Hz = MONO_FREQUENCY_Hz): CentreMeasure | Unmeasurable {
  const lowsOf = (signal: StereoSignal | null): MidSideLows | null => signal && MidSideLows.of(signal);
  const lows = { kick: lowsOf(sound.kick), bass: lowsOf(sound.bass), rest: lowsOf(sound.rest) };
  const kick = roleCentre(lows.kick, monoFrequency_Hz, 'no kick among the stems');
  const bass = roleCentre(lows.bass, monoFrequency_Hz, 'no bass among the stems');
  const rest = roleCentre(lows.rest, monoFrequency_Hz, 'no rest among the stems');
  const all = [lows.kick, lows.bass, lows.rest].filter((part) => part !== null);
  const sum = roleCentre(MidSideLows.sumOf(all), monoFrequency_Hz, 'no stems');
  const headline = isMeasured(bass) ? bass : sum;
  if (!isMeasured(headline)) return headline;
  return {
    kind: 'measured',
    monoFrequency_Hz,
    foldDownLoss_dB: headline.foldDownLoss_dB,
    kick,
    bass,
    rest,
    sum,
    restCounts: isMeasured(rest) && rest.lows_dBFS >= lowEnd_dBFS([kick, bass]) - REST_COUNTS_WITHIN_dB,
  };
}

function lowEnd_dBFS(roles: readonly (RoleCentre | Unmeasurable)[]): number {
  return roles.reduce((loudest, role) => (isMeasured(role) ? Math.max(loudest, role.lows_dBFS) : loudest), -Infinity);
}

function roleCentre(lows: MidSideLows | null, monoFrequency_Hz: number, reason: string): RoleCentre | Unmeasurable {
  return lows === null ? unmeasurable(reason) : centreOf(lows, monoFrequency_Hz);
}

/** The centre of one sound alone, from the spectrum of its lows. */
export function centreOf(lows: MidSideLows, monoFrequency_Hz = MONO_FREQUENCY_Hz): RoleCentre | Unmeasurable {
  const total = lows.energy(LOWEST_Hz, monoFrequency_Hz);
  if (!(total.mid + total.side > SILENT_MEAN_SQUARE * lows.frameCount))
    return unmeasurable('silent below the mono frequency');
  const { mono } = lows;
  const windows = countedWindows(lows.windows(LOWEST_Hz, monoFrequency_Hz));
  const losses = windows.map(({ energy }) => loss_dB(energy));
  const bands = bandsOf(lows);
  return {
    kind: 'measured',
    foldDownLoss_dB: mono ? figure(0, { low: 0, high: 0 }) : figure(loss_dB(total), windowInterval(windows)),
    correlation: mono ? 1 : correlationOf(total),
    leftOverRight_dB: mono ? 0 : leftOverRight_dB(total),
    lows_dBFS: power_to_dB((2 * (total.mid + total.side)) / lows.frameCount),
    bands,
    windows: { time_s: windows.map(({ time_s }) => time_s), loss_dB: losses },
    worstWindow_dB: losses.reduce((worst, loss) => Math.max(worst, loss), 0),
    p95Window_dB: percentile(losses, 95),
    opposedBelow_Hz: opposedBelow(bands, correlationOf(total)),
  };
}

/** Mean square under which lows count as silent: -120 dBFS. */
const SILENT_MEAN_SQUARE = 1e-12;
const LARGEST_LOSS_dB = 60;

/** Fold-down loss of a band, 0..60 dB. */
function loss_dB({ mid, side }: MidSideEnergy): number {
  if (mid <= (mid + side) * 1e-6) return LARGEST_LOSS_dB;
  return Math.max(0, power_to_dB((mid + side) / mid));
}

/** rho = (E_M - E_S) / sqrt(E_L E_R), E_L = E_M + E_S + 2 X, E_R = E_M + E_S - 2 X, X = sum M S. */
function correlationOf({ mid, side, cross }: MidSideEnergy): number {
  const left = mid + side + 2 * cross;
  const right = mid + side - 2 * cross;
  const silent = (mid + side) * 1e-12;
  if (left <= silent || right <= silent) return 1;
  return Math.max(-1, Math.min(1, (mid - side) / Math.sqrt(left * right)));
}

function leftOverRight_dB({ mid, side, cross }: MidSideEnergy): number {
  const least = (mid + side) * 1e-6;
  const left = Math.max(least, mid + side + 2 * cross);
  const right = Math.max(least, mid + side - 2 * cross);
  return Math.max(-60, Math.min(60, power_to_dB(left / right)));
}

function bandsOf(lows: MidSideLows): BandFoldDown[] {
  const energies = thirdOctaves_Hz(19, 520).map((centre_Hz) => {
    const [low_Hz, high_Hz] = thirdOctaveEdges_Hz(centre_Hz);
    return { centre_Hz, energy: lows.energy(low_Hz, high_Hz) };
  });
  const loudest = energies.reduce((most, { energy }) => Math.max(most, energy.mid + energy.side), 0);
  return energies.map(({ centre_Hz, energy }) => {
    const silent = energy.mid + energy.side <= loudest * 1e-10;
    return {
      centre_Hz,
      loss_dB: silent ? null : loss_dB(energy),
      correlation: silent ? null : correlationOf(energy),
    };
  });
}

/** The first third octave above the opposed ones whose correlation is 0 or more; null where the lows do not oppose. */
function opposedBelow(bands: readonly BandFoldDown[], correlation: number): number | null {
  if (correlation >= 0) return null;
  const from = bands.findIndex((band) => band.correlation !== null && band.correlation < 0);
  const clear = bands.find((band, i) => i > from && band.correlation !== null && band.correlation >= 0);
  return from < 0 ? null : (clear?.centre_Hz ?? bands[bands.length - 1]!.centre_Hz);
}

interface EnergyWindow {
  readonly time_s: number;
  readonly energy: MidSideEnergy;
}

function countedWindows(windows: readonly EnergyWindow[]): EnergyWindow[] {
  const power = ({ energy }: EnergyWindow): number => energy.mid + energy.side;
  const loudest = windows.reduce((most, window) => Math.max(most, power(window)), 0);
  return windows.filter((window) => power(window) >= loudest * 0.01);
}

/** 90 % interval over the windows, every fourth of them, so that none overlap. */
function windowInterval(windows: readonly EnergyWindow[]): { low: number; high: number } | undefined {
  const apart = windows.filter((_, i) => i % 4 === 0);
  return bootstrapInterval(apart.length, (drawn) => {
    const total = { mid: 0, side: 0, cross: 0 };
    for (const i of drawn) {
      total.mid += apart[i]!.energy.mid;
      total.side += apart[i]!.energy.side;
    }
    return loss_dB(total);
  });
}
