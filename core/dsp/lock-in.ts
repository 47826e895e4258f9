import { cosCycles, sinCycles } from '../units/exact-math.js';

/** The running phase of a tone that may slide: cycles since its start, a pure function of the sample. */
export class PhaseTrack {
  private readonly cyclesAtStep: Float64Array | null;

  /**
   * @param start first sample (may lie between two).
   * @param frequency_Hz of a steady tone; where `curve_Hz` is given it counts instead, a straight line between its points.
   */
  constructor(
    readonly start: number,
    private readonly frequency_Hz: number,
    private readonly sampleRate_Hz: number,
    private readonly curve_Hz: readonly number[] | null = null,
    private readonly curveStep_s = 0,
  ) {
    this.cyclesAtStep = curve_Hz !== null && curve_Hz.length > 1 && curveStep_s > 0 ? this.summedCurve(curve_Hz) : null;
  }

  private summedCurve(curve_Hz: readonly number[]): Float64Array {
    const cycles = new Float64Array(curve_Hz.length);
    for (let i = 1; i < curve_Hz.length; i++) {
      cycles[i] = cycles[i - 1]! + 0.5 * (curve_Hz[i - 1]! + curve_Hz[i]!) * this.curveStep_s;
    }
    return cycles;
  }

  /** Cycles since the start; beyond the ends of a curve its first or last frequency goes on. */
  cycles(sample: number): number {
    const time_s = (sample - this.start) / this.sampleRate_Hz;
    if (this.cyclesAtStep === null) return this.frequency_Hz * time_s;
    const curve_Hz = this.curve_Hz!;
    const last = curve_Hz.length - 1;
    if (time_s <= 0) return curve_Hz[0]! * time_s;
    const step = Math.floor(time_s / this.curveStep_s);
    if (step >= last) return this.cyclesAtStep[last]! + curve_Hz[last]! * (time_s - last * this.curveStep_s);
    const into_s = time_s - step * this.curveStep_s;
    const slope = (curve_Hz[step + 1]! - curve_Hz[step]!) / this.curveStep_s;
    return this.cyclesAtStep[step]! + into_s * (curve_Hz[step]! + 0.5 * slope * into_s);
  }
}

/** The phasor is made afresh from the phase track every so many samples and turned evenly in between. */
const ANCHOR = 32;

/**
 * Lock-in: the complex amplitude z of a tone at a moment, so that the tone is Re(z e^(j phi)):
 *
 *   z = sum w(n) 2 x(n) e^(-j phi(n)) / sum w(n),   w = Hann over centre - half .. centre + half, cut to first..last
 *
 * With `half` a period and a half of the tone, steady harmonics of it fall on the zeros of the window.
 *
 * @param samples,mask x(n) stands at samples[n & mask]: a ring of a power of two, or a whole signal with mask -1.
 * @param order phi is this multiple of the track's phase.
 * @param result real part and imaginary part; 0 where the window holds nothing.
 */
export function lockIn(
  samples: Float64Array,
  mask: number,
  track: PhaseTrack,
  order: number,
  centre: number,
  half: number,
  first: number,
  last: number,
  result: Float64Array,
): void {
  const from = Math.ceil(first > centre - half ? first : centre - half);
  const to = Math.floor(last < centre + half ? last : centre + half);
  const turn = 2 * cosCycles(0.5 / half);
  let hann = cosCycles((0.5 * (from - centre)) / half);
  let hannBefore = cosCycles((0.5 * (from - 1 - centre)) / half);
  let sumRe = 0;
  let sumIm = 0;
  let weight = 0;
  for (let block = from; block <= to; block += ANCHOR) {
    const cycles = order * track.cycles(block);
    const step = (order * track.cycles(block + ANCHOR) - cycles) / ANCHOR;
    let re = cosCycles(cycles);
    let im = -sinCycles(cycles);
    const stepRe = cosCycles(step);
    const stepIm = -sinCycles(step);
    const end = block + ANCHOR - 1 < to ? block + ANCHOR - 1 : to;
    for (let n = block; n <= end; n++) {
      const w = 0.5 + 0.5 * hann;
      const x = w * samples[n & mask]!;
      sumRe += x * re;
      sumIm += x * im;
      weight += w;
      const turned = re * stepRe - im * stepIm;
      im = re * stepIm + im * stepRe;
      re = turned;
      const next = turn * hann - hannBefore;
      hannBefore = hann;
      hann = next;
    }
  }
  result[0] = weight > 1 ? (2 * sumRe) / weight : 0;
  result[1] = weight > 1 ? (2 * sumIm) / weight : 0;
}
