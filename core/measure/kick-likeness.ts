import { filteredBothWays } from '../dsp/biquad.js';
import { butterworthBandPass } from '../dsp/butterworth.js';
import type { AnalysisChannel } from './analysis-channel.js';

/** How like another hit a hit is, and how much later than expected it lies. */
export interface Likeness {
  /** Normalised correlation, -1..1. */
  readonly share: number;
  readonly lag_s: number;
}

const SPAN_S = 0.04;
const BEFORE_S = 0.004;
const REACH_S = 0.025;

/**
 * Compares the attacks of hits in 90-1000 Hz, where a new hit stands out from the tail of the last one: the largest normalised
 * correlation of 40 ms within +-25 ms.
 */
export class AttackComparison {
  private readonly samples: Float64Array;
  private readonly span: number;
  private readonly reach: number;

  constructor(private readonly channel: AnalysisChannel) {
    const { samples, sampleRate_Hz } = channel;
    const band = butterworthBandPass(2, 90, 1000, sampleRate_Hz);
    this.samples = filteredBothWays(samples, band, Math.round(0.1 * sampleRate_Hz));
    this.span = Math.round(SPAN_S * sampleRate_Hz);
    this.reach = Math.round(REACH_S * sampleRate_Hz);
  }

  /** Likeness of the hit near `time_s` to the one at `model_s`. */
  likeness(model_s: number, time_s: number): Likeness {
    const { samples, span, reach } = this;
    const rate = this.channel.sampleRate_Hz;
    const model = Math.round((model_s - BEFORE_S) * rate);
    const at = Math.round((time_s - BEFORE_S) * rate);
    if (model < 0 || model + span > samples.length) return { share: 0, lag_s: 0 };
    const shares = new Float64Array(2 * reach + 1);
    const modelPower = this.productsAt(model, model).power;
    for (let lag = -reach; lag <= reach; lag++) {
      const from = at + lag;
      if (from < 0 || from + span > samples.length) continue;
      const { power, cross } = this.productsAt(model, from);
      const scale = Math.sqrt(modelPower * power);
      shares[lag + reach] = scale > 0 ? cross / scale : 0;
    }
    return bestOf(shares, reach, rate);
  }

  /** Power of a span, and its product with the model. */
  private productsAt(model: number, from: number): { power: number; cross: number } {
    const { samples, span } = this;
    let power = 0;
    let cross = 0;
    for (let n = 0; n < span; n++) {
      const now = samples[from + n]!;
      power += now * now;
      cross += samples[model + n]! * now;
    }
    return { power, cross };
  }
}

function bestOf(shares: Float64Array, reach: number, sampleRate_Hz: number): Likeness {
  let best = reach;
  for (let i = 0; i < shares.length; i++) if (shares[i]! > shares[best]!) best = i;
  const before = shares[best - 1] ?? 0;
  const after = shares[best + 1] ?? 0;
  const bend = before - 2 * shares[best]! + after;
  const shift = bend < 0 && best > 0 && best < shares.length - 1 ? (0.5 * (before - after)) / bend : 0;
  return { share: shares[best]!, lag_s: (best - reach + shift) / sampleRate_Hz };
}
