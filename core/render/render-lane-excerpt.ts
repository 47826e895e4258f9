import type { StereoSignal } from '../signal/stereo-signal.js';
import { TICK_FRAMES, type ChainOutput } from '../treatment/treatment-chain.js';
import type { Treatment } from '../treatment/treatment.js';
import { Feed, prepare, type RenderSource } from './render-song.js';

const NOTHING: ChainOutput = { kick: null, bass: null, rest: null };

/**
 * One lane of the bass as it reaches the join, song frames `from..to`, its latency taken out. `preRoll` frames before it are run
 * unheard; what rings longer than that differs from `renderLane`.
 */
export function renderLaneExcerpt(
  source: RenderSource,
  treatment: Treatment,
  lane: 'low' | 'high',
  { from, to, preRoll }: { readonly from: number; readonly to: number; readonly preRoll: number },
): StereoSignal {
  const { chain, input, treatment: used } = prepare(source, treatment, ['bass']);
  const tap = chain.tapAt({ role: 'bass', lane }, used);
  const feed = new Feed(chain, input, source.frameCount, TICK_FRAMES);
  const begin = Math.max(0, Math.floor((from - preRoll) / TICK_FRAMES) * TICK_FRAMES);
  feed.seek(begin);
  const left = new Float64Array(to - from);
  const right = new Float64Array(to - from);
  for (let at = begin - tap.latencySamples - from; at < left.length; at += TICK_FRAMES) {
    feed.run(NOTHING, TICK_FRAMES);
    for (let n = Math.max(0, -at); n < TICK_FRAMES && at + n < left.length; n++) {
      left[at + n] = tap.left[n]!;
      right[at + n] = tap.right[n]!;
    }
  }
  return { left, right, sampleRate_Hz: source.sampleRate_Hz };
}
