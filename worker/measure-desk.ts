import { knowSong } from '../core/measure/know-song.js';
import { measureParts } from '../core/measure/measure-parts.js';
import type { Knowledge, SongSound } from '../core/measure/song-sound.js';
import type { MeasureTasks } from '../protocol/measure-tasks.js';
import type { Desk } from './question-loop.js';

/** Measures parts of a song of which it was given a copy. */
export class MeasureDesk implements Desk<MeasureTasks> {
  private sound: SongSound | null = null;
  private known: Knowledge | null = null;

  async take(sound: SongSound): Promise<null> {
    this.sound = sound;
    return null;
  }

  async know(): Promise<Knowledge> {
    this.known = knowSong(this.sound!);
    return this.known;
  }

  async measure(name: MeasureTasks['measure']['ask']): Promise<MeasureTasks['measure']['answer']> {
    return measureParts(this.sound!, this.known, [name]);
  }
}
