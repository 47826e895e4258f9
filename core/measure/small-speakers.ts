import { powerResponse, type BiquadCoefficients } from '../dsp/biquad.js';
import { butterworthHighPass, butterworthLowPass, firstOrderHighPass } from '../dsp/butterworth.js';

/**
 * Models of small loudspeakers by their low end: bilinear Butterworth filters. The corners are choices inside the ranges of
 * common practice (phones 500-900 Hz, laptops 150-300 Hz, small mono speakers 60-150 Hz); a 10-inch tablet measures 630 Hz
 * (Chang and Wang, Journal of Mechanics, 2018). The earbud is fitted to a published leak of 1 mm: -40 dB at 20 Hz, -14 dB at
 * 125 Hz. No model folds to mono; what mono costs is the centre's business.
 */
export type SpeakerId = 'phone' | 'laptop' | 'earbud' | 'monoSpeaker';

export interface SmallSpeaker {
  readonly id: SpeakerId;
  readonly name: string;
  readonly help: string;
  /** Two sections each. */
  sections(sampleRate_Hz: number): BiquadCoefficients[];
}

export const SMALL_SPEAKERS: readonly SmallSpeaker[] = [
  {
    id: 'phone',
    name: 'phone',
    help: '24 dB per octave below 600 Hz. Mostly the slope of the filter is measured: information only.',
    sections: (rate) => butterworthHighPass(4, 600, rate),
  },
  {
    id: 'laptop',
    name: 'laptop',
    help: '24 dB per octave below 200 Hz. Carry is judged here.',
    sections: (rate) => butterworthHighPass(4, 200, rate),
  },
  {
    id: 'earbud',
    name: 'earbud, seal lost',
    help: '6 dB per octave below 500 Hz and again below 86 Hz.',
    sections: (rate) => [firstOrderHighPass(500, rate), firstOrderHighPass(86, rate)],
  },
  {
    id: 'monoSpeaker',
    name: 'small mono speaker',
    help: '12 dB per octave below 120 Hz and above 8 kHz.',
    sections: (rate) => [
      ...butterworthHighPass(2, 120, rate),
      ...butterworthLowPass(2, Math.min(8000, 0.4 * rate), rate),
    ],
  },
];

/** |H|^2 of a model at each of the frequencies `k * step_Hz`, k = 0..count-1. */
export function speakerPowers(
  speaker: SmallSpeaker,
  step_Hz: number,
  count: number,
  sampleRate_Hz: number,
): Float64Array {
  const sections = speaker.sections(sampleRate_Hz);
  return Float64Array.from({ length: count }, (_, k) => powerResponse(sections, k * step_Hz, sampleRate_Hz));
}
