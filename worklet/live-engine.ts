import { FADE_CURVE, FADE_FRAMES } from '../core/dsp/cross-fade.js';
import { SmoothValue } from '../core/dsp/smooth-value.js';
import { TICK } from '../core/dsp/stereo-unit.js';
import { SoundHash } from '../core/signal/sound-hash.js';
import { treatmentsFrom } from '../core/treatment/setting-changes.js';
import type { Treatment } from '../core/treatment/treatment.js';
import type { FromEngine, LaneName, Loop, ToEngine } from '../protocol/engine-messages.js';
import { loopPace, shortestLoop } from './loop-arithmetic.js';
import { LoopBeginning } from './loop-beginning.js';
import { SongChunks } from './song-chunks.js';
import { SongPlayer } from './song-player.js';

/** Seconds run unheard before a place that is jumped to. */
const JUMP_PRE_ROLL_S = 0.75;
/**
 * Ticks of the next stretch that are made ready for each tick that sounds, and while nothing sounds: as many as one block has
 * time for with every stage on, since a block that is late holds up whatever else sounds.
 */
const TICKS_WHILE_SOUNDING = 2;
const TICKS_IN_SILENCE = 3;

/**
 * Live sound: plays the song through the treatment, loops without a gap, and jumps, pauses and changes treatment without a
 * click. A second player makes the next stretch ready with a pre-roll while the first one sounds; then one fades into the other.
 * How a loop was begun is kept, so that only its first rounds, and the first after a change, need a pre-roll.
 * From the song's start its treated buses are those of a render, to the last bit.
 */
export class LiveEngine {
  private treatment: Treatment | null = null;
  private lane: LaneName | null = null;
  private chunks: SongChunks | null = null;
  private current: SongPlayer | null = null;
  private next: SongPlayer | null = null;
  private leaving: SongPlayer | null = null;
  private spare: SongPlayer | null = null;
  /** Counts up wherever players of another make are needed. */
  private make = 0;
  private beginning: LoopBeginning | null = null;
  /** Song sample of `current` at which `next` takes over; null: as soon as it is ready and the gate is shut. */
  private takeOverAt: number | null = null;
  private nextTarget = 0;
  private nextTicks: 1 | 2 = TICKS_WHILE_SOUNDING;
  private loop: Loop | null = null;
  private frameCount = 0;
  private playing = false;
  private readonly gate = new SmoothValue(0);
  private fade = FADE_FRAMES;
  private readonly gateGains = new Float64Array(TICK);
  private readonly comingGains = new Float64Array(TICK);
  private readonly leavingGains = new Float64Array(TICK);
  private hashed = false;
  private hashes = newHashes();

  constructor(
    private readonly sampleRate_Hz: number,
    private readonly tell: (message: FromEngine) => void,
  ) {}

  /** A message of the page. Makes whatever must be made; the sound that is running goes on. */
  take(message: ToEngine): void {
    if (message.kind === 'song') this.setSong(message);
    else if (message.kind === 'chunk') this.chunks?.put(message.index, message.sound);
    else if (message.kind === 'drop') this.chunks?.drop(message.index);
    else if (message.kind === 'treatment') this.setTreatment(message.treatment);
    else if (message.kind === 'lane') this.setLane(message.lane);
    else if (message.kind === 'locate') this.jumpTo(message.to);
    else if (message.kind === 'loop') this.setLoop(message.loop);
    else if (message.kind === 'play') this.play();
    else this.playing = false;
  }

  /** Where things stand, for the page. */
  report(): void {
    if (this.current === null) return;
    this.tell({
      kind: 'at',
      position: this.current.position,
      preparing: this.next === null ? null : this.nextTarget,
      playing: this.playing,
      waiting: this.playing && this.gate.goal === 0,
    });
  }

  /** `frameCount` frames into every output, from its beginning on. */
  process(outputs: readonly (readonly Float32Array[])[], frameCount: number): void {
    for (let o = 0; o < outputs.length; o++) {
      for (let c = 0; c < outputs[o]!.length; c++) outputs[o]![c]!.fill(0);
    }
    let done = 0;
    while (done < frameCount && this.current !== null && this.chunks !== null) {
      this.decide(this.current, this.chunks);
      if (this.gate.goal === 0 && this.gate.settled) break;
      const count = this.framesToNextEvent(this.current, this.chunks, frameCount - done);
      this.sound(this.current, outputs, done, count);
      done += count;
    }
    // Two chains sound while one fades into the other, and leave time for one tick less.
    const ticks = this.leaving === null ? this.nextTicks : this.nextTicks - 1;
    this.prepare(done === 0 ? TICKS_IN_SILENCE : ticks, frameCount);
  }

