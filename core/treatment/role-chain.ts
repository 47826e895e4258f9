import type { StateTape } from '../dsp/state-tape.js';
import { addBlock } from '../dsp/block-arithmetic.js';
import { DelayLine } from '../dsp/delay-line.js';
import { TICK } from '../dsp/stereo-unit.js';
import { PlainError } from '../units/plain-error.js';
import { LanePaths } from './lane-paths.js';
import { StagePath } from './stage-path.js';
import type { StageContext } from './stage.js';
import type { RolePath, StageAddress, StageInstance } from './treatment.js';

/** One file of a role: its block of input, its path, and what makes all files of the role equally late. */
interface TrackChain {
  readonly file: string;
  readonly path: StagePath;
  readonly fill: DelayLine;
  readonly left: Float64Array;
  readonly right: Float64Array;
}

/**
 * A role at work: each file through its own path, their sum through the bus path, with the lanes between split and join.
 * Write a tick into each track's blocks, call `process`, read `left` and `right`, `latencySamples` late.
 */
export class RoleChain {
  readonly tracks: readonly TrackChain[];
  readonly before: StagePath;
  readonly lanes: LanePaths | null;
  readonly after: StagePath;
  readonly latencySamples: number;
  readonly left = new Float64Array(TICK);
  readonly right = new Float64Array(TICK);
  private readonly splitAt: number;

  /** @throws PlainError where split and join are not next to each other, or lanes have no split. */
  constructor(
    private readonly name: string,
    role: RolePath,
    context: StageContext,
  ) {
    this.splitAt = splitIndexOf(name, role);
    const paths = role.tracks.map((track) => new StagePath(track.stages, context, 0));
    const latest = paths.reduce((samples, path) => Math.max(samples, path.downstreamSamples), 0);
    this.tracks = role.tracks.map((track, i) => ({
      file: track.file,
      path: paths[i]!,
      fill: new DelayLine(latest - paths[i]!.downstreamSamples),
      left: new Float64Array(TICK),
      right: new Float64Array(TICK),
    }));
    const { splitAt } = this;
    this.before = new StagePath(splitAt < 0 ? role.stages : role.stages.slice(0, splitAt), context, latest);
    this.lanes = splitAt < 0 ? null : new LanePaths(role, context, this.before.downstreamSamples);
    const joined = this.lanes?.downstreamSamples ?? this.before.downstreamSamples;
    this.after = new StagePath(splitAt < 0 ? [] : role.stages.slice(splitAt + 2), context, joined);
    this.latencySamples = this.after.downstreamSamples;
  }

  /** Whether `configure` can take this path over: the same files and the same stages in the same order. */
  fits(role: RolePath): boolean {
    if (role.tracks.length !== this.tracks.length) return false;
    for (let i = 0; i < this.tracks.length; i++) {
      const track = role.tracks[i]!;
      if (track.file !== this.tracks[i]!.file || !this.tracks[i]!.path.fits(track.stages)) return false;
    }
    const { splitAt, lanes } = this;
    const { stages } = role;
    if (lanes === null) return this.before.fits(stages);
    return (
      stages.length === this.before.units.length + 2 + this.after.units.length &&
      stages[splitAt]?.stage === 'split' &&
      stages[splitAt + 1]?.stage === 'join' &&
      placedLike(this.before, stages, 0) &&
      placedLike(this.after, stages, splitAt + 2) &&
      lanes.lanes[0].path.fits(role.lanes.low) &&
      lanes.lanes[1].path.fits(role.lanes.high)
    );
  }

  configure(role: RolePath, atOnce: boolean): void {
    for (let i = 0; i < this.tracks.length; i++) this.tracks[i]!.path.configure(role.tracks[i]!.stages, 0, atOnce);
    const { splitAt, lanes } = this;
    this.before.configure(role.stages, 0, atOnce);
    if (lanes === null) return;
    lanes.configure(role.stages[splitAt]!, role.stages[splitAt + 1]!, role.lanes, atOnce);
    this.after.configure(role.stages, splitAt + 2, atOnce);
  }

  process(): void {
    const { left, right } = this;
    left.fill(0);
    right.fill(0);
    for (let i = 0; i < this.tracks.length; i++) {
      const track = this.tracks[i]!;
      track.path.process(track.left, track.right);
      track.fill.process(track.left, track.right, TICK);
      addBlock(left, track.left, TICK);
      addBlock(right, track.right, TICK);
    }
    this.before.process(left, right);
    if (this.lanes !== null) this.lanes.process(left, right);
    this.after.process(left, right);
  }

  seek(songSample: number): void {
    for (const track of this.tracks) {
      track.path.seek(songSample);
      track.fill.reset();
    }
    this.before.seek(songSample);
    this.lanes?.seek(songSample);
    this.after.seek(songSample);
  }

  passState(tape: StateTape): void {
    for (let i = 0; i < this.tracks.length; i++) {
      const track = this.tracks[i]!;
      track.path.passState(tape);
      track.fill.passState(tape);
      tape.array(track.left);
      tape.array(track.right);
    }
    this.before.passState(tape);
    this.lanes?.passState(tape);
    this.after.passState(tape);
    tape.array(this.left);
    tape.array(this.right);
  }

  /**
   * The path that a stage stands in, and its place there. Split and join are not in a path: they are found by `lanes`.
   * @throws PlainError where there is no such stage.
   */
  locate(address: StageAddress): { readonly path: StagePath; readonly index: number } {
    for (const path of this.pathsOf(address)) {
      const index = path.indexOf(address.stage);
      if (index >= 0) return { path, index };
    }
    throw new PlainError(
      `stage ${address.stage}`,
      `does not stand in the path of the ${this.name}.`,
      'Check the address.',
    );
  }

  private pathsOf(address: StageAddress): readonly StagePath[] {
    if (address.track !== null) {
      return this.tracks.filter((track) => track.file === address.track).map((track) => track.path);
    }
    if (address.lane !== null) {
      return this.lanes === null ? [] : [this.lanes.lanes[address.lane === 'low' ? 0 : 1].path];
    }
    return [this.before, this.after];
  }
}

function placedLike(path: StagePath, stages: readonly StageInstance[], from: number): boolean {
  for (let i = 0; i < path.units.length; i++) if (stages[from + i]?.stage !== path.units[i]!.id) return false;
  return true;
}

function splitIndexOf(name: string, role: RolePath): number {
  const at = role.stages.findIndex((instance) => instance.stage === 'split');
  const joins = role.stages.filter((instance) => instance.stage === 'join').length;
  const splits = role.stages.filter((instance) => instance.stage === 'split').length;
  const lanes = role.lanes.low.length + role.lanes.high.length;
  if (splits === 0 && joins === 0 && lanes === 0) return -1;
  if (splits === 1 && joins === 1 && role.stages[at + 1]?.stage === 'join') return at;
  throw new PlainError(
    `path of the ${name}`,
    'has lanes, but not one split with the join right after it.',
    'Put split and join next to each other; what stands in the lanes is listed under lanes.',
  );
}
