import assert from 'node:assert/strict';
import { test } from 'node:test';
import { TICK } from '../dsp/stereo-unit.js';
import { SoundHash } from '../signal/sound-hash.js';
import type { Note } from '../song/song.js';
import { SeededRandom } from '../units/seeded-random.js';
import { defaultTreatment, isTreated, parseAddress, stageAt, withStage } from './paths.js';
import { TreatmentChain } from './treatment-chain.js';
import type { SettingValue, TreatedRole, Treatment } from './treatment.js';

const sampleRate_Hz = 48_000;
const files = { kick: ['Kick.wav'], bass: ['DI.wav', 'Bass Amp.wav'], rest: ['Keys.wav'] };
const notes: Note[] = [0.1, 0.35, 0.6].map((start_s) => ({
  start_s,
  end_s: start_s + 0.2,
  frequency_Hz: 41.2,
  level_dBFS: -15,
  harmonics_dB: [0, -6, -12, -18, -24, -30, -36, -42],
  fundamentalMissing: false,
  curve_Hz: null,
  curveStep_s: 0.01,
}));
const hits = [
  { time_s: 0.1, level_dBFS: -12 },
  { time_s: 0.6, level_dBFS: -12 },
];
const plain = defaultTreatment({ sampleRate_Hz, notes, hits, files });

function set(
  treatment: Treatment,
  place: string,
  settings: Record<string, SettingValue> = {},
  figures: Record<string, number | readonly number[]> = {},
  on = true,
): Treatment {
  const { address } = parseAddress(place);
  const old = stageAt(treatment, address)!;
  return withStage(treatment, address, { ...old, on, settings: { ...old.settings, ...settings }, figures });
}

// Everything that this chain knows, on and at work.
const busy = [
  ['kick["Kick.wav"].clean', {}, { meanLeft_FS: 0.01, meanRight_FS: -0.01 }],
  ['kick.clean', { lowCut: true, corner_Hz: 20 }, {}],
  ['kick.trim', { gain_dB: -1 }, {}],
  ['bass["Bass Amp.wav"].align', { delay_ms: -1.2345, polarity: 'inverted' }, {}],
  ['bass.align', { delay_ms: 0.77 }, {}],
  ['bass.even', {}, {}],
  ['bass.centre', { turn: 'left' }, { makeUp_dB: 1.5 }],
  ['bass.low.steady', { threshold_dBFS: -30 }, {}],
  ['bass.low.harmonics', {}, {}],
  ['bass.low.saturate', {}, {}],
  ['bass.high.widen', { sideToMid_dB: -6 }, {}],
  ['bass.high.onset', {}, {}],
  ['bass.high.saturate', {}, {}],
  ['bass.join', { low_dB: 0.5, high_dB: -0.5 }, {}],
  ['bass.trim', { gain_dB: 1 }, {}],
  ['bass.make-room', {}, { cutPerHit_dB: [4, 3] }],
  ['rest["Keys.wav"].clean', { lowCut: true }, {}],
] as const;
const everything = busy.reduce(
  (treatment, [place, settings, figures]) => set(treatment, place, settings, figures),
  plain,
);

const frameCount = TICK * 400 + 77;
function noiseBlock(seed: number) {
  const random = new SeededRandom(seed);
  const silentFrom = frameCount - 16_000; // a silent tail, where denormals would show
  const channel = () =>
    Float64Array.from({ length: frameCount }, (_, n) => (n < silentFrom ? random.between(-0.3, 0.3) : 0));
  return { left: channel(), right: channel() };
}
const input = {
  kick: [noiseBlock(1)],
  bass: [noiseBlock(2), noiseBlock(3)],
  rest: [noiseBlock(4)],
};

const emptyBlock = (length = frameCount) => ({ left: new Float64Array(length), right: new Float64Array(length) });

function run(chain: TreatmentChain, blocks: (at: number) => number, between?: (at: number) => void) {
  const output = { kick: emptyBlock(), bass: emptyBlock(), rest: emptyBlock() };
  for (let at = 0; at < frameCount;) {
    between?.(at);
    const count = Math.min(blocks(at), frameCount - at);
    chain.process(input, at, output, at, count);
    at += count;
  }
  return output;
}

function hashOf(output: ReturnType<typeof run>): string {
  const hash = new SoundHash();
  for (const block of [output.kick, output.bass, output.rest]) hash.add(block.left, block.right, 0, frameCount);
  return hash.digest();
}

const ROLES: TreatedRole[] = ['kick', 'bass', 'rest'];

function assertIsDelayedInput(output: ReturnType<typeof run>, latency: number): void {
  for (const role of ROLES) {
    for (const side of ['left', 'right'] as const) {
      const expected = input[role]
        .map((block) => block[side])
        .reduce((sum, one) => sum.map((value, n) => value + one[n]!));
      const got = output[role][side];
      for (let n = 0; n < frameCount; n++) {
        if (got[n] !== (n < latency ? 0 : expected[n - latency])) assert.fail(`${role} ${side} ${n}: ${got[n]}`);
      }
    }
  }
}

