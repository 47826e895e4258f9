import { filteredBothWays } from '../dsp/biquad.js';
import { butterworthHighPass } from '../dsp/butterworth.js';
import { ComplexFft, RealFft } from '../dsp/fft.js';
import { power_to_dB } from '../units/decibels.js';
import { percentile } from '../units/statistics.js';
import type { AnalysisChannel } from './analysis-channel.js';

/** Pitch over time; frame n is centred on n * hop_s. */
export interface PitchTrack {
  readonly hop_s: number;
  /** Median of five frames; 0 where unvoiced. */
  readonly frequency_Hz: Float64Array;
  /** Depth of the chosen dip of d', 0 = perfectly periodic; 1 in frames too quiet to be looked at. */
  readonly dip: Float64Array;
  /** 10 lg mean square of the integration window. */
  readonly level_dB: Float64Array;
}

const HOP_S = 0.01;
const INTEGRATION_S = 0.04;
const LOWEST_HZ = 27;
const HIGHEST_HZ = 700;
const LEAST_THRESHOLD = 0.15;
const THRESHOLD_OVER_BEST = 0.2;
const DEEPEST_UNVOICED = 0.35;
const VOICED_RANGE_DB = 35;

/**
 * YIN with a threshold relative to each frame's best dip. A. de Cheveigne and H. Kawahara, "YIN, a fundamental frequency
 * estimator for speech and music", JASA 111(4), 2002: d(lag) = sum (x[j] - x[j + lag])^2, divided by its running mean. Integration
 * 40 ms, lags to 27 Hz, hop 10 ms, high-pass at 25 Hz first. The first lag under max(0.15, best + 0.20) is followed down to its
 * minimum (a fixed threshold slipped to the octave below on driven sounds; measured for this project). Voiced: dip under 0.35
 * and level within 35 dB of the 95 % level.
 */
export function pitchTrack({ samples, sampleRate_Hz }: AnalysisChannel): PitchTrack {
  const clean = filteredBothWays(samples, butterworthHighPass(2, 25, sampleRate_Hz), Math.round(0.2 * sampleRate_Hz));
  const yin = new YinFrame(sampleRate_Hz);
  const count = Math.floor(samples.length / sampleRate_Hz / HOP_S) + 1;
  const centreOf = (n: number): number => Math.round(n * HOP_S * sampleRate_Hz);
  const level_dB = new Float64Array(count);
  for (let n = 0; n < count; n++) {
    const power = yin.powerAt(clean, centreOf(n));
    level_dB[n] = power > 1e-14 ? power_to_dB(power) : -140;
  }
  const quietest_dB = Math.max(-100, percentile(level_dB, 95) - VOICED_RANGE_DB);
  const raw = new Float64Array(count);
  const dip = new Float64Array(count).fill(1);
  for (let n = 0; n < count; n++) {
    if (level_dB[n]! < quietest_dB) continue;
    yin.analyse(clean, centreOf(n));
    dip[n] = yin.dip;
    if (yin.dip < DEEPEST_UNVOICED) raw[n] = yin.frequency_Hz;
  }
  return { hop_s: HOP_S, frequency_Hz: medianOfFive(raw), dip, level_dB };
}

/** One frame's difference function and the dip chosen from it. */
class YinFrame {
  frequency_Hz = 0;
  dip = 1;

  private readonly window: number;
  private readonly longestLag: number;
  private readonly shortestLag: number;
  private readonly both: ComplexFft;
  private readonly back: RealFft;
  private readonly block: Float64Array;
  private readonly re: Float64Array;
  private readonly im: Float64Array;
  private readonly crossRe: Float64Array;
  private readonly crossIm: Float64Array;
  private readonly correlation: Float64Array;
  private readonly normalised: Float64Array;

  constructor(private readonly sampleRate_Hz: number) {
    this.window = Math.round(INTEGRATION_S * sampleRate_Hz);
    this.longestLag = Math.ceil(sampleRate_Hz / LOWEST_HZ);
    this.shortestLag = Math.floor(sampleRate_Hz / HIGHEST_HZ);
    let size = 2;
    while (size < this.window + this.longestLag + 2) size *= 2;
    this.both = new ComplexFft(size);
    this.back = new RealFft(size);
    this.block = new Float64Array(this.window + this.longestLag + 1);
    this.re = new Float64Array(size);
    this.im = new Float64Array(size);
    this.crossRe = new Float64Array(this.back.binCount);
    this.crossIm = new Float64Array(this.back.binCount);
    this.correlation = new Float64Array(size);
    this.normalised = new Float64Array(this.longestLag + 2);
  }