  private setSong(song: Extract<ToEngine, { kind: 'song' }>): void {
    const changes = treatmentsFrom(song.treatment, song.changes);
    this.treatment = song.treatment;
    this.lane = song.lane;
    this.frameCount = song.frameCount;
    this.chunks = new SongChunks(song.treatment, song.frameCount, song.chunkFrames);
    this.make += 1;
    this.current = new SongPlayer(song.treatment, song.lane, changes, this.make);
    this.current.place(0, 0);
    this.next = this.leaving = null;
    this.spare = this.newPlayer(song.treatment);
    this.beginning = new LoopBeginning(this.current);
    this.loop = null;
    this.playing = false;
    this.gate.set(0, true);
    this.hashed = song.hashed;
    this.hashes = newHashes();
  }

  private setTreatment(treatment: Treatment): void {
    this.treatment = treatment;
    this.beginning?.forget();
    const fits = this.current?.configure(treatment) ?? false;
    this.leaving?.configure(treatment);
    this.spare?.configure(treatment);
    if (fits && this.next?.configure(treatment) !== false) this.makeRoundAnew();
    else this.renew();
  }

  /** A round that stands ready with the settings of before is made ready once more, where there is time. */
  private makeRoundAnew(): void {
    const { current, next, loop } = this;
    if (current === null || next === null || loop === null || !next.ready || this.takeOverAt !== loop.to) return;
    const { ticks, preRoll } = loopPace(loop, current.latencySamples, this.sampleRate_Hz);
    if (current.position + this.lead(preRoll, current.latencySamples, ticks) > loop.to) return;
    this.putAside(next);
  }

  private putAside(next: SongPlayer): void {
    this.spare = next;
    this.next = null;
    this.takeOverAt = null;
  }

  private setLane(lane: LaneName | null): void {
    if (lane === this.lane) return;
    this.lane = lane;
    this.renew();
  }

  /** A new chain takes over where the old one will be when it is ready. */
  private renew(): void {
    if (this.treatment === null || this.current === null) return;
    this.make += 1;
    this.next = this.newPlayer(this.treatment);
    this.spare = this.newPlayer(this.treatment);
    this.beginning = new LoopBeginning(this.next);
    this.placeRenewed(this.current);
  }

  private newPlayer(treatment: Treatment): SongPlayer {
    return new SongPlayer(treatment, this.lane, [], this.make);
  }

  private placeRenewed({ position, latencySamples }: SongPlayer): void {
    if (!this.playing) {
      this.jumpTo(position);
      return;
    }
    const preRoll = JUMP_PRE_ROLL_S * this.sampleRate_Hz;
    const { loop } = this;
    const at = Math.min(this.frameCount, position + this.lead(preRoll, latencySamples, TICKS_WHILE_SOUNDING));
    this.makeNext(loop !== null && position < loop.to && at >= loop.to ? loop.from : at, preRoll, at);
  }

  /** Samples that sound while a pre-roll is run, with some to spare. */
  private lead(preRoll: number, latencySamples: number, ticks: number): number {
    return Math.ceil((preRoll + latencySamples) / ticks) + 8 * TICK + FADE_FRAMES;
  }

  private jumpTo(to: number): void {
    const target = Math.max(0, Math.min(this.frameCount, Math.floor(to)));
    this.makeNext(target, JUMP_PRE_ROLL_S * this.sampleRate_Hz, null);
  }

  private makeNext(
    target: number,
    preRoll: number,
    takeOverAt: number | null,
    ticks: 1 | 2 = TICKS_WHILE_SOUNDING,
  ): void {
    if (this.treatment === null) return;
    if (this.next === null) {
      this.next = this.spare ?? this.newPlayer(this.treatment);
      this.spare = null;
    }
    if (this.beginning?.holds(target, preRoll) === true) this.beginning.give(this.next);
    else this.next.place(target, preRoll);
    this.nextTarget = target;
    this.nextTicks = ticks;
    this.takeOverAt = takeOverAt;
  }

  private setLoop(loop: Loop | null): void {
    this.loop = loop === null || loop.to - loop.from < shortestLoop(this.sampleRate_Hz) ? null : loop;
    const { current, next } = this;
    if (current === null) return;
    if (next !== null && this.takeOverAt !== null) {
      if (next.make === current.make) this.putAside(next);
      else this.placeRenewed(current);
    }
    const { position } = current;
    if (this.loop !== null && (position < this.loop.from || position >= this.loop.to)) this.jumpTo(this.loop.from);
  }

  private play(): void {
    if (this.current === null) return;
    if (this.current.position >= this.frameCount) this.jumpTo(this.loop?.from ?? 0);
    this.playing = true;
  }

  private end(): void {
    this.playing = false;
    this.report();
    if (!this.hashed) return;
    const { kick, bass, rest } = this.hashes;
    this.tell({ kind: 'hash', kick: kick.digest(), bass: bass.digest(), rest: rest.digest() });
  }

