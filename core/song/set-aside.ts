import type { StereoSignal } from '../signal/stereo-signal.js';
import { power_to_dB } from '../units/decibels.js';

/**
 * What would count twice: a stem that is another one again (up to gain), and a bus that stands beside its own parts. Judged on
 * short blocks spread evenly over the song, both channels at full rate, so that no stem has to be held whole.
 */

/** Blocks of a stem at fixed places, left and right in one array, to compare stems by. */
export interface StemProbe {
  readonly file: string;
  readonly samples: Float64Array;
}

export const PROBE_BLOCKS = 96;
export const PROBE_FRAMES = 1024;

/** Song frames at which the probe blocks begin: evenly spread, the same for every stem of a song. */
export function probePlaces(frameCount: number): number[] {
  const room = Math.max(0, frameCount - PROBE_FRAMES);
  return Array.from({ length: PROBE_BLOCKS }, (_, i) => Math.floor((room * (i + 0.5)) / PROBE_BLOCKS));
}

/** The probe of a stem that is conformed to the song (starting at song frame 0; shorter stems count as silent beyond). */
export function probeOf(file: string, signal: StereoSignal, frameCount: number): StemProbe {
  const samples = new Float64Array(PROBE_BLOCKS * PROBE_FRAMES * 2);
  let at = 0;
  for (const place of probePlaces(frameCount)) {
    for (let n = 0; n < PROBE_FRAMES; n++) {
      samples[at++] = signal.left[place + n] ?? 0;
      samples[at++] = signal.right[place + n] ?? 0;
    }
  }
  return { file, samples };
}

/** A stem told to stand aside, and why. */
export interface SetAside {
  readonly file: string;
  readonly kind: 'duplicate' | 'bus';
  /** The stem it repeats, or the parts it sums. */
  readonly of: readonly string[];
  readonly because: string;
}

/** How much may be left when a duplicate is taken away (null after gain), and when a bus is rebuilt from its parts. */
export const DUPLICATE_RESIDUE_dB = -50;
export const BUS_RESIDUE_dB = -20;

/**
 * Finds duplicates (the longer name stands aside, `Keys copy` for `Keys`; of equal ones the later) and buses (least-squares gains over all other stems leave at most
 * BUS_RESIDUE_dB, at least two parts matter, and every gain is positive and within 12 dB of 1).
 */
export function findSetAside(probes: readonly StemProbe[]): SetAside[] {
  const aside = new Map<string, SetAside>();
  const sounding = probes.filter((probe) => energyOf(probe.samples) > 0);
  for (let i = 0; i < sounding.length; i++) {
    for (let j = i + 1; j < sounding.length; j++) {
      const [kept, copy] = originalFirst(sounding[i]!, sounding[j]!);
      if (aside.has(kept.file) || aside.has(copy.file)) continue;
      const { gain, residue_dB } = fitByGain(copy.samples, kept.samples);
      if (residue_dB <= DUPLICATE_RESIDUE_dB) {
        aside.set(copy.file, {
          file: copy.file,
          kind: 'duplicate',
          of: [kept.file],
          because: duplicateReason(kept.file, gain),
        });
      }
    }
  }
  const remaining = sounding.filter((probe) => !aside.has(probe.file));
  for (const bus of findBuses(remaining)) aside.set(bus.file, bus);
  return [...aside.values()];
}

function originalFirst(earlier: StemProbe, later: StemProbe): readonly [original: StemProbe, copy: StemProbe] {
  return earlier.file.length <= later.file.length ? [earlier, later] : [later, earlier];
}

function duplicateReason(file: string, gain: number): string {
  const gain_dB = power_to_dB(gain * gain);
  const how = gain_dB < 0.005 && gain_dB > -0.005 ? 'sample for sample' : `at ${gain_dB.toFixed(2)} dB`;
  return `the same sound as ${file}, ${how}${gain < 0 ? ', polarity turned' : ''}`;
}

/** Least-squares gain that makes `part` into `target`, and what is left, in dB of the target's energy. */
export function fitByGain(target: Float64Array, part: Float64Array): { gain: number; residue_dB: number } {
  const energy = energyOf(target);
  const gain = productOf(target, part) / energyOf(part);
  let residue = 0;
  for (let n = 0; n < target.length; n++) {
    const left = target[n]! - gain * part[n]!;
    residue += left * left;
  }
  return { gain, residue_dB: residue > 0 ? power_to_dB(residue / energy) : -300 };
}

