import { isMono, type Channel, type StereoSignal } from '../signal/stereo-signal.js';
import { kWeighting } from './k-weighting.js';
import { stepStart } from './loudness.js';
import { SectionPairs } from './section-pairs.js';
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
  const left = [bass.left, others.left];
  const right = [bass.right, others.right];
  return {
    bass: energiesOf(isMono(bass) ? [[bass.left]] : [[bass.left], [bass.right]], bass.sampleRate_Hz, speakers),
    mix: energiesOf(isMono(bass) && isMono(others) ? [left] : [left, right], bass.sampleRate_Hz, speakers),
  };
}

/**
 * Energies through the K-weighting, and from there through each loudspeaker, all channels added.
 * @param channels the parts that each channel is the sum of; one channel alone counts twice.
 */
function energiesOf(
  channels: readonly (readonly Channel[])[],
  rate: number,
  speakers: readonly SmallSpeaker[],
): Float64Array[] {
  const frameCount = channels[0]![0]!.length;
  const stepCount = Math.floor((frameCount * STEPS_PER_SECOND) / rate + 1e-9);
  const energies = Array.from({ length: speakers.length + 1 }, () => new Float64Array(stepCount));
  const longest = Math.ceil(rate / STEPS_PER_SECOND) + 1;
  const sums = channels.map(() => new Float64Array(longest));
  const part = new Float64Array(longest);
  const weighting = new SectionPairs(channels.map(() => kWeighting(rate)));
  const weighted = new Float64Array(channels.length);
  const through = new SectionPairs(speakers.flatMap((speaker) => channels.map(() => speaker.sections(rate))));
  const inputs = speakers.flatMap(() => sums);
  const outputs = inputs.map(() => new Float64Array(longest));
  const heard = new Float64Array(inputs.length);
  const times = channels.length === 1 ? 2 : 1;
  for (let step = 0; step < stepCount; step++) {
    const from = stepStart(step, rate, STEPS_PER_SECOND);
    const count = stepStart(step + 1, rate, STEPS_PER_SECOND) - from;
    channels.forEach((parts, c) => loadStep(parts, from, count, sums[c]!, part));
    weighting.filter(sums, sums, count, weighted);
    through.filter(inputs, outputs, count, heard);
    weighted.forEach((energy) => (energies[0]![step]! += times * energy));
    heard.forEach((energy, i) => (energies[1 + Math.floor(i / channels.length)]![step]! += times * energy));
  }
  return energies;
}

/** The sum of a stretch of every part; beyond a part's end is silence. */
function loadStep(
  [first, ...others]: readonly Channel[],
  from: number,
  count: number,
  sum: Float64Array,
  part: Float64Array,
): void {
  sum.fill(0, 0, count);
  sum.set(first!.subarray(from, from + count));
  for (const samples of others) {
    part.fill(0, 0, count);
    part.set(samples.subarray(from, from + count));
    add(sum, part, count);
  }
}

function add(sum: Float64Array, part: Float64Array, count: number): void {
  for (let n = 0; n < count; n++) sum[n]! += part[n]!;
}
