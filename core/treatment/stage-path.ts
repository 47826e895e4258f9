import type { StateTape } from '../dsp/state-tape.js';
import { TICK } from '../dsp/stereo-unit.js';
import { declarationOf } from './stage-registry.js';
import type { StageContext, StageUnit } from './stage.js';
import type { StageId, StageInstance } from './treatment.js';

/** One stage at work in a path, and how late the sound is when it gets there. */
export interface PlacedUnit {
  readonly id: StageId;
  readonly unit: StageUnit;
  /** Latency from the song to this stage's input. */
  readonly upstreamSamples: number;
}

/** Where a path is listened to: `stage` null is its very end. */
export interface PathTap {
  readonly index: number;
  readonly where: 'input' | 'output';
  readonly left: Float64Array;
  readonly right: Float64Array;
}

/** Stages one after another on one stereo sound, tick by tick. */
export class StagePath {
  readonly units: readonly PlacedUnit[];
  /** Latency from the song to the path's end. */
  readonly downstreamSamples: number;
  private tap: PathTap | null = null;

  /** @param upstreamSamples latency from the song to the path's beginning. */
  constructor(instances: readonly StageInstance[], context: StageContext, upstreamSamples: number) {
    const units: PlacedUnit[] = [];
    let late = upstreamSamples;
    for (const instance of instances) {
      const unit = declarationOf(instance.stage).create(context);
      units.push({ id: instance.stage, unit, upstreamSamples: late });
      late += unit.latencySamples;
    }
    this.units = units;
    this.downstreamSamples = late;
  }

  /** Whether the same stages stand in the same order, so that `configure` is enough. */
  fits(instances: readonly StageInstance[]): boolean {
    if (instances.length !== this.units.length) return false;
    for (let i = 0; i < instances.length; i++) if (instances[i]!.stage !== this.units[i]!.id) return false;
    return true;
  }

  /** @param from index in `instances` of this path's first stage. */
  configure(instances: readonly StageInstance[], from: number, atOnce: boolean): void {
    for (let i = 0; i < this.units.length; i++) this.units[i]!.unit.configure(instances[from + i]!, atOnce);
  }

  /** One tick, in place. State is flushed after each unit. */
  process(left: Float64Array, right: Float64Array): void {
    for (let i = 0; i < this.units.length; i++) {
      const { unit } = this.units[i]!;
      this.listen(i, 'input', left, right);
      unit.process(left, right, TICK);
      unit.flush();
      this.listen(i, 'output', left, right);
    }
  }

  /** The next tick begins at this sample of the song, as it enters the chain. */
  seek(songSample: number): void {
    for (let i = 0; i < this.units.length; i++) {
      const placed = this.units[i]!;
      placed.unit.seek(songSample - placed.upstreamSamples);
    }
  }

  passState(tape: StateTape): void {
    for (let i = 0; i < this.units.length; i++) this.units[i]!.unit.passState(tape);
  }

  indexOf(id: StageId): number {
    return this.units.findIndex((placed) => placed.id === id);
  }

  /** Copies what passes a stage into `tap` on every tick from now on. */
  tapAt(tap: PathTap): void {
    this.tap = tap;
  }

  private listen(index: number, where: 'input' | 'output', left: Float64Array, right: Float64Array): void {
    const { tap } = this;
    if (tap === null || tap.index !== index || tap.where !== where) return;
    tap.left.set(left);
    tap.right.set(right);
  }
}
