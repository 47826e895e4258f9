import assert from 'node:assert/strict';
import { test } from 'node:test';
import { FADE_FRAMES } from '../core/dsp/cross-fade.js';
import { formatAddress, withStage } from '../core/treatment/paths.js';
import type { StageAddress, StageInstance, TreatedRole, Treatment } from '../core/treatment/treatment.js';
import { ENGINE_OUTPUTS, type FromEngine, type ToEngine } from '../protocol/engine-messages.js';
import { busyDemoTreatment, plainDemoTreatment } from '../tests/browser/demo-piece.js';
import { LiveEngine } from './live-engine.js';

/*
 * A steady 40 Hz tone on every bass track, through every stage that there is. What is switched passes from one smooth sound A to
 * another, B, by a raised cosine s of FADE_FRAMES: y = A + s (B - A). So its second difference, which is what a click is, is at
 * most that of A or B, and 2 |s'| |A' - B'| + |s''| |A - B| beside, with |s'| <= pi / 2N and |s''| <= pi^2 / 2N^2. The sounds'
 * own peaks, steps and bends are read from a run in which nothing is switched.
 */

const rate = 48_000;
const frameCount = 5 * rate;
const chunkFrames = 24_960; // a multiple of 128
const period = rate / 40;
/** Whole periods, so that the source is one tone through the seam. */
const loop = { from: 20 * period, to: 110 * period };
const busy = busyDemoTreatment(rate);
const WATCHED = ['treated bass', 'source bass', 'treated lane', 'source lane'] as const;
type Watched = (typeof WATCHED)[number];

function toneChunk(index: number): ToEngine {
  const tone = (turn: number) =>
    Float32Array.from({ length: chunkFrames }, (_, n) => {
      const at = index * chunkFrames + n;
      return at < frameCount ? 0.2 * Math.sin(2 * Math.PI * (at / period + turn)) : 0;
    });
  const silent = () => ({ left: new Float32Array(chunkFrames), right: new Float32Array(chunkFrames) });
  const bass = busy.bass.tracks.map(() => ({ left: tone(0), right: tone(0.05) }));
  return {
    kind: 'chunk',
    index,
    sound: { kick: busy.kick.tracks.map(silent), bass, rest: busy.rest.tracks.map(silent) },
  };
}

class Listener {
  readonly told: FromEngine[] = [];
  readonly heard: Record<Watched, number[]> = {
    'treated bass': [],
    'source bass': [],
    'treated lane': [],
    'source lane': [],
  };
  private readonly engine = new LiveEngine(rate, (message) => this.told.push(message));
  private readonly outputs = ENGINE_OUTPUTS.map(() => [new Float32Array(128), new Float32Array(128)]);

  constructor(treatment: Treatment) {
    const rest = { lane: 'low', changes: [], hashed: false } as const;
    this.engine.take({ kind: 'song', treatment, frameCount, chunkFrames, ...rest });
    for (let index = 0; index * chunkFrames < frameCount; index++) this.engine.take(toneChunk(index));
    this.take({ kind: 'loop', loop }).run(300).take({ kind: 'play' }).run(80).forget();
  }

  take(message: ToEngine): this {
    this.engine.take(message);
    return this;
  }

  run(blocks: number): this {
    for (let b = 0; b < blocks; b++) {
      this.engine.process(this.outputs, 128);
      for (const name of WATCHED) this.heard[name].push(...this.outputs[ENGINE_OUTPUTS.indexOf(name)]![0]!);
    }
    return this;
  }

  forget(): void {
    for (const name of WATCHED) this.heard[name].length = 0;
  }

  get position(): number {
    this.engine.report();
    const last = this.told.at(-1)!;
    assert.equal(last.kind, 'at');
    return (last as Extract<FromEngine, { kind: 'at' }>).position;
  }
}

interface Smoothness {
  readonly peak: number;
  readonly step: number;
  readonly bend: number;
}

function smoothnessOf(sound: readonly number[]): Smoothness {
  let peak = 0;
  let step = 0;
  let bend = 0;
  for (let n = 2; n < sound.length; n++) {
    const [before, last, now] = [sound[n - 2]!, sound[n - 1]!, sound[n]!];
    peak = Math.max(peak, Math.abs(now));
    step = Math.max(step, Math.abs(now - last));
    bend = Math.max(bend, Math.abs(now - 2 * last + before));
  }
  return { peak, step, bend };
}

/**
 * The sharpest bend that a fade between two such sounds may make; twice that, since no stage at work here moves the level by
 * more than 6 dB. What is left is still 80 dB under the tone.
 */
function mostBend({ peak, step, bend }: Smoothness): number {
  const slope = Math.PI / (2 * FADE_FRAMES);
  const curve = Math.PI ** 2 / (2 * FADE_FRAMES ** 2);
  return 2 * (bend + 2 * slope * 2 * step + curve * 2 * peak);
}

/** Samples in a row that are as good as nothing: a tone of 40 Hz passes 1e-6 in one. */
function longestGap(sound: readonly number[]): number {
  let longest = 0;
  let run = 0;
  for (const value of sound) {
    run = Math.abs(value) < 1e-6 ? run + 1 : 0;
    longest = Math.max(longest, run);
  }
  return longest;
}

