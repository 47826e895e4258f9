import type { BiquadCoefficients } from '../dsp/biquad.js';
import { exp10, power, tan } from '../units/exact-math.js';
import type { Hertz } from '../units/units.js';

/**
 * K-weighting at any rate: the shelf and the high-pass of Recommendation ITU-R BS.1770-5 (11/2023), Annex 1, Tables 1 and 2,
 * given there for 48 kHz. The two analogue prototypes behind the tables (shelf 1681.97 Hz, Q 0.7072, +4.0 dB; high-pass
 * 38.14 Hz, Q 0.5003) go through the bilinear transform pre-warped to their corners. The table's high-pass has the numerator
 * 1, -2, 1, which lifts its pass band by 0.043 dB; at every other rate the numerator is scaled to that same pass-band gain.
 */
export function kWeighting(sampleRate_Hz: Hertz): BiquadCoefficients[] {
  return [shelf(sampleRate_Hz), lowCut(sampleRate_Hz)];
}

function shelf(sampleRate_Hz: Hertz): BiquadCoefficients {
  const k = tan((Math.PI * 1681.974450955533) / sampleRate_Hz);
  const q = 0.7071752369554196;
  const high = exp10(3.999843853973347 / 20);
  const band = power(high, 0.4996667741545416);
  const a0 = 1 + k / q + k * k;
  return {
    b0: (high + (band * k) / q + k * k) / a0,
    b1: (2 * (k * k - high)) / a0,
    b2: (high - (band * k) / q + k * k) / a0,
    a1: (2 * (k * k - 1)) / a0,
    a2: (1 - k / q + k * k) / a0,
  };
}

function lowCut(sampleRate_Hz: Hertz): BiquadCoefficients {
  const k = tan((Math.PI * 38.13547087602444) / sampleRate_Hz);
  const q = 0.5003270373238773;
  const a0 = 1 + k / q + k * k;
  const gain = PASS_BAND_GAIN / a0;
  return { b0: gain, b1: -2 * gain, b2: gain, a1: (2 * (k * k - 1)) / a0, a2: (1 - k / q + k * k) / a0 };
}

/** Gain at the Nyquist frequency of 1 - 2 z^-1 + z^-2 over the denominator of BS.1770-5 Table 2. */
const PASS_BAND_GAIN = 4 / (1 + 1.99004745483398 + 0.99007225036621);
