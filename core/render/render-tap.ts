import type { StereoSignal } from '../signal/stereo-signal.js';
import { formatAddress } from '../treatment/paths.js';
import { TICK_FRAMES } from '../treatment/treatment-chain.js';
import type { Tap, TapPoint } from '../treatment/treatment-chain.js';
import type { StageAddress, TreatedRole, Treatment } from '../treatment/treatment.js';
import { PlainError } from '../units/plain-error.js';
import { Feed, prepare, type RenderSource } from './render-song.js';

/** Sound at one point of the chain; its first frame is `firstSongSample` of the song. */
export interface TappedSound {
  readonly signal: StereoSignal;
  readonly firstSongSample: number;
}

/**
 * What passes one point of the chain: a stage's input or output, or a whole lane as it reaches the join, over the length of
 * the song.
 * @param lead true to begin where the chain begins, before song sample 0, with what the filters upstream ring ahead: with that,
 *   `renderStage` gives the bits of the chain.
 */
export function renderTap(source: RenderSource, treatment: Treatment, point: TapPoint, lead = false): TappedSound {
  const role = 'address' in point ? point.address.role : point.role;
  const { chain, input, treatment: used } = prepare(source, treatment, [role]);
  const tap = chain.tapAt(point, used);
  const skipped = lead ? 0 : tap.latencySamples;
  const frameCount = source.frameCount + (lead ? tap.latencySamples : 0);
  const left = new Float64Array(frameCount);
  const right = new Float64Array(frameCount);
  const feed = new Feed(chain, input, source.frameCount, TICK_FRAMES);
  feed.seek(0);
  for (let tick = 0; tick * TICK_FRAMES < skipped + frameCount; tick++) {
    feed.run({ kick: null, bass: null, rest: null }, TICK_FRAMES);
    copyTick(tap, left, right, tick * TICK_FRAMES - skipped);
  }
  return {
    signal: { left, right, sampleRate_Hz: source.sampleRate_Hz },
    firstSongSample: lead ? -tap.latencySamples : 0,
  };
}

/**
 * Reading of one stage's meter at the end of each tick of 128 frames, in dB, while the whole song passes.
 * @returns the readings, and the song sample with which the first tick begins at that stage.
 * @throws PlainError where the stage has no meter.
 */
export function renderMeter(
  source: RenderSource,
  treatment: Treatment,
  address: StageAddress,
): { readonly meter_dB: Float64Array; readonly firstSongSample: number } {
  const { chain, input } = prepare(source, treatment, [address.role]);
  const meter = chain.meterOf(address);
  if (Number.isNaN(meter()))
    throw new PlainError(formatAddress(address), 'has no meter.', 'Ask for a stage that has one.');
  const upstream = chain.upstreamSamplesOf(address);
  const meter_dB = new Float64Array(Math.ceil((source.frameCount + upstream) / TICK_FRAMES));
  const feed = new Feed(chain, input, source.frameCount, TICK_FRAMES);
  feed.seek(0);
  for (let tick = 0; tick < meter_dB.length; tick++) {
    feed.run({ kick: null, bass: null, rest: null }, TICK_FRAMES);
    meter_dB[tick] = meter();
  }
  return { meter_dB, firstSongSample: -upstream };
}

/** One lane of a role as it reaches the join, treated, over the length of the song. */
export function renderLane(
  source: RenderSource,
  treatment: Treatment,
  role: TreatedRole,
  lane: 'low' | 'high',
): StereoSignal {
  return renderTap(source, treatment, { role, lane }).signal;
}

function copyTick(tap: Tap, left: Float64Array, right: Float64Array, at: number): void {
  for (let n = Math.max(0, -at); n < TICK_FRAMES && at + n < left.length; n++) {
    left[at + n] = tap.left[n]!;
    right[at + n] = tap.right[n]!;
  }
}
