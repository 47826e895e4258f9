import type { StateTape } from '../dsp/state-tape.js';
import { DelayLine } from '../dsp/delay-line.js';
import { TICK } from '../dsp/stereo-unit.js';
import { JoinUnit } from './join.js';
import { SplitUnit } from './split.js';
import { StagePath } from './stage-path.js';
import { declarationOf } from './stage-registry.js';
import type { StageContext } from './stage.js';
import type { RolePath, StageInstance } from './treatment.js';

/** One lane: its path, its treated and untreated sound, both as late as the later lane. */
interface Lane {
  readonly name: 'low' | 'high';
  readonly path: StagePath;
  readonly fill: DelayLine;
  readonly untouched: DelayLine;
  readonly left: Float64Array;
  readonly right: Float64Array;
  readonly untouchedLeft: Float64Array;
  readonly untouchedRight: Float64Array;
}

/**
 * The bass between split and join: out = x + sum over the lanes of (T(lane) - lane). Both lanes leave equally late, so the
 * lanes sum back by construction, and lanes with nothing on leave x to the bit.
 */
export class LanePaths {
  readonly split: SplitUnit;
  readonly join: JoinUnit;
  readonly lanes: readonly [Lane, Lane];
  readonly upstreamSamples: number;
  readonly downstreamSamples: number;
  private readonly sum: DelayLine;
  private listened = false;
  private ran = false;
  private nextSample = 0;

  constructor(role: RolePath, context: StageContext, upstreamSamples: number) {
    this.upstreamSamples = upstreamSamples;
    this.split = createdAs(SplitUnit, 'split', context);
    this.join = createdAs(JoinUnit, 'join', context);
    const begin = upstreamSamples + this.split.latencySamples;
    const low = new StagePath(role.lanes.low, context, begin);
    const high = new StagePath(role.lanes.high, context, begin);
    this.downstreamSamples = Math.max(low.downstreamSamples, high.downstreamSamples);
    const longest = this.downstreamSamples - begin;
    this.lanes = [laneOf('low', low, begin, longest), laneOf('high', high, begin, longest)];
    this.sum = new DelayLine(longest);
  }

  /** From the next `configure` on the lanes are made even where nothing in them is on, because someone listens to them. */
  keepRunning(): void {
    this.listened = true;
  }

  configure(split: StageInstance, join: StageInstance, lanes: RolePath['lanes'], atOnce: boolean): void {
    this.split.setNeed(this.listened ? 'always' : hasWork(join, lanes) ? 'work' : 'none');
    this.split.configure(split, atOnce);
    this.join.configure(join, atOnce);
    this.lanes[0].path.configure(lanes.low, 0, atOnce);
    this.lanes[1].path.configure(lanes.high, 0, atOnce);
  }

  process(left: Float64Array, right: Float64Array): void {
    const { split, join } = this;
    split.process(left, right, TICK);
    split.flush();
    this.sum.process(left, right, TICK);
    join.process(left, right, TICK);
    if (split.running) {
      if (!this.ran) this.seekLanes(this.nextSample);
      this.runLane(this.lanes[0], split.lowLeft, split.lowRight);
      this.runLane(this.lanes[1], split.highLeft, split.highRight);
      for (let i = 0; i < 2; i++) {
        const lane = this.lanes[i]!;
        join.addLane(lane.name, left, lane.left, lane.untouchedLeft, split.share);
        join.addLane(lane.name, right, lane.right, lane.untouchedRight, split.share);
      }
    }
    this.ran = split.running;
    this.nextSample += TICK;
  }

  seek(songSample: number): void {
    this.split.seek(songSample - this.upstreamSamples);
    this.join.seek();
    this.sum.reset();
    this.nextSample = songSample;
    this.seekLanes(songSample);
    this.ran = this.split.running;
  }

  passState(tape: StateTape): void {
    this.split.passState(tape);
    this.sum.passState(tape);
    for (let i = 0; i < 2; i++) {
      const lane = this.lanes[i]!;
      lane.path.passState(tape);
      lane.fill.passState(tape);
      lane.untouched.passState(tape);
    }
    this.ran = tape.flag(this.ran);
    this.nextSample = tape.value(this.nextSample);
  }

  private seekLanes(songSample: number): void {
    for (let i = 0; i < 2; i++) {
      const lane = this.lanes[i]!;
      lane.path.seek(songSample);
      lane.fill.reset();
      lane.untouched.reset();
    }
  }

  private runLane(lane: Lane, left: Float64Array, right: Float64Array): void {
    lane.left.set(left);
    lane.right.set(right);
    lane.untouchedLeft.set(left);
    lane.untouchedRight.set(right);
    lane.path.process(lane.left, lane.right);
    lane.fill.process(lane.left, lane.right, TICK);
    lane.untouched.process(lane.untouchedLeft, lane.untouchedRight, TICK);
  }
}

/** Whether the lanes are more than their sum: any stage on in one of them, or the join in use. */
export function hasWork(join: StageInstance, lanes: RolePath['lanes']): boolean {
  if (join.on) return true;
  for (let i = 0; i < lanes.low.length; i++) if (lanes.low[i]!.on) return true;
  for (let i = 0; i < lanes.high.length; i++) if (lanes.high[i]!.on) return true;
  return false;
}

function laneOf(name: 'low' | 'high', path: StagePath, beginSamples: number, longestSamples: number): Lane {
  const block = () => new Float64Array(TICK);
  return {
    name,
    path,
    fill: new DelayLine(beginSamples + longestSamples - path.downstreamSamples),
    untouched: new DelayLine(longestSamples),
    left: block(),
    right: block(),
    untouchedLeft: block(),
    untouchedRight: block(),
  };
}

function createdAs<T>(kind: new (sampleRate_Hz: number) => T, id: 'split' | 'join', context: StageContext): T {
  const unit = declarationOf(id).create(context);
  if (!(unit instanceof kind)) throw new TypeError(`the stage ${id} is not what the lanes need`);
  return unit;
}
