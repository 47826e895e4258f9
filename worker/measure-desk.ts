import { knowKick, knowWithBass, type KnownKick } from '../core/measure/know-song.js';
import { measureParts } from '../core/measure/measure-parts.js';
import type { Knowledge, SongSound } from '../core/measure/song-sound.js';
import type { StereoSignal } from '../core/signal/stereo-signal.js';
import type { HeardRest, MeasureTasks } from '../protocol/measure-tasks.js';
import type { Desk } from './question-loop.js';

/** Knows a song and measures parts of it on copies of the sums of its roles. */
export class MeasureDesk implements Desk<MeasureTasks> {
  private kick: StereoSignal | null = null;
  private bass: StereoSignal | null = null;
  private knownKick: KnownKick = knowKick(null);
  private known: Knowledge | null = null;
  private sound: SongSound | null = null;

  async hearKick(kick: StereoSignal | null): Promise<null> {
    this.kick = kick;
    this.knownKick = knowKick(kick);
    return null;
  }

  async hearBass(bass: StereoSignal | null): Promise<Knowledge> {
    this.bass = bass;
    this.known = knowWithBass(this.knownKick, bass);
    return this.known;
  }

  async hearRest({ rest, sampleRate_Hz, frameCount }: HeardRest): Promise<null> {
    const { kick, bass } = this;
    this.sound = { sampleRate_Hz, frameCount, kick, bass, rest, tracks: { kick: [], bass: [], rest: [] } };
    return null;
  }

  async measure(name: MeasureTasks['measure']['ask']): Promise<MeasureTasks['measure']['answer']> {
    return measureParts(this.sound!, this.known, [name]);
  }
}
