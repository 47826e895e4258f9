import { knowKick } from '../core/measure/know-song.js';
import { measureParts } from '../core/measure/measure-parts.js';
import type { Knowledge, SongSound } from '../core/measure/song-sound.js';
import type { HeardSums, MeasureTasks } from '../protocol/measure-tasks.js';
import type { Desk } from './question-loop.js';

type Answer<Task extends keyof MeasureTasks> = Promise<MeasureTasks[Task]['answer']>;

const NOTHING: SongSound = {
  ...{ sampleRate_Hz: 0, frameCount: 0, kick: null, bass: null, rest: null },
  tracks: { kick: [], bass: [], rest: [] },
};

/** Measures parts of a song on copies of the sums of its roles. */
export class MeasureDesk implements Desk<MeasureTasks> {
  private sound = NOTHING;
  private known: Knowledge | null = null;

  async hear(sums: HeardSums): Answer<'hear'> {
    this.sound = { ...this.sound, ...sums };
    return null;
  }

  async knowKick(): Answer<'knowKick'> {
    return knowKick(this.sound.kick);
  }

  async learn(known: Knowledge): Answer<'learn'> {
    this.known = known;
    return null;
  }

  async measure(name: MeasureTasks['measure']['ask']): Answer<'measure'> {
    return measureParts(this.sound, this.known, [name]);
  }
}
