import { RealFft } from '../dsp/fft.js';
import { turningPhasor } from '../dsp/turning-phasor.js';
import { isMono, type Channel, type StereoSignal } from '../signal/stereo-signal.js';
import type { FrameRange } from './note-window.js';

/**
 * Power spectra of stretches of a signal under a Hann window, both channels summed, zero-padded to `size`; scaled so that the
 * sum of the bins is the mean square of the stretch (of a steady sound), channels summed.
 */
export class NoteSpectrum {
  readonly binCount: number;
  readonly bin_Hz: number;
  /** The spectrum last taken. */
  readonly power: Float64Array;
  private readonly fft: RealFft;
  private readonly windowed: Float64Array;
  private window: Float64Array = new Float64Array(0);
  private readonly re: Float64Array;
  private readonly im: Float64Array;

  /** @param longest_s the longest stretch that will be taken. */
  constructor(
    readonly sampleRate_Hz: number,
    longest_s: number,
  ) {
    let size = 2;
    while (size < longest_s * sampleRate_Hz + 1) size *= 2;
    this.fft = new RealFft(size);
    this.binCount = this.fft.binCount;
    this.bin_Hz = sampleRate_Hz / size;
    this.windowed = new Float64Array(size);
    this.power = new Float64Array(this.binCount);
    this.re = new Float64Array(this.binCount);
    this.im = new Float64Array(this.binCount);
  }

  /** Fills `power` with the spectrum of the stretch and returns it. */
  take(signal: StereoSignal, range: FrameRange): Float64Array {
    this.power.fill(0);
    this.add(signal.left, range, isMono(signal) ? 2 : 1);
    if (!isMono(signal)) this.add(signal.right, range, 1);
    return this.power;
  }

  private add(samples: Channel, { from, to }: FrameRange, times: number): void {
    const { windowed, re, im, power, binCount } = this;
    const count = to - from;
    if (this.window.length !== count) this.window = hann(count);
    const { window } = this;
    windowed.fill(0);
    windowed.set(samples.subarray(from, to));
    for (let n = 0; n < count; n++) windowed[n]! *= window[n]!;
    this.fft.forward(windowed, re, im);
    const scale = (2 * times) / (0.375 * count * windowed.length);
    for (let k = 0; k < binCount; k++) power[k]! += scale * (re[k]! * re[k]! + im[k]! * im[k]!);
    power[0]! *= 0.5;
  }
}

/** Hann window of `count` points, no point at its ends; the mean of its squares is 3/8. */
function hann(count: number): Float64Array {
  const window = new Float64Array(count);
  turningPhasor(0.5 / count, 1 / count, count, window, new Float64Array(count));
  for (let n = 0; n < count; n++) window[n] = 0.5 - 0.5 * window[n]!;
  return window;
}