function findBuses(probes: readonly StemProbe[]): SetAside[] {
  if (probes.length < 3) return [];
  const gram = gramOf(probes);
  // the stem with most energy can only be a bus, never a part of a quieter one: try the largest first
  const order = probes.map((_, i) => i).sort((a, b) => gram[b]![b]! - gram[a]![a]!);
  const taken = new Set<number>();
  const buses: SetAside[] = [];
  for (const target of order) {
    const parts = order.filter((i) => i !== target && !taken.has(i));
    const found = rebuild(gram, target, parts);
    if (found === null || found.parts.length < 2) continue;
    taken.add(target);
    buses.push({
      file: probes[target]!.file,
      kind: 'bus',
      of: found.parts.map((i) => probes[i]!.file),
      because: `the sum of ${found.parts.map((i) => probes[i]!.file).join(' and ')} (${found.residue_dB.toFixed(0)} dB left), so it would count twice`,
    });
  }
  return buses;
}

/** Gains of the parts that rebuild a target; parts that add nothing are left out and the rest fitted again. */
function rebuild(
  gram: readonly Float64Array[],
  target: number,
  candidates: readonly number[],
): { parts: number[]; residue_dB: number } | null {
  let parts = [...candidates];
  const energy = gram[target]![target]!;
  for (let pass = 0; pass < 3; pass++) {
    const gains = solveGains(gram, target, parts);
    if (gains === null) return null;
    const matters = parts.filter(
      (i, k) => gains[k]! > 0.25 && gains[k]! < 4 && gains[k]! * gains[k]! * gram[i]![i]! > 0.003 * energy,
    );
    if (matters.length === parts.length) {
      let residue = energy;
      parts.forEach((i, k) => (residue -= gains[k]! * gram[target]![i]!));
      const residue_dB = residue > 0 ? power_to_dB(residue / energy) : -300;
      return residue_dB <= BUS_RESIDUE_dB ? { parts, residue_dB } : null;
    }
    parts = matters;
    if (parts.length === 0) return null;
  }
  return null;
}

/** Normal equations by Cholesky, with a little on the diagonal so that like stems do not break it. */
function solveGains(gram: readonly Float64Array[], target: number, parts: readonly number[]): number[] | null {
  const n = parts.length;
  const factor = parts.map(() => new Float64Array(n));
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = gram[parts[i]!]![parts[j]!]! * (i === j ? 1 + 1e-9 : 1);
      for (let k = 0; k < j; k++) sum -= factor[i]![k]! * factor[j]![k]!;
      if (i === j) {
        if (!(sum > 0)) return null;
        factor[i]![i] = Math.sqrt(sum);
      } else factor[i]![j] = sum / factor[j]![j]!;
    }
  }
  const gains = parts.map((part) => gram[target]![part]!);
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) gains[i]! -= factor[i]![k]! * gains[k]!;
    gains[i]! /= factor[i]![i]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let k = i + 1; k < n; k++) gains[i]! -= factor[k]![i]! * gains[k]!;
    gains[i]! /= factor[i]![i]!;
  }
  return gains;
}

function gramOf(probes: readonly StemProbe[]): Float64Array[] {
  const gram = probes.map(() => new Float64Array(probes.length));
  for (let i = 0; i < probes.length; i++) {
    for (let j = 0; j <= i; j++) {
      const product = productOf(probes[i]!.samples, probes[j]!.samples);
      gram[i]![j] = product;
      gram[j]![i] = product;
    }
  }
  return gram;
}

/** How well the stems sum to a rough mix: the one gain that fits best and what is left, dB of the mix's energy. */
export function fitToMix(mix: StemProbe, stems: readonly StemProbe[]): { gain_dB: number; residue_dB: number } | null {
  const sum = new Float64Array(mix.samples.length);
  for (const stem of stems) {
    for (let n = 0; n < sum.length; n++) sum[n]! += stem.samples[n]!;
  }
  if (energyOf(sum) === 0 || energyOf(mix.samples) === 0) return null;
  const { gain, residue_dB } = fitByGain(mix.samples, sum);
  return gain === 0 ? null : { gain_dB: power_to_dB(gain * gain), residue_dB };
}

function energyOf(samples: Float64Array): number {
  return productOf(samples, samples);
}

function productOf(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let n = 0; n < a.length; n++) sum += a[n]! * b[n]!;
  return sum;
}
