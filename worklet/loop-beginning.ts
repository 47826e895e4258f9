import { StateTape } from '../core/dsp/state-tape.js';
import type { SongPlayer } from './song-player.js';

/**
 * How everything stood when a loop was begun, to begin each further round from: that costs a copy instead of a pre-roll, and all
 * rounds are the same to the last bit.
 */
export class LoopBeginning {
  private readonly tape: StateTape;
  private readonly make: number;
  private at = 0;
  private settledFor = 0;

  /** @param player one of the make that is to be kept. */
  constructor(player: SongPlayer) {
    this.tape = new StateTape(player);
    this.make = player.make;
  }

  /** What was kept belongs to another treatment. */
  forget(): void {
    this.settledFor = 0;
  }

  /** Keeps a player that is about to give out the loop's first frame, unless one is kept that had run for as long. */
  keep(player: SongPlayer): void {
    const { position, settledFor, make } = player;
    if (make !== this.make || settledFor <= (position === this.at ? this.settledFor : 0)) return;
    this.tape.write(player);
    this.at = position;
    this.settledFor = settledFor;
  }

  /** Whether a player is kept at this place that has run for as long as a pre-roll. */
  holds(at: number, preRoll: number): boolean {
    return at === this.at && this.settledFor > 0 && this.settledFor >= preRoll;
  }

  /** Puts a player where the one that was kept stood. */
  give(player: SongPlayer): void {
    player.resume(this.tape);
  }
}
