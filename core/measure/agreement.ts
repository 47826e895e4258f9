import { filteredBothWays } from '../dsp/biquad.js';
import { butterworthBandPass } from '../dsp/butterworth.js';
import type { StereoSignal } from '../signal/stereo-signal.js';
import { power_to_dB } from '../units/decibels.js';
import { figure, unmeasurable, type Reading, type Unmeasurable } from '../units/reading.js';
import { mean, median, percentile } from '../units/statistics.js';
import { bootstrapOfValues } from './bootstrap.js';
import { lowMid } from './low-channel.js';
import { bestSharedMend, type SharedMend } from './shared-mend.js';
import type { Knowledge, SongSound } from './song-sound.js';

/** How kick and bass add at one hit. */
export interface HitAgreement {
  readonly time_s: number;
  /** 10 lg(E(k+b) / (E(k) + E(b))), 30-150 Hz, 0..150 ms; null where one of them is silent. */
  readonly agreement_dB: number | null;
  /** The most that levels allow: +3.01 dB at equal energy. */
  readonly bound_dB: number | null;
  /** False where the bound is under 1 dB (levels over 18 dB apart): such hits are left out. */
  readonly counts: boolean;
  /** What the common mend gains at this hit; null where the hit does not count. */
  readonly gain_dB: number | null;
}

export interface AgreementMeasure {
  readonly kind: 'measured';
  readonly median_dB: Reading;
  readonly p10_dB: Reading;
  /** All counted hits' energy taken together. */
  readonly overall_dB: Reading;
  /** Share of counted hits under -2 dB, 0..1. */
  readonly shareUnderMinus2dB: Reading;
  readonly hits: readonly HitAgreement[];
  readonly countedHits: number;
  /** The one polarity and shift common to all hits that gains most; null where no hit counts. */
  readonly sharedMend: SharedMend | null;
}

/** Hits whose bound is under this say nothing. */
const LEAST_BOUND_dB = 1;
const WINDOW_S = 0.15;
/** Longer than the band-pass rings. */
const FILTER_RING_S = 0.5;

/**
 * Whether kick and bass add or cancel in the lows. Both as mono, band-passed 30-150 Hz with zero phase (Butterworth band-pass
 * of order 4 forward and backward), per hit over 0..150 ms:
 *
 *   A     = 10 lg(E(k+b) / (E(k) + E(b)))
 *   bound = 10 lg(1 + 2 sqrt(E_k E_b) / (E_k + E_b))
 *
 * Different pitches say nothing: within about 1 dB of 0 it is the beat of the two (measured for this project).
 * @returns unmeasurable without kick, bass or hits, and where the two are never within 18 dB of each other.
 */
export function measureAgreement(sound: SongSound, known: Knowledge): AgreementMeasure | Unmeasurable {
  if (sound.kick === null) return unmeasurable('no kick among the stems');
  if (sound.bass === null) return unmeasurable('no bass among the stems');
  if (known.hits.length === 0) return unmeasurable('no kick hits found');
  const kick = lowsOf(sound.kick);
  const bass = lowsOf(sound.bass);
  const frames = Math.round(WINDOW_S * kick.rate_Hz);
  const starts = known.hits.map((hit) => Math.round(hit.time_s * kick.rate_Hz));
  const energies = starts.map((start) => energiesAt(kick.samples, bass.samples, start, frames));
  const counting = energies.flatMap((energy, i) => ((boundOf(energy) ?? 0) >= LEAST_BOUND_dB ? [i] : []));
  if (counting.length === 0) return unmeasurable('kick and bass are never within 18 dB of each other in the lows');
  const countedStarts = counting.map((i) => starts[i]!);
  const sharedMend = bestSharedMend(kick.samples, bass.samples, kick.rate_Hz, countedStarts, frames);
  const gains = new Map(counting.map((hit, i) => [hit, sharedMend.gains_dB[i]!]));
  const hits = known.hits.map((hit, i): HitAgreement => ({
    time_s: hit.time_s,
    agreement_dB: agreementOf(energies[i]!),
    bound_dB: boundOf(energies[i]!),
    counts: gains.has(i),
    gain_dB: gains.get(i) ?? null,
  }));
  return { ...summaryOf(counting.map((i) => energies[i]!)), hits, countedHits: counting.length, sharedMend };
}

interface HitEnergies {
  readonly kick: number;
  readonly bass: number;
  readonly cross: number;
}

function energiesAt(kick: Float64Array, bass: Float64Array, start: number, frames: number): HitEnergies {
  let k = 0;
  let b = 0;
  let cross = 0;
  for (let n = Math.max(0, start); n < Math.min(kick.length, bass.length, start + frames); n++) {
    k += kick[n]! * kick[n]!;
    b += bass[n]! * bass[n]!;
    cross += kick[n]! * bass[n]!;
  }
  return { kick: k, bass: b, cross };
}

/** Below this share of the kick's energy a part counts as silent: what the filter rings, not sound. */
const SILENT_SHARE = 1e-12;

function agreementOf({ kick, bass, cross }: HitEnergies): number | null {
  if (!(kick > bass * SILENT_SHARE && bass > kick * SILENT_SHARE)) return null;
  return power_to_dB(Math.max(1e-12, 1 + (2 * cross) / (kick + bass)));
}

function boundOf({ kick, bass }: HitEnergies): number | null {
  if (!(kick > bass * SILENT_SHARE && bass > kick * SILENT_SHARE)) return null;
  return power_to_dB(1 + (2 * Math.sqrt(kick * bass)) / (kick + bass));
}

function summaryOf(energies: readonly HitEnergies[]) {
  const values = Float64Array.from(energies, (energy) => agreementOf(energy)!);
  const shareUnder = (from: Float64Array): number => mean(from.map((value) => (value < -2 ? 1 : 0)));
  const at = (p: number): Reading =>
    figure(
      percentile(values, p),
      bootstrapOfValues(values, (drawn) => percentile(drawn, p)),
    );
  const parts = energies.reduce((sum, { kick, bass }) => sum + kick + bass, 0);
  const cross = energies.reduce((sum, energy) => sum + energy.cross, 0);
  return {
    kind: 'measured' as const,
    median_dB: figure(median(values), bootstrapOfValues(values, median)),
    p10_dB: at(10),
    overall_dB: figure(power_to_dB(Math.max(1e-12, 1 + (2 * cross) / parts))),
    shareUnderMinus2dB: figure(shareUnder(values), bootstrapOfValues(values, shareUnder)),
  };
}

/** Mono, about 4 kHz, 30-150 Hz with zero phase. */
function lowsOf(signal: StereoSignal): { samples: Float64Array; rate_Hz: number } {
  const { samples, rate_Hz } = lowMid(signal);
  const sections = butterworthBandPass(4, 30, 150, rate_Hz);
  return { samples: filteredBothWays(samples, sections, Math.round(FILTER_RING_S * rate_Hz)), rate_Hz };
}
