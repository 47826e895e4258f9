import type { StateTape } from '../dsp/state-tape.js';
import { DelayLine } from '../dsp/delay-line.js';
import { flushed, TICK } from '../dsp/stereo-unit.js';
import type { Channel } from '../signal/stereo-signal.js';
import type { Hit, Note } from '../song/song.js';
import { kickTurnCorner_Hz } from './paths.js';
import { RecursiveTurn } from './recursive-turn.js';
import { RoleChain } from './role-chain.js';
import { sameHits, sameNotes } from './same-lists.js';
import { declarationOf } from './stage-registry.js';
import type { StageUnit } from './stage.js';
import type { RolePath, StageAddress, StageInstance, TreatedRole, Treatment } from './treatment.js';

/** Frames of the chain's grid: what taps and meters move by. */
export const TICK_FRAMES = TICK;

/** Sound of the tracks of each role, in the order of the treatment's tracks; roles that the chain does not run are not read. */
export interface ChainInput {
  readonly kick: readonly ChainBlock[];
  readonly bass: readonly ChainBlock[];
  readonly rest: readonly ChainBlock[];
}

export interface ChainBlock {
  readonly left: Channel;
  readonly right: Channel;
}

/** Where the bus of each role is written; null where it is not wanted. */
export interface ChainOutput {
  readonly kick: ChainBlock | null;
  readonly bass: ChainBlock | null;
  readonly rest: ChainBlock | null;
}

/** A point of the chain that can be listened to: one stage's input or output, or a whole lane as it reaches the join. */
export type TapPoint =
  | { readonly address: StageAddress; readonly where: 'input' | 'output' }
  | { readonly role: TreatedRole; readonly lane: 'low' | 'high' };

/** What passes a tap in the last whole tick, and how late it is against the song (the chain's own tick not counted). */
export interface Tap {
  readonly left: Float64Array;
  readonly right: Float64Array;
  readonly latencySamples: number;
}

interface RunningRole {
  readonly name: TreatedRole;
  readonly chain: RoleChain;
  readonly fill: DelayLine;
}

/** A keyed stage of the bass, and what brings the kick bus to it in time. */
interface Keyed {
  readonly key: { readonly left: Float64Array; readonly right: Float64Array };
  readonly delay: DelayLine;
}

/**
 * The only code that runs a Treatment, live and printed alike. Sound is gathered into ticks of 128 samples of song time, so
 * that any host block gives the same bits; kick, bass and rest leave equally late, whatever is on.
 *
 * Realtime  `process` and `configure` allocate nothing and throw nothing; the constructor and `seek` may take their time.
 * Latency   `latencySamples`, fixed at a rate and for a given order of stages.
 * Errors    the constructor throws PlainError for unknown stages and for paths that cannot be built.
 */
export class TreatmentChain {
  readonly latencySamples: number;
  /** Ticks run since the last seek. */
  ticksDone = 0;
  private readonly roles: readonly RunningRole[];
  private readonly kick: RoleChain | null;
  private readonly kickTurn: RecursiveTurn;
  private readonly keyed: readonly Keyed[];
  private readonly notes: readonly Note[];
  private readonly hits: readonly Hit[];
  private readonly sampleRate_Hz: number;
  /** Frames of the tick under way. */
  private gathered = 0;
  private begun = false;

  /** @param roles the roles to run; the bass is keyed by the kick only where both run. */
  constructor(treatment: Treatment, roles: readonly TreatedRole[] = ['kick', 'bass', 'rest']) {
    const context = { sampleRate_Hz: treatment.sampleRate_Hz, notes: treatment.notes, hits: treatment.hits };
    const order: readonly TreatedRole[] = ['kick', 'bass', 'rest'];
    const chains = order
      .filter((name) => roles.includes(name))
      .map((name) => ({ name, chain: new RoleChain(name, treatment[name], context) }));
    // Every role counts, run or not, so that the latency does not depend on what is asked for.
    const latest = order.reduce((most, name) => Math.max(most, latencyOf(treatment[name], context.sampleRate_Hz)), 0);
    this.roles = chains.map(({ name, chain }) => ({ name, chain, fill: new DelayLine(latest - chain.latencySamples) }));
    this.latencySamples = latest + TICK;
    this.kick = chains.find(({ name }) => name === 'kick')?.chain ?? null;
    const bass = chains.find(({ name }) => name === 'bass')?.chain ?? null;
    this.keyed = this.kick === null || bass === null ? [] : keyedStages(this.kick, bass);
    this.kickTurn = new RecursiveTurn(treatment.sampleRate_Hz);
    this.notes = treatment.notes;
    this.hits = treatment.hits;
    this.sampleRate_Hz = treatment.sampleRate_Hz;
    this.apply(treatment, true);
    this.seek(0);
  }

