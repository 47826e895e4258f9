import assert from 'node:assert/strict';
import { mock, test } from 'node:test';
import { FADE_FRAMES, FADE_TICKS } from '../core/dsp/cross-fade.js';
import { TICK } from '../core/dsp/stereo-unit.js';
import { renderSong } from '../core/render/render-song.js';
import { parseAddress, stageAt, withStage } from '../core/treatment/paths.js';
import { ENGINE_OUTPUTS, type LaneName, type ToEngine } from '../protocol/engine-messages.js';
import { busyDemoTreatment, demoPiece } from '../tests/browser/demo-piece.js';
import { LiveEngine } from './live-engine.js';
import { SongPlayer } from './song-player.js';

const rate = 48_000;
const piece = demoPiece(rate);
const busy = busyDemoTreatment(rate);
/** One beat, the bass sounding at both ends, which are off the grid of ticks. */
const loop = { from: 46_001, to: 70_003 };
const length = loop.to - loop.from;
const ticks = mock.method(SongPlayer.prototype, 'runTick').mock;

const WATCHED = ['treated kick', 'treated bass', 'treated rest', 'treated lane'] as const;

/** Plays the demo piece with every stage on. */
class Looper {
  readonly heard = WATCHED.map((): number[] => []);
  position = 0;
  private readonly engine = new LiveEngine(rate, (told) => (this.position = told.kind === 'at' ? told.position : 0));
  private readonly outputs = ENGINE_OUTPUTS.map(() => [new Float32Array(TICK), new Float32Array(TICK)]);

  constructor(lane: LaneName | null) {
    const { frameCount, tracks } = piece;
    const chunkFrames = Math.ceil(frameCount / TICK) * TICK;
    const padded = (channel: ArrayLike<number>) => {
      const all = new Float32Array(chunkFrames);
      all.set(channel);
      return all;
    };
    const blocks = (role: keyof typeof tracks) =>
      tracks[role].map(({ signal }) => ({ left: padded(signal.left), right: padded(signal.right) }));
    this.take({ kind: 'song', treatment: busy, frameCount, chunkFrames, lane, changes: [], hashed: false });
    this.take({ kind: 'chunk', index: 0, sound: { kick: blocks('kick'), bass: blocks('bass'), rest: blocks('rest') } });
    this.take({ kind: 'loop', loop });
  }

  take(message: ToEngine): this {
    this.engine.take(message);
    return this;
  }

  /** Whole blocks until so many frames have passed; what was heard before is dropped. */
  run(frames: number): this {
    for (const sound of this.heard) sound.length = 0;
    for (let done = 0; done < frames; done += TICK) {
      this.engine.process(this.outputs, TICK);
      WATCHED.forEach((name, i) => this.heard[i]!.push(...this.outputs[ENGINE_OUTPUTS.indexOf(name)]![0]!));
    }
    this.engine.report();
    return this;
  }

  /** Plays on until a whole round has been heard from its first frame to its last. */
  round(): Float32Array[] {
    while (this.position < loop.from || this.position > loop.from + TICK) this.run(TICK);
    const early = this.heard.map((sound) => sound.slice(loop.from - this.position || TICK));
    this.run(length);
    return this.heard.map((sound, i) => Float32Array.from([...early[i]!, ...sound].slice(0, length)));
  }
}

test('a loop that the song plays into has the bits of a print in every round', () => {
  const looper = new Looper(null).take({ kind: 'locate', to: 0 }).take({ kind: 'play' });
  const print = renderSong(piece, busy, { roles: ['kick', 'bass', 'rest'], to: loop.to });
  const buses = [print.kick!, print.bass!, print.rest!].map(({ left }) => Float32Array.from(left.slice(loop.from)));
  assert.deepEqual(looper.round().slice(0, 3), buses, 'the first time');
  for (let round = 1; round < 4; round++) {
    const faded = looper.round().map((sound) => sound.slice(FADE_FRAMES));
    buses.forEach((bus, i) => assert.deepEqual(faded[i], bus.slice(FADE_FRAMES), `${WATCHED[i]!}, round ${round}`));
  }
});

/** Of ten rounds that need no pre-roll: their own, and at each seam those of the round before that fade out. */
const TICKS_OF_TEN_ROUNDS = 10 * (length / TICK + FADE_TICKS + 1);

function ticksOfTenRounds(looper: Looper): number {
  ticks.resetCalls();
  looper.run(10 * length);
  return ticks.callCount();
}

test('after the first rounds no tick is run that is not heard, and all rounds are the same; after a change again', () => {
  const looper = new Looper('low').take({ kind: 'play' }).run(3 * length);
  const before = looper.round();
  assert.ok(ticksOfTenRounds(looper) <= TICKS_OF_TEN_ROUNDS);
  assert.deepEqual(looper.round(), before);

  const { address } = parseAddress('bass.trim');
  const old = stageAt(busy, address)!;
  const softer = withStage(busy, address, { ...old, settings: { gain_dB: -5 } });
  looper.take({ kind: 'treatment', treatment: softer }).run(3 * length);
  const after = looper.round();
  assert.ok(ticksOfTenRounds(looper) <= TICKS_OF_TEN_ROUNDS, 'after a change');
  assert.deepEqual(looper.round(), after);
  // trim moves by 6 dB, and what follows it is linear; the lane stands before it
  for (let n = FADE_FRAMES; n < length; n++) {
    assert.ok(Math.abs(after[1]![n]! - 0.501 * before[1]![n]!) < 2e-3, `frame ${n}: ${after[1]![n]!}`);
  }
});

test('the lane listened to is the same one in every round', () => {
  const looper = new Looper('low').take({ kind: 'play' }).run(2 * length);
  looper.take({ kind: 'lane', lane: 'high' }).run(4 * length);
  const first = looper.round()[3]!;
  assert.ok(first.some((value) => Math.abs(value) > 1e-4));
  for (let round = 0; round < 2; round++) assert.deepEqual(looper.round()[3], first);
  const low = new Looper('low')
    .take({ kind: 'play' })
    .run(3 * length)
    .round()[3]!;
  assert.notDeepEqual(first, low);
});
