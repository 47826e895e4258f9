import { bassTracks } from '../core/measure/bass-notes.js';
import { knowKick, knowWithBass, type KnownKick } from '../core/measure/know-song.js';
import { MEASURE_PARTS, PART_NAMES, type MeasuredParts, type PartName } from '../core/measure/measure-parts.js';
import type { Knowledge, SongSound } from '../core/measure/song-sound.js';
import { isMono } from '../core/signal/stereo-signal.js';
import type { HeardSums, MeasureTasks } from '../protocol/measure-tasks.js';
import type { MeasureHelper } from './second-thread.js';

/** A longer song is measured in one thread: a copy of its sound is more than the page has room for. */
const MOST_COPIED_BYTES = 300e6;
const BYTES_PER_SAMPLE = 4;

/**
 * The second thread's share. It looks for the kick's hits while this thread follows the bass, measures what needs kick and bass
 * alone while the other files are read, and then whatever it is asked. Null stands for what it did not do: there is no such
 * thread, the song is too long for it, or it was lost on the way.
 */
export class MeasuredBeside {
  private helper: MeasureHelper | null = null;
  private heard: HeardSums = {};
  private hits: Promise<KnownKick | null> = Promise.resolve(null);
  private known: Knowledge | null = null;
  private readonly early = new Map<PartName, Promise<MeasuredParts | null>>();

  constructor(private readonly newHelper: () => MeasureHelper | null) {}

  /** The kick is read. */
  hearKick({ kick, sampleRate_Hz, frameCount }: SongSound): void {
    if (copiedBytes(kick, frameCount) <= MOST_COPIED_BYTES) this.helper = this.newHelper();
    this.hear({ kick, sampleRate_Hz, frameCount });
    this.hits = this.ask('knowKick', null);
  }

  /** The bass is read too: notes follow from it and the hits. */
  async hearBass({ bass }: SongSound): Promise<Knowledge | null> {
    if (this.helper === null) return null;
    this.hear({ bass });
    const tracks = bass === null ? undefined : bassTracks(bass);
    const kick = (await this.hits) ?? knowKick(this.heard.kick!);
    const known = knowWithBass(kick, bass, tracks);
    this.learn(known);
    for (const name of PART_NAMES) {
      if (MEASURE_PARTS[name].of === 'kickAndBass') this.early.set(name, this.ask('measure', name));
    }
    return known;
  }

  /** All is read: hits and notes of the song as it came out; null where they must be found anew, as a part was set aside. */
  knownOf({ kick, bass, rest }: SongSound): Knowledge | null {
    const isSame = kick === this.heard.kick && bass === this.heard.bass;
    this.hear(isSame ? { rest } : { kick, bass, rest });
    if (isSame) return this.known;
    this.early.clear();
    return null;
  }

  learn(known: Knowledge): void {
    this.known = known;
    void this.ask('learn', known);
  }

  /** Parts that are measured already, or under way. */
  begun(): ReadonlyMap<PartName, Promise<MeasuredParts | null>> {
    return this.early;
  }

  measure(name: PartName): Promise<MeasuredParts | null> {
    return this.ask('measure', name);
  }

  end(): void {
    this.helper?.end();
    this.helper = null;
  }

  private hear(sums: HeardSums): void {
    this.heard = { ...this.heard, ...sums };
    void this.ask('hear', sums);
  }

  private async ask<Task extends keyof MeasureTasks>(
    task: Task,
    ask: MeasureTasks[Task]['ask'],
  ): Promise<MeasureTasks[Task]['answer'] | null> {
    const { helper } = this;
    try {
      return helper === null ? null : await helper.ask(task, ask);
    } catch {
      this.end();
      return null;
    }
  }
}

/** Of all three sums, taking the bass and the rest for stereo. */
function copiedBytes(kick: SongSound['kick'], frameCount: number): number {
  const channels = (kick === null ? 0 : isMono(kick) ? 1 : 2) + 4;
  return channels * frameCount * BYTES_PER_SAMPLE;
}