  /** Mean square of the integration window of the frame at `centre`. */
  powerAt(samples: Float64Array, centre: number): number {
    const from = centre - (this.block.length >> 1);
    const to = Math.min(samples.length, from + this.window);
    let power = 0;
    for (let n = Math.max(0, from); n < to; n++) power += samples[n]! * samples[n]!;
    return power / this.window;
  }

  /** Centres window and lags on sample `centre`. */
  analyse(samples: Float64Array, centre: number): void {
    const { block } = this;
    const first = centre - (block.length >> 1);
    const from = Math.max(0, first);
    const to = Math.min(samples.length, first + block.length);
    block.fill(0, 0, from - first);
    block.set(samples.subarray(from, to), from - first);
    block.fill(0, to - first);
    this.correlate();
    this.normalise();
    this.choose();
  }

  /** sum x[j] x[j + lag] over the window: the block and its window, both real, in one complex transform, then parted. */
  private correlate(): void {
    const { block, window, re, im, crossRe, crossIm } = this;
    const size = re.length;
    re.set(block);
    re.fill(0, block.length);
    im.set(block.subarray(0, window));
    im.fill(0, window);
    this.both.forward(re, im);
    for (let k = 0; k < crossRe.length; k++) {
      const below = k === 0 ? 0 : size - k;
      const wholeRe = 0.5 * (re[k]! + re[below]!);
      const wholeIm = 0.5 * (im[k]! - im[below]!);
      const partRe = 0.5 * (im[k]! + im[below]!);
      const partIm = 0.5 * (re[below]! - re[k]!);
      crossRe[k] = partRe * wholeRe + partIm * wholeIm;
      crossIm[k] = partRe * wholeIm - partIm * wholeRe;
    }
    this.back.inverse(crossRe, crossIm, this.correlation);
  }

  private normalise(): void {
    const { block, correlation, normalised, window } = this;
    let own = 0;
    for (let j = 0; j < window; j++) own += block[j]! * block[j]!;
    let shifted = own;
    let sum = 0;
    normalised[0] = 1;
    for (let lag = 1; lag < normalised.length; lag++) {
      shifted += block[lag + window - 1]! * block[lag + window - 1]! - block[lag - 1]! * block[lag - 1]!;
      const difference = Math.max(0, own + shifted - 2 * correlation[lag]!);
      sum += difference;
      normalised[lag] = sum > 0 ? (difference * lag) / sum : 1;
    }
  }

  private choose(): void {
    const { normalised, shortestLag, longestLag } = this;
    let best = 1;
    for (let lag = shortestLag; lag <= longestLag; lag++) best = Math.min(best, normalised[lag]!);
    const threshold = Math.max(LEAST_THRESHOLD, best + THRESHOLD_OVER_BEST);
    let lag = shortestLag;
    while (lag <= longestLag && normalised[lag]! >= threshold) lag++;
    while (lag < longestLag && normalised[lag + 1]! < normalised[lag]!) lag++;
    this.dip = lag <= longestLag ? normalised[lag]! : 1;
    this.frequency_Hz = lag <= longestLag ? this.sampleRate_Hz / (lag + vertex(normalised, lag)) : 0;
  }
}

/** Where the parabola through three neighbours has its lowest point, -0.5..0.5 around `at`. */
function vertex(values: Float64Array, at: number): number {
  const before = values[at - 1]!;
  const after = values[at + 1]!;
  const bend = before - 2 * values[at]! + after;
  return bend > 0 ? Math.max(-0.5, Math.min(0.5, (0.5 * (before - after)) / bend)) : 0;
}

function medianOfFive(raw: Float64Array): Float64Array {
  const smooth = new Float64Array(raw.length);
  const near = new Float64Array(5);
  for (let n = 0; n < raw.length; n++) {
    if (raw[n] === 0) continue;
    let count = 0;
    for (let k = Math.max(0, n - 2); k <= Math.min(raw.length - 1, n + 2); k++) {
      if (raw[k]! > 0) near[count++] = raw[k]!;
    }
    const ordered = near.subarray(0, count).sort();
    smooth[n] = count % 2 === 1 ? ordered[count >> 1]! : 0.5 * (ordered[count / 2 - 1]! + ordered[count / 2]!);
  }
  return smooth;
}
