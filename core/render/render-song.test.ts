import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { StereoSignal } from '../signal/stereo-signal.js';
import { SoundHash } from '../signal/sound-hash.js';
import { defaultTreatment, parseAddress, stageAt, withStage } from '../treatment/paths.js';
import { TreatmentChain } from '../treatment/treatment-chain.js';
import type { SettingValue, Treatment } from '../treatment/treatment.js';
import { PlainError } from '../units/plain-error.js';
import { SeededRandom } from '../units/seeded-random.js';
import { renderBlocks, renderSong, renderTrack, type RenderSource } from './render-song.js';
import { renderStage } from './render-stage.js';
import { renderLane, renderMeter, renderTap } from './render-tap.js';

const sampleRate_Hz = 48_000;
const frameCount = 48_000 + 333;

function noise(seed: number): StereoSignal {
  const random = new SeededRandom(seed);
  const channel = () => Float64Array.from({ length: frameCount }, () => random.between(-0.3, 0.3));
  return { left: channel(), right: channel(), sampleRate_Hz };
}

function sumOf(parts: readonly StereoSignal[], side: 'left' | 'right'): number[] {
  return Array.from({ length: frameCount }, (_, n) => parts.reduce((sum, part) => sum + part[side][n]!, 0));
}

const source: RenderSource = {
  sampleRate_Hz,
  frameCount,
  rest: noise(5),
  tracks: {
    kick: [{ file: 'Kick.wav', signal: noise(1) }],
    bass: [
      { file: 'DI.wav', signal: noise(2) },
      { file: 'Amp.wav', signal: noise(3) },
    ],
    rest: [],
  },
};
const plain = defaultTreatment({
  sampleRate_Hz,
  notes: [],
  hits: [],
  files: { kick: ['Kick.wav'], bass: ['DI.wav', 'Amp.wav'], rest: ['Keys.wav'] },
});

function set(treatment: Treatment, place: string, settings: Record<string, SettingValue> = {}): Treatment {
  const { address } = parseAddress(place);
  const old = stageAt(treatment, address)!;
  return withStage(treatment, address, { ...old, on: true, settings: { ...old.settings, ...settings } });
}

let linear = set(plain, 'bass["Amp.wav"].align', { delay_ms: 1.1 });
linear = set(linear, 'bass.centre');
linear = set(linear, 'bass.high.widen');
linear = set(linear, 'bass.trim', { gain_dB: -2 });
const treated = set(linear, 'bass.low.steady', { threshold_dBFS: -45 });

test('with nothing on, the buses are the sources to the last bit, length kept, the rest as the bed it was read to', () => {
  const { kick, bass, rest } = renderSong(source, plain, { roles: ['kick', 'bass', 'rest'] });
  assert.deepEqual(kick!.left, source.tracks.kick[0]!.signal.left);
  assert.deepEqual(rest!.right, source.rest!.right);
  assert.deepEqual(
    [...bass!.left],
    sumOf(
      source.tracks.bass.map((track) => track.signal),
      'left',
    ),
  );
});

const whole = renderSong(source, treated, { roles: ['kick', 'bass'] });

test('any block size, and the live chain, give the same bits', () => {
  assert.equal(renderSong(source, treated, { roles: ['kick', 'bass'], blockFrames: 128 }).hash, whole.hash);
  const inBlocks = new SoundHash();
  renderBlocks(source, treated, { roles: ['bass'], blockFrames: 1000 }, ({ output, frameCount: count }) =>
    inBlocks.add(output.bass!.left, output.bass!.right, 0, count),
  );
  const live = new SoundHash();
  const chain = new TreatmentChain(treated, ['kick', 'bass']);
  const block = { left: new Float64Array(128), right: new Float64Array(128) };
  const give = (role: 'kick' | 'bass', at: number) =>
    source.tracks[role].map(({ signal }) => ({
      left: Float64Array.from({ length: 128 }, (_, n) => signal.left[at + n] ?? 0),
      right: Float64Array.from({ length: 128 }, (_, n) => signal.right[at + n] ?? 0),
    }));
  const late = chain.latencySamples;
  for (let at = 0; at < frameCount + late; at += 128) {
    chain.process(
      { kick: give('kick', at), bass: give('bass', at), rest: [] },
      0,
      { kick: null, bass: block, rest: null },
      0,
      128,
    );
    live.add(block.left, block.right, Math.max(0, Math.min(128, late - at)), Math.min(128, frameCount + late - at));
  }
  assert.equal(live.digest(), inBlocks.digest());
});