  /**
   * Takes over settings, switches and figures, without a click where sound is running.
   * @returns false, and changes nothing, where the treatment has other stages, files, notes or hits: that needs a new chain.
   */
  configure(treatment: Treatment): boolean {
    if (treatment.sampleRate_Hz !== this.sampleRate_Hz) return false;
    if (!sameNotes(treatment.notes, this.notes) || !sameHits(treatment.hits, this.hits)) return false;
    for (let i = 0; i < this.roles.length; i++) {
      const role = this.roles[i]!;
      if (!role.chain.fits(treatment[role.name])) return false;
    }
    this.apply(treatment, !this.begun);
    return true;
  }

  /** The next input frame is this sample of the song. All state is cleared: begin earlier by a pre-roll and drop its output. */
  seek(songSample: number): void {
    const into = ((songSample % TICK) + TICK) % TICK;
    for (const { chain, fill } of this.roles) {
      chain.seek(songSample - into);
      fill.reset();
      chain.left.fill(0);
      chain.right.fill(0);
      for (const track of chain.tracks) {
        track.left.fill(0);
        track.right.fill(0);
      }
    }
    for (const { delay } of this.keyed) delay.reset();
    this.kickTurn.reset();
    this.gathered = into;
    this.begun = false;
    this.ticksDone = 0;
  }

  /**
   * Any number of frames: reads them from `inputFrom` on, writes as many from `outputFrom` on, `latencySamples` late. Values
   * under 1e-30 come out as 0. Input and output may not be the same arrays.
   */
  process(input: ChainInput, inputFrom: number, output: ChainOutput, outputFrom: number, frameCount: number): void {
    this.begun = true;
    let done = 0;
    while (done < frameCount) {
      const count = Math.min(TICK - this.gathered, frameCount - done);
      for (let r = 0; r < this.roles.length; r++) {
        const role = this.roles[r]!;
        this.give(role.chain, output[role.name], outputFrom + done, count);
        this.take(role.chain, input[role.name], inputFrom + done, count);
      }
      this.gathered += count;
      done += count;
      if (this.gathered === TICK) this.runTick();
    }
  }

  /** Where the chain stands, to go on from there again: see `StateTape`. No change of settings may be under way. */
  passState(tape: StateTape): void {
    for (let r = 0; r < this.roles.length; r++) {
      const { chain, fill } = this.roles[r]!;
      chain.passState(tape);
      fill.passState(tape);
    }
    this.kickTurn.passState(tape);
    for (let i = 0; i < this.keyed.length; i++) this.keyed[i]!.delay.passState(tape);
    this.gathered = tape.value(this.gathered);
    this.ticksDone = tape.value(this.ticksDone);
    this.begun = tape.flag(this.begun);
  }

  /** What a stage does now, in dB, or NaN where it has no meter. */
  meterOf(address: StageAddress): () => number {
    const unit = this.unitAt(address);
    return () => unit.meter_dB ?? NaN;
  }

  /** Latency from the song to the input of a stage (the chain's own tick not counted). */
  upstreamSamplesOf(address: StageAddress): number {
    const { path, index } = this.roleChainOf(address.role).locate(address);
    return path.units[index]!.upstreamSamples;
  }

  /** Listens to a point from now on; made before any sound passes. One tap per path. */
  tapAt(point: TapPoint, treatment: Treatment): Tap {
    if ('lane' in point) return this.tapLane(point.role, point.lane, treatment);
    const { path, index } = this.roleChainOf(point.address.role).locate(point.address);
    const tap = { index, where: point.where, left: new Float64Array(TICK), right: new Float64Array(TICK) };
    path.tapAt(tap);
    const placed = path.units[index]!;
    const late = placed.upstreamSamples + (point.where === 'output' ? placed.unit.latencySamples : 0);
    return { left: tap.left, right: tap.right, latencySamples: late };
  }

