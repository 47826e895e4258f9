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
 * Bass and mix (bass + others) through loudspeakers (all of them unless told), in one pass that keeps nothing longer than 0.1 s: the filters are
 * linear, so the mix is the sum of the two filtered signals.
 */
export function speakerEnergies(
  bass: StereoSignal,
  others: StereoSignal,
  speakers: readonly SmallSpeaker[] = SMALL_SPEAKERS,
): SpeakerEnergies {
  const rate = bass.sampleRate_Hz;
  const stepCount = Math.floor((bass.left.length * STEPS_PER_SECOND) / rate + 1e-9);
  const rows = speakers.length + 1;
  const energies = {
    bass: Array.from({ length: rows }, () => new Float64Array(stepCount)),
    mix: Array.from({ length: rows }, () => new Float64Array(stepCount)),
  };
  const mono = isMono(bass) && isMono(others);
  const bank = (): SpeakerBank => new SpeakerBank(rate, speakers);
  addChannel(energies, bass.left, others.left, bank, rate, mono ? 2 : 1);
  if (!mono) addChannel(energies, bass.right, others.right, bank, rate, 1);
  return energies;
}

function addChannel(
  to: SpeakerEnergies,
  bass: Channel,
  others: Channel,
  newBank: () => SpeakerBank,
  rate: number,
  times: number,
): void {
  const bassBank = newBank();
  const othersBank = newBank();
  for (let step = 0; step < to.bass[0]!.length; step++) {
    const from = stepStart(step, rate, STEPS_PER_SECOND);
    const count = stepStart(step + 1, rate, STEPS_PER_SECOND) - from;
    bassBank.process(bass, from, count);
    othersBank.process(others, from, count);
    for (let row = 0; row < to.bass.length; row++) {
      const own = bassBank.outputs[row]!;
      const other = othersBank.outputs[row]!;
      let bassSum = 0;
      let mixSum = 0;
      for (let n = 0; n < count; n++) {
        const both = own[n]! + other[n]!;
        bassSum += own[n]! * own[n]!;
        mixSum += both * both;
      }
      to.bass[row]![step]! += times * bassSum;
      to.mix[row]![step]! += times * mixSum;
    }
  }
}

/** One channel through the K-weighting, and from there through each loudspeaker. */
class SpeakerBank {
  readonly outputs: Float64Array[];
  private readonly weighting: SectionPair;
  private readonly speakers: SectionPair[];

  constructor(rate: number, speakers: readonly SmallSpeaker[]) {
    const longest = Math.ceil(rate / STEPS_PER_SECOND) + 1;
    this.outputs = Array.from({ length: speakers.length + 1 }, () => new Float64Array(longest));
    this.weighting = new SectionPair(kWeighting(rate));
    this.speakers = speakers.map((speaker) => new SectionPair(speaker.sections(rate)));
  }

  /** Fills `outputs` with the next `count` frames. */
  process(samples: Channel, from: number, count: number): void {
    const full = this.outputs[0]!;
    this.weighting.process(samples, from, full, count);
    for (let s = 0; s < this.speakers.length; s++) this.speakers[s]!.process(full, 0, this.outputs[s + 1]!, count);
  }
}