test('the files of a linear path, printed singly, sum to its bus', () => {
  const bus = renderSong(source, linear, { roles: ['bass'] }).bass!;
  const singles = ['DI.wav', 'Amp.wav'].map((file) => renderTrack(source, linear, 'bass', file));
  const sum = sumOf(singles, 'left');
  sum.forEach((value, n) => assert.ok(Math.abs(value - bus.left[n]!) < 1e-12, `${n}`));
  assert.throws(() => renderTrack(source, linear, 'bass', 'no.wav'), PlainError);
});

test('the lanes as they reach the join sum to the split input where the split is zero phase, on or off', () => {
  for (const treatment of [plain, set(plain, 'bass.low.steady', { threshold_dBFS: 0 })]) {
    const before = renderTap(source, treatment, {
      address: parseAddress('bass.centre').address,
      where: 'output',
    }).signal;
    const lanes = (['low', 'high'] as const).map((lane) => renderLane(source, treatment, 'bass', lane));
    const sum = sumOf(lanes, 'right');
    sum.forEach((value, n) => assert.ok(Math.abs(value - before.right[n]!) < 1e-12, `${n}`));
    assert.ok(
      lanes[0]!.left.some((value) => Math.abs(value) > 0.01),
      'the low lane sounds',
    );
  }
});

test('a stage rendered alone on its tapped input gives the bits and the meter of the chain', () => {
  for (const place of ['bass.centre', 'bass.low.steady', 'bass.high.widen']) {
    const { address } = parseAddress(place);
    const input = renderTap(source, treated, { address, where: 'input' }, true);
    const expected = renderTap(source, treated, { address, where: 'output' }, true);
    const alone = renderStage(stageAt(treated, address)!, input, { sampleRate_Hz, notes: [], hits: [] });
    assert.equal(alone.firstSongSample, input.firstSongSample);
    const latency = input.firstSongSample - expected.firstSongSample; // the output tap begins earlier by that much
    // The last `latency` frames hear what would have come after the tapped input.
    const length = alone.signal.left.length - latency;
    assert.deepEqual(
      alone.signal.left.subarray(0, length),
      expected.signal.left.subarray(latency, latency + length),
      place,
    );
    assert.notDeepEqual(alone.signal.left, input.signal.left, place);
    if (place === 'bass.low.steady') {
      const { meter_dB, firstSongSample } = renderMeter(source, treated, address);
      assert.equal(firstSongSample, input.firstSongSample);
      // The last tick is part sound, part what would have come after.
      assert.deepEqual(alone.meter_dB.subarray(0, -1), meter_dB.subarray(0, -1));
      assert.ok(meter_dB.some((value) => value > 1));
    }
  }
});

test('an excerpt is the same stretch of the whole song, to what rings past its pre-roll', () => {
  const excerpt = renderSong(source, linear, { roles: ['bass'], from: 30_000, to: 34_000, preRoll: 20_000 }).bass!;
  const all = renderSong(source, linear, { roles: ['bass'] }).bass!;
  assert.equal(excerpt.left.length, 4000);
  excerpt.left.forEach((value, n) => assert.ok(Math.abs(value - all.left[30_000 + n]!) < 1e-12, `${n}`));
});

test('another rate, a missing file and a treated bed are refused with what to do', () => {
  assert.throws(() => renderSong({ ...source, sampleRate_Hz: 44_100 }, plain, { roles: ['bass'] }), /44100 Hz/);
  const missing = { ...source, tracks: { ...source.tracks, bass: [] } };
  assert.throws(() => renderSong(missing, plain, { roles: ['bass'] }), PlainError);
  const cleaned = set(plain, 'rest["Keys.wav"].clean');
  assert.throws(() => renderSong(source, cleaned, { roles: ['rest'] }), /Keys\.wav/);
});
