/**
 * One channel of sound: Float32 as most files are read, Float64 where a file holds more (32-bit integer, 64-bit float) or
 * where it was computed. Full scale is 1.
 */
export type Channel = Float32Array | Float64Array;

/** Two channels of equal length. A mono sound stands in both: `left` and `right` are then the very same array. */
export interface StereoSignal {
  readonly left: Channel;
  readonly right: Channel;
  readonly sampleRate_Hz: number;
}

export function isMono(signal: StereoSignal): boolean {
  return signal.left === signal.right;
}

export function frameCountOf(signal: StereoSignal): number {
  return signal.left.length;
}

export function monoSignal(samples: Channel, sampleRate_Hz: number): StereoSignal {
  return { left: samples, right: samples, sampleRate_Hz };
}

/** A view of frames `from..to`, sharing memory. */
export function sliceOf(signal: StereoSignal, from: number, to: number): StereoSignal {
  const left = signal.left.subarray(from, to);
  return { left, right: isMono(signal) ? left : signal.right.subarray(from, to), sampleRate_Hz: signal.sampleRate_Hz };
}

/** The mid signal (L + R) / 2 as Float64. */
export function midOf(signal: StereoSignal): Float64Array {
  const { left, right } = signal;
  if (isMono(signal)) return new Float64Array(left);
  const mid = new Float64Array(left.length);
  for (let i = 0; i < mid.length; i++) mid[i] = 0.5 * (left[i]! + right[i]!);
  return mid;
}

/** The side signal (L - R) / 2 as Float64. */
export function sideOf(signal: StereoSignal): Float64Array {
  const { left, right } = signal;
  const side = new Float64Array(left.length);
  if (isMono(signal)) return side;
  for (let i = 0; i < side.length; i++) side[i] = 0.5 * (left[i]! - right[i]!);
  return side;
}

/**
 * Sample-by-sample sum, padded to the longest; null where there is nothing to sum. Mono only if every part is. Added in
 * float64 and kept as float32: its rounding, 150 dB under the sum, is far below anything measured, and it halves the memory.
 */
export function sumOf(signals: readonly StereoSignal[]): StereoSignal | null {
  const first = signals[0];
  if (first === undefined) return null;
  const frameCount = signals.reduce((longest, signal) => Math.max(longest, signal.left.length), 0);
  const mono = signals.every(isMono);
  const left = sumOfChannels(
    signals.map((signal) => signal.left),
    frameCount,
  );
  const right = mono
    ? left
    : sumOfChannels(
        signals.map((signal) => signal.right),
        frameCount,
      );
  return { left, right, sampleRate_Hz: first.sampleRate_Hz };
}

/** So many frames are summed at once that they stay in the processor's own memory. */
const SUM_FRAMES = 4096;

function sumOfChannels([first, ...others]: readonly Channel[], frameCount: number): Float32Array {
  const sum = new Float32Array(frameCount);
  const total = new Float64Array(SUM_FRAMES);
  const part = new Float64Array(SUM_FRAMES);
  for (let from = 0; from < frameCount; from += SUM_FRAMES) {
    const to = Math.min(from + SUM_FRAMES, frameCount);
    total.fill(0);
    total.set(first!.subarray(from, to));
    for (const channel of others) {
      const stretch = channel.subarray(from, to);
      part.set(stretch);
      add(total, part, stretch.length);
    }
    sum.set(total.subarray(0, to - from), from);
  }
  return sum;
}

/** One kind of array, in a loop of its own: half the time of the same loop among the copies. */
function add(total: Float64Array, part: Float64Array, count: number): void {
  for (let i = 0; i < count; i++) total[i]! += part[i]!;
}

/** The sound times a gain, as Float64; mono stays mono. */
export function scaledSignal(signal: StereoSignal, gain: number): StereoSignal {
  const left = scaledChannel(signal.left, gain);
  return { ...signal, left, right: isMono(signal) ? left : scaledChannel(signal.right, gain) };
}

export function scaledChannel(channel: Channel, gain: number): Float64Array {
  const scaled = new Float64Array(channel.length);
  for (let i = 0; i < scaled.length; i++) scaled[i] = gain * channel[i]!;
  return scaled;
}
