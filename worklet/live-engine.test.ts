import assert from 'node:assert/strict';
import { test } from 'node:test';
import { defaultTreatment, parseAddress, stageAt, withStage } from '../core/treatment/paths.js';
import type { Treatment } from '../core/treatment/treatment.js';
import type { FromEngine, ToEngine } from '../protocol/engine-messages.js';
import { LiveEngine } from './live-engine.js';
import { loopPace, shortestLoop } from './loop-arithmetic.js';

const rate = 48_000;
const chunkFrames = 12_800;
const chunkCount = 20;
const frameCount = chunkFrames * chunkCount - 1000;
const files = { kick: ['Kick.wav'], bass: ['Bass.wav'], rest: ['rest'] };
const plain = defaultTreatment({ sampleRate_Hz: rate, notes: [], hits: [], files });
const { address } = parseAddress('bass.trim');
const louder = withStage(plain, address, { ...stageAt(plain, address)!, on: true, settings: { gain_dB: 6 } });
const bassAt = (n: number) =>
  n < 0 || n >= frameCount ? 0 : Math.fround(0.3 * Math.sin((2 * Math.PI * 50 * n) / rate));

function chunkOf(index: number): ToEngine {
  const left = Float32Array.from({ length: chunkFrames }, (_, n) => bassAt(index * chunkFrames + n));
  const silent = { left: new Float32Array(chunkFrames), right: new Float32Array(chunkFrames) };
  return { kind: 'chunk', index, sound: { kick: [silent], bass: [{ left, right: left }], rest: [silent] } };
}

class Host {
  readonly told: FromEngine[] = [];
  readonly engine = new LiveEngine(rate, (message) => this.told.push(message));
  readonly treated: number[] = [];
  readonly source: number[] = [];

  constructor(treatment: Treatment, lane: 'low' | null = null) {
    const song = { kind: 'song', treatment, frameCount, chunkFrames, lane, changes: [], hashed: false } as const;
    this.engine.take(song);
    for (let index = 0; index < chunkCount; index++) this.engine.take(chunkOf(index));
  }

  run(blocks: number): this {
    const outputs = Array.from({ length: 8 }, () => [new Float32Array(128), new Float32Array(128)]);
    for (let b = 0; b < blocks; b++) {
      this.engine.process(outputs, 128);
      this.treated.push(...outputs[1]![0]!);
      this.source.push(...outputs[4]![0]!);
    }
    return this;
  }

  /** Plays from the song's start; what is heard before it begins is dropped. */
  begin(): this {
    this.run(48).engine.take({ kind: 'play' });
    this.treated.length = this.source.length = 0;
    return this;
  }

  at() {
    this.engine.report();
    const last = this.told.at(-1)!;
    assert.equal(last.kind, 'at');
    return last as Extract<FromEngine, { kind: 'at' }>;
  }
}

/** A gain moving by 6 dB over 21 ms bends a 50 Hz tone of 0.3 by 2e-5 a sample squared; one missing or doubled sample by 2e-3. */
function sharpestBend(sound: readonly number[]): number {
  let worst = 0;
  for (let n = 2; n < sound.length; n++) {
    worst = Math.max(worst, Math.abs(sound[n]! - 2 * sound[n - 1]! + sound[n - 2]!));
  }
  return worst;
}
const NO_CLICK = 1e-4;

test('from the start: source and treated are the song, sample for sample, in time with each other', () => {
  const host = new Host(plain).begin().run(200);
  for (let n = 0; n < 25_600; n++) {
    if (host.treated[n] !== bassAt(n) || host.source[n] !== bassAt(n)) assert.fail(`frame ${n}`);
  }
  assert.equal(host.at().position, 25_600);
});

test('setting changes, pause and play, jumps and a lane listened to: no click, and the place is right after each', () => {
  const host = new Host(plain).begin().run(200);
  host.engine.take({ kind: 'treatment', treatment: louder });
  host.run(100).engine.take({ kind: 'pause' });
  host.run(100);
  assert.equal(host.treated.at(-1), 0, 'silent in the pause');
  const paused = host.at().position;
  assert.equal(host.run(50).at().position, paused, 'a pause stands still');
  host.engine.take({ kind: 'play' });
  host.run(100).engine.take({ kind: 'locate', to: 100_001 });
  host.run(200);
  const { position, waiting } = host.at();
  assert.ok(!waiting && position > 100_001 && position < 100_001 + 200 * 128, `plays from the place: ${position}`);
  assert.ok(
    Math.abs(host.source.at(-1)! - bassAt(position - 1)) < 1e-7,
    'the place that is told is the place that is heard',
  );
  host.engine.take({ kind: 'lane', lane: 'low' });
  host.run(300);
  assert.ok(sharpestBend(host.treated) < NO_CLICK, `treated bends by ${sharpestBend(host.treated)}`);
  assert.ok(sharpestBend(host.source) < NO_CLICK, `source bends by ${sharpestBend(host.source)}`);
});