  /** Before each stretch: what takes over, and whether the gate is open. */
  private decide(current: SongPlayer, chunks: SongChunks): void {
    this.lookAheadToLoop(current);
    const shut = this.gate.goal === 0 && this.gate.settled;
    if (this.next !== null && this.next.ready) {
      if (this.takeOverAt === null ? shut : current.position === this.takeOverAt) this.takeOver(current, shut);
      else if (shut && this.takeOverAt !== null && current.position > this.takeOverAt) this.takeOver(current, true);
    }
    const sounding = this.current ?? current;
    if (sounding.ready && sounding.position === this.loop?.from) this.beginning?.keep(sounding);
    const missed = this.next !== null && this.takeOverAt !== null && sounding.position >= this.takeOverAt;
    const over = sounding.position >= this.frameCount;
    if (over && shut && this.playing && this.next === null) this.end();
    const jump = this.next !== null && this.takeOverAt === null;
    const fed = sounding.ready && sounding.canRun(chunks, FADE_FRAMES + TICK);
    const open = this.playing && !jump && !missed && !over && fed;
    this.gate.set(open ? 1 : 0, open && shut && sounding.position === 0);
  }

  /** Where a loop is entered too near its end, the song runs on past that end, once, until the next round is ready. */
  private lookAheadToLoop({ position, latencySamples }: SongPlayer): void {
    const { loop } = this;
    if (loop === null || this.next !== null || this.leaving !== null || !this.playing || position >= loop.to) return;
    const { ticks, preRoll } = loopPace(loop, latencySamples, this.sampleRate_Hz);
    const early = loop.to - position - this.lead(preRoll, latencySamples, ticks);
    const kept = this.beginning?.holds(loop.from, preRoll) === true;
    if (early > 0 && !kept) return;
    if (early > -2 * TICK || kept) {
      this.makeNext(loop.from, preRoll, loop.to, ticks);
      return;
    }
    const shorter = Math.min(preRoll, JUMP_PRE_ROLL_S * this.sampleRate_Hz);
    const soonest = position + this.lead(shorter, latencySamples, TICKS_WHILE_SOUNDING);
    const at = Math.min(this.frameCount, Math.max(loop.to, soonest));
    this.makeNext(loop.from, shorter, at);
  }

  private takeOver(old: SongPlayer, silent: boolean): void {
    this.current = this.next;
    this.next = null;
    this.takeOverAt = null;
    if (silent) {
      this.spare ??= old;
    } else {
      this.leaving = old;
      this.fade = 0;
    }
  }

  /** Runs a tick where one is due. @returns frames until something may change. */
  private framesToNextEvent(current: SongPlayer, chunks: SongChunks, most: number): number {
    while (current.available === 0) current.runTick(chunks);
    let count = Math.min(most, current.available);
    if (this.leaving !== null) {
      if (this.leaving.available === 0) this.leaving.runTick(chunks);
      count = Math.min(count, this.leaving.available, FADE_FRAMES - this.fade);
    }
    const { position } = current;
    if (this.takeOverAt !== null && this.takeOverAt > position) count = Math.min(count, this.takeOverAt - position);
    if (this.loop !== null && this.loop.from > position) count = Math.min(count, this.loop.from - position);
    if (this.frameCount > position) count = Math.min(count, this.frameCount - position);
    return count;
  }

  private sound(current: SongPlayer, outputs: readonly (readonly Float32Array[])[], at: number, count: number): void {
    this.gate.fill(this.gateGains, count);
    const { leaving } = this;
    if (leaving === null) {
      current.give(outputs, at, count, this.gateGains);
    } else {
      this.shareGains(count);
      current.give(outputs, at, count, this.comingGains);
      leaving.give(outputs, at, count, this.leavingGains);
      leaving.step(count);
      this.fade += count;
      if (this.fade === FADE_FRAMES) {
        this.spare ??= leaving;
        this.leaving = null;
      }
    }
    if (this.hashed && current.position < this.frameCount) current.hash(this.hashes, count);
    current.step(count);
  }

  private shareGains(count: number): void {
    for (let n = 0; n < count; n++) {
      const share = FADE_CURVE[this.fade + n]!;
      this.comingGains[n] = this.gateGains[n]! * share;
      this.leavingGains[n] = this.gateGains[n]! * (1 - share);
    }
  }

  /** Makes the next stretch ready, or the present one where it has only been placed. */
  private prepare(ticksPerTick: number, frameCount: number): void {
    const { chunks } = this;
    const player = this.next ?? this.current;
    if (chunks === null || player === null) return;
    const ticks = Math.ceil(frameCount / TICK) * ticksPerTick;
    for (let i = 0; i < ticks && !player.ready && player.canRun(chunks, TICK); i++) player.runTick(chunks);
  }
}

function newHashes() {
  return { kick: new SoundHash(), bass: new SoundHash(), rest: new SoundHash() };
}
