import { median } from '../units/statistics.js';
import type { AnalysisChannel } from './analysis-channel.js';
import type { PitchTrack } from './pitch-yin.js';

/** How far the sound departs from its own last period; value n stands at n * hop_s. */
export interface PeriodBreaks {
  readonly hop_s: number;
  /** 0 = the period goes on, 1 = what follows has nothing to do with it. NaN where no period was known before. */
  readonly share: Float64Array;
}

const HOP_S = 0.005;
const SPAN_S = 0.02;
const LOOK_BACK_FRAMES = 5;

/**
 * The share of a sound that its last period does not foretell: sum (x[t] - x[t - T])^2 / sum (x[t]^2 + x[t - T]^2) over the 20 ms
 * from t on, T the period heard just before t. A note struck again at the same pitch and level breaks the period although
 * neither spectrum nor level rises. (The normalised square difference of P. McLeod and G. Wyvill, "A Smarter Way to Find Pitch",
 * ICMC 2005, at one known lag.)
 */
export function periodBreaks({ samples, sampleRate_Hz }: AnalysisChannel, pitch: PitchTrack): PeriodBreaks {
  const count = Math.floor(samples.length / sampleRate_Hz / HOP_S) + 1;
  const share = new Float64Array(count).fill(NaN);
  const span = Math.round(SPAN_S * sampleRate_Hz);
  for (let n = 0; n < count; n++) {
    const period_s = periodBefore(pitch, n * HOP_S);
    if (period_s > 0)
      share[n] = breakAt(samples, Math.round(n * HOP_S * sampleRate_Hz), span, period_s * sampleRate_Hz);
  }
  return { hop_s: HOP_S, share };
}

/** Median period of the frames 70 to 20 ms before, 0 where none of them is voiced. */
function periodBefore({ frequency_Hz, hop_s }: PitchTrack, time_s: number): number {
  const last = Math.floor((time_s - 0.02) / hop_s);
  const voiced: number[] = [];
  for (let n = Math.max(0, last - LOOK_BACK_FRAMES + 1); n <= last && n < frequency_Hz.length; n++) {
    if (frequency_Hz[n]! > 0) voiced.push(1 / frequency_Hz[n]!);
  }
  return voiced.length > 0 ? median(voiced) : 0;
}

function breakAt(samples: Float64Array, from: number, span: number, period: number): number {
  const whole = Math.floor(period);
  const rest = period - whole;
  const first = Math.max(from, whole + 1);
  const last = Math.min(samples.length, from + span);
  let difference = 0;
  let power = 0;
  for (let n = first; n < last; n++) {
    const past = (1 - rest) * samples[n - whole]! + rest * samples[n - whole - 1]!;
    const now = samples[n]!;
    difference += (now - past) * (now - past);
    power += now * now + past * past;
  }
  return power > 1e-9 ? Math.min(1, difference / power) : 0;
}
