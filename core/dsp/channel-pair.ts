import { StateTape, type HasState } from './state-tape.js';

/**
 * The same work on two channels, done once for as long as both hear the same: a mono track costs one channel, and every bit is
 * that of two. What the left has heard is handed to the right with the first tick in which they differ.
 */
export class ChannelPair<Work extends HasState> {
  private alike = true;
  private readonly tape: StateTape;

  constructor(
    readonly left: Work,
    readonly right: Work,
  ) {
    this.tape = new StateTape(left);
  }

  /** Said before each tick. @returns whether the right channel is to be worked on, else it is a copy of the left. */
  hear(left: Float64Array, right: Float64Array, frameCount: number): boolean {
    if (this.alike && !sameFrames(left, right, frameCount)) {
      this.alike = false;
      this.tape.write(this.left);
      this.tape.read(this.right);
    }
    return !this.alike;
  }

  /** Both begin from nothing again. */
  reset(): void {
    this.alike = true;
  }

  passState(tape: StateTape): void {
    this.left.passState(tape);
    this.right.passState(tape);
    this.alike = tape.flag(this.alike);
  }
}

function sameFrames(left: Float64Array, right: Float64Array, frameCount: number): boolean {
  for (let n = 0; n < frameCount; n++) if (left[n] !== right[n]) return false;
  return true;
}
