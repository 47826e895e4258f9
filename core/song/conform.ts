import { isMono, type Channel, type StereoSignal } from '../signal/stereo-signal.js';

/** Where a stem stands on the song's clock, in samples of the song's rate. */
export interface SongPlace {
  readonly start: number;
  readonly frameCount: number;
}

/**
 * The stem as long as the song, beginning at song sample 0, at one rate already: silence before its start and after its end.
 * A stem that fits as it is comes back as it is, the same arrays. `gain` scales it (1 leaves it alone).
 */
export function placed(signal: StereoSignal, start: number, frameCount: number, gain = 1): StereoSignal {
  if (start === 0 && signal.left.length === frameCount && gain === 1) return signal;
  const left = placedChannel(signal.left, start, frameCount, gain);
  return {
    left,
    right: isMono(signal) ? left : placedChannel(signal.right, start, frameCount, gain),
    sampleRate_Hz: signal.sampleRate_Hz,
  };
}

function placedChannel(channel: Channel, start: number, frameCount: number, gain: number): Channel {
  const exact = channel instanceof Float64Array || gain !== 1;
  const output = exact ? new Float64Array(frameCount) : new Float32Array(frameCount);
  const count = Math.min(channel.length, frameCount - start);
  if (gain === 1) output.set(channel.subarray(0, count), start);
  else for (let n = 0; n < count; n++) output[start + n] = gain * channel[n]!;
  return output;
}

/** The rate most stems have; where as many have another, the higher. */
export function songRate(rates_Hz: readonly number[]): number {
  const counts = new Map<number, number>();
  for (const rate of rates_Hz) counts.set(rate, (counts.get(rate) ?? 0) + 1);
  let best = 0;
  let bestCount = 0;
  for (const [rate, count] of counts) {
    if (count > bestCount || (count === bestCount && rate > best)) {
      best = rate;
      bestCount = count;
    }
  }
  return best;
}

/** What the time references of the files say of their starts. */
export interface StartTimes {
  /** Start of each stem, in samples of its own rate, the earliest at 0; all 0 where the files do not agree to say. */
  readonly start_samples: readonly number[];
  /** True where some files say and others do not. */
  readonly mixed: boolean;
}

/**
 * Starts from the `bext` time references where every stem has one (samples since midnight, EBU Tech 3285), else every stem at 0.
 * A reference of 0 in every file is a start of 0. The references are turned to seconds to compare stems of unlike rates.
 */
export function startTimes(
  stems: readonly { timeReference_samples: number | null; sampleRate_Hz: number }[],
): StartTimes {
  const saying = stems.filter((stem) => stem.timeReference_samples !== null);
  if (saying.length < stems.length || stems.length === 0) {
    return { start_samples: stems.map(() => 0), mixed: saying.some((stem) => stem.timeReference_samples !== 0) };
  }
  const earliest_s = Math.min(...stems.map((stem) => stem.timeReference_samples! / stem.sampleRate_Hz));
  return {
    start_samples: stems.map((stem) => Math.round(stem.timeReference_samples! - earliest_s * stem.sampleRate_Hz)),
    mixed: false,
  };
}