  private tapLane(role: TreatedRole, lane: 'low' | 'high', treatment: Treatment): Tap {
    const { lanes } = this.roleChainOf(role);
    if (lanes === null) throw new RangeError(`the ${role} has no lanes`);
    lanes.keepRunning();
    this.apply(treatment, true);
    this.seek(0);
    const { left, right } = lanes.lanes[lane === 'low' ? 0 : 1];
    return { left, right, latencySamples: lanes.downstreamSamples };
  }

  private roleChainOf(name: TreatedRole): RoleChain {
    const role = this.roles.find((running) => running.name === name);
    if (role === undefined) throw new RangeError(`this chain does not run the ${name}`);
    return role.chain;
  }

  private unitAt(address: StageAddress): StageUnit {
    const { path, index } = this.roleChainOf(address.role).locate(address);
    return path.units[index]!.unit;
  }

  private apply(treatment: Treatment, atOnce: boolean): void {
    for (let i = 0; i < this.roles.length; i++) {
      const role = this.roles[i]!;
      role.chain.configure(treatment[role.name], atOnce);
    }
    this.kickTurn.setCorner(kickTurnCorner_Hz(treatment), atOnce);
  }

  private take(chain: RoleChain, blocks: readonly ChainBlock[], from: number, count: number): void {
    for (let t = 0; t < chain.tracks.length; t++) {
      const track = chain.tracks[t]!;
      const block = blocks[t];
      takeChannel(block?.left, from, track.left, this.gathered, count);
      takeChannel(block?.right, from, track.right, this.gathered, count);
    }
  }

  private give(chain: RoleChain, block: ChainBlock | null, from: number, count: number): void {
    if (block === null) return;
    for (let n = 0; n < count; n++) {
      block.left[from + n] = flushed(chain.left[this.gathered + n]!);
      block.right[from + n] = flushed(chain.right[this.gathered + n]!);
    }
  }

  /** Kick first: its bus is the key of the bass. */
  private runTick(): void {
    for (let r = 0; r < this.roles.length; r++) {
      const { chain, fill } = this.roles[r]!;
      chain.process();
      if (chain === this.kick) this.turnAndKey(chain);
      fill.process(chain.left, chain.right, TICK);
    }
    this.gathered = 0;
    this.ticksDone += 1;
  }

  private turnAndKey(kick: RoleChain): void {
    this.kickTurn.process(kick.left, kick.right, TICK);
    this.kickTurn.flush();
    for (let i = 0; i < this.keyed.length; i++) {
      const { key, delay } = this.keyed[i]!;
      key.left.set(kick.left);
      key.right.set(kick.right);
      delay.process(key.left, key.right, TICK);
    }
  }
}

/** Copies sound in, flushed; silence where there is none. Four frames at a time, as `block-arithmetic.ts` says why. */
function takeChannel(
  from: Channel | undefined,
  fromAt: number,
  to: Float64Array,
  toAt: number,
  frameCount: number,
): void {
  if (from === undefined) {
    to.fill(0, toAt, toAt + frameCount);
    return;
  }
  let n = 0;
  for (; n + 3 < frameCount; n += 4) {
    to[toAt + n] = flushed(from[fromAt + n]!);
    to[toAt + n + 1] = flushed(from[fromAt + n + 1]!);
    to[toAt + n + 2] = flushed(from[fromAt + n + 2]!);
    to[toAt + n + 3] = flushed(from[fromAt + n + 3]!);
  }
  for (; n < frameCount; n++) to[toAt + n] = flushed(from[fromAt + n]!);
}

/** Latency of a role's whole path, from what its stages declare. */
function latencyOf(role: RolePath, sampleRate_Hz: number): number {
  const along = (list: readonly StageInstance[]) =>
    list.reduce((samples, { stage }) => samples + declarationOf(stage).latencySamples(sampleRate_Hz), 0);
  const latestTrack = role.tracks.reduce((samples, track) => Math.max(samples, along(track.stages)), 0);
  return latestTrack + along(role.stages) + Math.max(along(role.lanes.low), along(role.lanes.high));
}

/** Stages of the bass that listen to the kick bus, with the delay that brings it to them in time. */
function keyedStages(kick: RoleChain, bass: RoleChain): Keyed[] {
  return [...bass.before.units, ...bass.after.units].flatMap(({ unit, upstreamSamples }) => {
    if (unit.key === undefined) return [];
    return [{ key: unit.key, delay: new DelayLine(upstreamSamples - kick.latencySamples) }];
  });
}