test('everything off: each bus is the sum of its files to the last bit, all equally late', () => {
  const chain = new TreatmentChain(plain);
  assertIsDelayedInput(
    run(chain, () => 512),
    chain.latencySamples,
  );
  for (const role of ROLES) assert.equal(isTreated(plain, role), false);
});

test('split, lanes and stages really running but set to change nothing: still the input to the last bit', () => {
  let idle = set(plain, 'bass["DI.wav"].align');
  idle = set(idle, 'bass.clean');
  idle = set(idle, 'bass.centre', { amount_percent: 0 });
  idle = set(idle, 'bass.join');
  idle = set(idle, 'bass.trim');
  idle = set(idle, 'bass.high.widen', { sideToMid_dB: -30 }, { sideToMidBefore_dB: 0 }); // there already: gain 0
  const chain = new TreatmentChain(idle);
  assert.equal(stageAt(idle, parseAddress('bass.split').address)!.on, true, 'a lane stage switches the split on');
  assertIsDelayedInput(
    run(chain, () => 512),
    chain.latencySamples,
  );
});

test('latency does not depend on settings or on what is run', () => {
  const { latencySamples } = new TreatmentChain(plain);
  assert.equal(new TreatmentChain(everything).latencySamples, latencySamples);
  for (const role of ROLES) assert.equal(new TreatmentChain(everything, [role]).latencySamples, latencySamples);
});

const whole = run(new TreatmentChain(everything), () => 4096);

test('blocks of 128, 4096 and odd sizes give one hash, also with settings changing under way', () => {
  assert.equal(hashOf(run(new TreatmentChain(everything), () => 128)), hashOf(whole));
  const random = new SeededRandom(9);
  assert.equal(
    hashOf(run(new TreatmentChain(everything), () => 1 + Math.floor(random.between(0, 700)))),
    hashOf(whole),
  );
  assert.notEqual(hashOf(run(new TreatmentChain(plain), () => 128)), hashOf(whole));
  const changed = [1280, 4096].map((size) => {
    const chain = new TreatmentChain(plain);
    const change = (at: number) => at === 20_480 && assert.ok(chain.configure(everything));
    return hashOf(run(chain, (at) => (at < 20_480 ? Math.min(size, 20_480 - at) : size), change));
  });
  assert.equal(changed[0], changed[1]);
});

test('no output is NaN, a denormal or under 1e-30', () => {
  for (const role of ROLES) {
    for (const value of [...whole[role].left, ...whole[role].right]) {
      if (!(value === 0 || Math.abs(value) >= 1e-30)) assert.fail(`${role}: ${value}`);
    }
  }
});

test('a chain that was used and sought to the start sounds like a new one', () => {
  const chain = new TreatmentChain(everything);
  run(chain, () => 1000);
  chain.seek(0);
  assert.equal(hashOf(run(chain, () => 333)), hashOf(whole));
});

test('a change that needs a new chain is refused and changes nothing', () => {
  const chain = new TreatmentChain(everything);
  const otherOrder = { ...everything, bass: { ...everything.bass, stages: [...everything.bass.stages].reverse() } };
  assert.equal(chain.configure(otherOrder), false);
  assert.equal(chain.configure({ ...everything, hits: hits.slice(1) }), false);
  assert.equal(chain.configure(structuredClone(everything)), true, 'lists are compared by what they say');
  assert.equal(hashOf(run(chain, () => 512)), hashOf(whole));
});

test('switching everything on and off under way makes no click', () => {
  // A 50 Hz tone on everything: any step shows as energy above the tone's own slope.
  const tone = Float64Array.from(
    { length: frameCount },
    (_, n) => 0.3 * Math.sin((2 * Math.PI * 50 * n) / sampleRate_Hz),
  );
  const tones = {
    kick: [{ left: tone, right: tone }],
    bass: [{ left: tone, right: tone }, emptyBlock()],
    rest: [emptyBlock()],
  };
  const chain = new TreatmentChain(plain);
  const output = { kick: emptyBlock(), bass: emptyBlock(), rest: emptyBlock() };
  const audible = busy
    .filter(([place]) => !place.includes('clean'))
    .reduce((t, [place, s, f]) => set(t, place, s, f), plain);
  for (let at = 0; at < frameCount; at += 512) {
    if (at === 10_240) chain.configure(audible);
    if (at === 35_840) chain.configure(plain);
    chain.process(tones, at, output, at, Math.min(512, frameCount - at));
  }
  // Second difference of 0.3 sin at 50 Hz is 0.3 (2 pi 50 / fs)^2 = 1.3e-5; a gain moving by 6 dB over 21 ms adds about 2e-5;
  // a step of one sample would be 1e-2 and more.
  const { left } = output.bass;
  let worst = 0;
  for (let n = chain.latencySamples + 2; n < frameCount; n++) {
    worst = Math.max(worst, Math.abs(left[n]! - 2 * left[n - 1]! + left[n - 2]!));
  }
  assert.ok(worst < 2e-4, `second difference ${worst}`);
});