/** Every stage of a role that is on, with its address. */
function stagesAtWork(treatment: Treatment, role: TreatedRole) {
  const { tracks, stages, lanes } = treatment[role];
  const listed = (track: string | null, lane: StageAddress['lane'], list: readonly StageInstance[]) =>
    list
      .filter(({ on }) => on)
      .map((instance) => ({ address: { role, track, lane, stage: instance.stage }, instance }));
  return [
    ...tracks.flatMap(({ file, stages: own }) => listed(file, null, own)),
    ...listed(null, null, stages),
    ...listed(null, 'low', lanes.low),
    ...listed(null, 'high', lanes.high),
  ];
}

const steady = new Listener(busy).run(1000);
const own = Object.fromEntries(WATCHED.map((name) => [name, smoothnessOf(steady.heard[name])])) as Record<
  Watched,
  Smoothness
>;

function assertSmooth(listener: Listener, what: string, watched: readonly Watched[] = WATCHED): void {
  for (const name of watched) {
    const { bend } = smoothnessOf(listener.heard[name]);
    assert.ok(bend < mostBend(own[name]), `${what}: ${name} bends by ${bend}, may by ${mostBend(own[name])}`);
  }
}

function assertNoGap(listener: Listener, what: string, watched: readonly Watched[]): void {
  for (const name of watched) {
    const gap = longestGap(listener.heard[name]);
    assert.ok(gap < 8, `${what}: ${name} is silent for ${gap} samples`);
  }
}

test('each stage switched off and on, the whole treatment bypassed and back: no click and no gap', () => {
  const listener = new Listener(busy);
  const stages = [...stagesAtWork(busy, 'kick'), ...stagesAtWork(busy, 'bass'), ...stagesAtWork(busy, 'rest')];
  assert.ok(stages.length >= 15, `${stages.length} stages are on`);
  for (const { address, instance } of stages) {
    const without = withStage(busy, address, { ...instance, on: false });
    listener
      .take({ kind: 'treatment', treatment: without })
      .run(45)
      .take({ kind: 'treatment', treatment: busy })
      .run(45);
    assertSmooth(listener, formatAddress(address));
    assertNoGap(listener, formatAddress(address), ['treated bass', 'source bass', 'treated lane']);
    listener.forget();
  }
  const plain = plainDemoTreatment(rate);
  listener.take({ kind: 'treatment', treatment: plain }).run(120).take({ kind: 'treatment', treatment: busy }).run(200);
  assertSmooth(listener, 'bypass');
  assertNoGap(listener, 'bypass', WATCHED);
});

test('a treatment that needs a new chain, and lanes, inside a loop: no click, no gap, and the loop goes on', () => {
  const listener = new Listener(busy);
  const shorterNotes = { ...busy, notes: busy.notes.slice(1) };
  const short = { from: loop.from, to: loop.from + 20 * period };
  const events: readonly ToEngine[] = [
    { kind: 'lane', lane: 'high' },
    { kind: 'lane', lane: null },
    { kind: 'treatment', treatment: shorterNotes },
    { kind: 'lane', lane: 'low' },
    { kind: 'loop', loop: short },
    { kind: 'lane', lane: null },
    { kind: 'treatment', treatment: busy },
  ];
  let within = loop;
  for (const event of events) {
    if (event.kind === 'loop') within = short;
    const what = JSON.stringify({ ...event, treatment: undefined });
    listener.take(event).run(300);
    for (let blocks = 0; blocks < 400; blocks++) {
      listener.run(1);
      // two rounds of the short loop, which nothing disturbs: it turns at its end, each time
      if (event.kind === 'loop')
        assert.ok(listener.position <= within.to, `runs past the loop to ${listener.position}`);
    }
    assertSmooth(listener, what, ['treated bass', 'source bass']);
    if (event.kind !== 'loop') assertNoGap(listener, what, ['treated bass', 'source bass']);
    const { position } = listener;
    assert.ok(position >= within.from && position < within.to, `${what}: left the loop, at ${position}`);
    listener.forget();
  }
});

test('loop off and on, pause and play, a jump: no click, and the silence of a jump is short', () => {
  const listener = new Listener(busy);
  listener.take({ kind: 'loop', loop: null }).run(60).take({ kind: 'loop', loop }).run(60);
  listener.take({ kind: 'loop', loop: null }).run(800);
  assert.ok(listener.position > loop.to, `without a loop the song goes on, not at ${listener.position}`);
  assertNoGap(listener, 'loop off and on', ['treated bass', 'source bass']);
  listener.take({ kind: 'pause' }).run(60).take({ kind: 'play' }).run(60);
  listener.take({ kind: 'locate', to: loop.from + 7001 }).run(400);
  assertSmooth(listener, 'loop, pause, jump', ['treated bass', 'source bass']);
  assert.ok(
    longestGap(listener.heard['source bass']) < 0.4 * rate,
    'the jump is made ready in less than half a second',
  );
  assert.ok(Math.abs(listener.heard['source bass'].at(-1)!) > 0 && listener.position > loop.from + 7001);
});
