import { isMono, type Channel, type StereoSignal } from '../signal/stereo-signal.js';
import { kWeighting } from './k-weighting.js';
import { stepStart } from './loudness.js';
import { SectionPair } from './section-pair.js';
import { SMALL_SPEAKERS, type SmallSpeaker } from './small-speakers.js';

/** Steps of 0.1 s: the hop of the loudness blocks. */
export const STEPS_PER_SECOND = 10;

/** K-weighted sums of squares per 0.1 s; row 0 at full range, then one row per loudspeaker asked for. */
export interface SpeakerEnergies {
  readonly bass: readonly Float64Array[];
  readonly mix: readonly Float64Array[];
}

/**
 * Bass and mix (bass + others) through loudspeakers (all of them unless told), in one pass that keeps nothing longer than
 * 0.1 s. A mono sound is filtered once and counted twice.
 */
export function speakerEnergies(
  bass: StereoSignal,
  others: StereoSignal,
  speakers: readonly SmallSpeaker[] = SMALL_SPEAKERS,
): SpeakerEnergies {
  const rate = bass.sampleRate_Hz;
  const bank = (): SpeakerBank => new SpeakerBank(rate, bass.left.length, speakers);
  const ofBass = bank();
  const ofMix = bank();
  ofBass.add([bass.left], isMono(bass) ? 2 : 1);
  if (!isMono(bass)) ofBass.add([bass.right], 1);
  const mono = isMono(bass) && isMono(others);
  ofMix.add([bass.left, others.left], mono ? 2 : 1);
  if (!mono) ofMix.add([bass.right, others.right], 1);
  return { bass: ofBass.energies, mix: ofMix.energies };
}

/** Energies of channels through the K-weighting, and from there through each loudspeaker. */
class SpeakerBank {
  readonly energies: readonly Float64Array[];

  constructor(
    private readonly rate: number,
    frameCount: number,
    private readonly speakers: readonly SmallSpeaker[],
  ) {
    const stepCount = Math.floor((frameCount * STEPS_PER_SECOND) / rate + 1e-9);
    this.energies = Array.from({ length: speakers.length + 1 }, () => new Float64Array(stepCount));
  }

  /** Adds the energies of the sum of these channels, `times` over. */
  add(parts: readonly Channel[], times: number): void {
    const { rate, energies } = this;
    const weighting = new SectionPair(kWeighting(rate));
    const speakers = this.speakers.map((speaker) => new SectionPair(speaker.sections(rate)));
    const longest = Math.ceil(rate / STEPS_PER_SECOND) + 1;
    const sum = new Float64Array(longest);
    const part = new Float64Array(longest);
    const through = new Float64Array(longest);
    for (let step = 0; step < energies[0]!.length; step++) {
      const from = stepStart(step, rate, STEPS_PER_SECOND);
      const count = stepStart(step + 1, rate, STEPS_PER_SECOND) - from;
      loadStep(parts, from, count, sum, part);
      energies[0]![step]! += times * weighting.process(sum, sum, count);
      for (let s = 0; s < speakers.length; s++) {
        energies[s + 1]![step]! += times * speakers[s]!.process(sum, through, count);
      }
    }
  }
}

/** The sum of a stretch of every part; beyond a part's end is silence. */
function loadStep(parts: readonly Channel[], from: number, count: number, sum: Float64Array, part: Float64Array): void {
  sum.fill(0, 0, count);
  for (const samples of parts) {
    part.fill(0, 0, count);
    part.set(samples.subarray(from, from + count));
    for (let n = 0; n < count; n++) sum[n]! += part[n]!;
  }
}
