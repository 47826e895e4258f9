import type { MeasuredParts, PartName } from '../core/measure/measure-parts.js';
import type { Knowledge, SongSound } from '../core/measure/song-sound.js';
import type { StereoSignal } from '../core/signal/stereo-signal.js';
import type { MeasureHelper } from './second-thread.js';

/** A longer song is measured in one thread: a copy of its sound is more than the page has room for. */
const MOST_COPIED_BYTES = 300e6;
const BYTES_PER_SAMPLE = 4;

/**
 * The second thread's part of the measuring: it gets to know the kick and the bass as soon as these are read, and then measures.
 * Null stands for what it did not do, because there is no such thread, the song is too long, or it was lost on the way.
 */
export class MeasuredBeside {
  private helper: MeasureHelper | null = null;
  private readonly heard: { kick?: StereoSignal | null; bass?: StereoSignal | null } = {};
  private knowing: Promise<Knowledge | null> = Promise.resolve(null);

  constructor(private readonly newHelper: () => MeasureHelper | null) {}

  /** The kick first, then the bass. */
  hear(role: 'kick' | 'bass', sum: StereoSignal | null, frameCount: number): void {
    if (role === 'kick' && copiedBytes(sum, frameCount) <= MOST_COPIED_BYTES) this.helper ??= this.newHelper();
    if (this.helper === null) return;
    this.heard[role] = sum;
    if (role === 'kick') void this.orLost(this.helper.ask('hearKick', sum));
    else this.knowing = this.orLost(this.helper.ask('hearBass', sum));
  }

  /** Hits and notes of the song as it was opened in the end: heard once more where something was set aside. */
  async know({ kick, bass, rest, sampleRate_Hz, frameCount }: SongSound): Promise<Knowledge | null> {
    if (this.helper === null) return null;
    if (kick !== this.heard.kick || bass !== this.heard.bass) {
      this.hear('kick', kick, frameCount);
      this.hear('bass', bass, frameCount);
    }
    void this.orLost(this.helper.ask('hearRest', { rest, sampleRate_Hz, frameCount }));
    return this.knowing;
  }

  async measure(name: PartName): Promise<MeasuredParts | null> {
    return this.helper === null ? null : this.orLost(this.helper.ask('measure', name));
  }

  end(): void {
    this.helper?.end();
    this.helper = null;
  }

  private orLost<Answer>(answer: Promise<Answer>): Promise<Answer | null> {
    return answer.catch(() => {
      this.end();
      return null;
    });
  }
}

/** Of all three sums, taking the bass and the rest for stereo. */
function copiedBytes(kick: StereoSignal | null, frameCount: number): number {
  const channels = (kick === null ? 0 : kick.left === kick.right ? 1 : 2) + 4;
  return channels * frameCount * BYTES_PER_SAMPLE;
}