test('a loop comes round after exactly its length, without a gap and without a click', () => {
  // 480 whole periods of 50 Hz less a quarter: the ends do not fit, so that a plain jump would be heard.
  const loop = { from: 30_000, to: 30_000 + 24_240 };
  const host = new Host(plain).begin();
  host.engine.take({ kind: 'loop', loop });
  host.run(200);
  const first = host.at().position;
  assert.ok(first >= loop.from && first < loop.to);
  const heard = host.source.length;
  host.run(1000);
  const length = loop.to - loop.from;
  assert.equal(host.at().position, loop.from + ((first - loop.from + 128_000) % length), 'not one sample is lost');
  let silent = 0;
  for (let n = heard; n < host.source.length; n++) if (Math.abs(host.source[n]!) < 1e-3) silent += 1;
  assert.ok(silent < 0.01 * (host.source.length - heard), `${silent} silent samples`);
  assert.ok(sharpestBend(host.source.slice(heard)) < NO_CLICK);
  const round = host.source.slice(heard + 30_000, heard + 30_000 + length);
  const again = host.source.slice(heard + 30_000 + length, heard + 30_000 + 2 * length);
  assert.deepEqual(again, round, 'each round is the same');
});

test('a loop from the song’s first sample, set before anything is played: it sounds, and comes round', () => {
  const host = new Host(plain);
  const loop = { from: 0, to: 48_000 };
  host.engine.take({ kind: 'loop', loop });
  host.engine.take({ kind: 'play' });
  host.run(500);
  const { waiting, position } = host.at();
  assert.ok(!waiting && position > 0 && position < loop.to, `at ${position}`);
  assert.ok(host.source.slice(-128).some((sample) => Math.abs(sample) > 0.1));
  host.run(1000);
  assert.ok(!host.at().waiting && host.at().position < loop.to);
});

test('sound that has not arrived: silence without a click, the place kept, and on when it is there', () => {
  const host = new Host(plain);
  host.engine.take({ kind: 'drop', index: 3 });
  host.begin().run(400);
  const stuck = host.at();
  assert.ok(stuck.waiting && stuck.position < 3 * chunkFrames);
  assert.equal(host.run(20).at().position, stuck.position);
  host.engine.take(chunkOf(3));
  host.run(100);
  assert.ok(!host.at().waiting);
  assert.ok(sharpestBend(host.treated) < NO_CLICK);
});

test('the end of the song is played to its last sample, then the engine stops by itself; play begins again', () => {
  const host = new Host(plain).begin().run(Math.ceil(frameCount / 128) + 40);
  assert.equal(host.at().playing, false);
  assert.ok(Math.abs(host.treated[frameCount - 1]! - bassAt(frameCount - 1)) < 1e-7);
  assert.equal(host.treated.at(-1), 0);
  host.engine.take({ kind: 'play' });
  host.run(100);
  assert.ok(host.at().playing && host.at().position > 0 && host.at().position < 100 * 128);
});

test('pre-roll of a loop: 2 s where there is time, less in a short one, none below what the chain is late', () => {
  const after = 1024 + 2048; // the cross-fade, and what is left to spare
  assert.deepEqual(loopPace({ from: 0, to: 10 * rate }, 6000, rate), { ticks: 1, preRoll: 2 * rate });
  assert.deepEqual(loopPace({ from: 0, to: 6000 + after + rate }, 6000, rate), { ticks: 1, preRoll: rate });
  assert.deepEqual(loopPace({ from: 0, to: 24_000 }, 6000, rate), { ticks: 2, preRoll: 2 * (24_000 - after) - 6000 });
  assert.deepEqual(loopPace({ from: 0, to: 4800 }, 6000, rate), { ticks: 2, preRoll: 0 });
  assert.equal(shortestLoop(rate), 9600);
});
