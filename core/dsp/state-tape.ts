/** Whatever has state, shown to a tape: every array and every value of it, always in the same order. */
export interface HasState {
  /** The same method is used for both ways: arrays are read or filled, values come back as they are to be. */
  passState(tape: StateTape): void;
}

/**
 * The state of a unit laid down once and taken up again, as often as is wanted, by it or by another of the same make: from there
 * on that one gives the very bits the first one gave. Settings are not on the tape: both are to stand at the same ones, and no
 * change may be under way. `write` and `read` allocate nothing.
 */
export class StateTape {
  private readonly arrays: Float64Array[] = [];
  private readonly values: number[] = [];
  private way: 'make' | 'write' | 'read' = 'make';
  private nextArray = 0;
  private nextValue = 0;

  /** @param unit one of those that the tape is for: it says how long the tape must be. */
  constructor(unit: HasState) {
    unit.passState(this);
  }

  /** Lays down the state of a unit; what was on the tape is gone. */
  write(unit: HasState): void {
    this.run(unit, 'write');
  }

  /** Gives a unit the state that was written. */
  read(unit: HasState): void {
    this.run(unit, 'read');
  }

  array(state: Float64Array): void {
    if (this.way === 'make') this.arrays.push(new Float64Array(state.length));
    else if (this.way === 'write') this.arrays[this.nextArray]!.set(state);
    else state.set(this.arrays[this.nextArray]!);
    this.nextArray += 1;
  }

  /** @returns the value that is to be held from now on. */
  value(state: number): number {
    const place = this.nextValue;
    this.nextValue += 1;
    if (this.way === 'make') this.values.push(state);
    else if (this.way === 'write') this.values[place] = state;
    return this.values[place]!;
  }

  /** @returns the flag that is to be held from now on. */
  flag(state: boolean): boolean {
    return this.value(state ? 1 : 0) === 1;
  }

  private run(unit: HasState, way: 'write' | 'read'): void {
    this.way = way;
    this.nextArray = 0;
    this.nextValue = 0;
    unit.passState(this);
  }
}
