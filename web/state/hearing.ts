import type { LevelMatch } from '../../core/measure/level-match.js';
import type { BlindCompareRecord } from '../../core/session/session-format.js';
import type { Treatment } from '../../core/treatment/treatment.js';
import type { Unmeasurable } from '../../core/units/reading.js';
import type { HeardPart } from '../../protocol/heard-part.js';
import type { ReferenceLoudness } from '../../protocol/job-messages.js';
import type { SoundAnswer, SoundRequest } from '../../protocol/sound-request.js';
import type { WorkbenchGround } from './workbench-ground.js';

/** What is asked about the sound, and what was found by ear. */
export class Hearing {
  constructor(private readonly ground: WorkbenchGround) {}

  /** Frames of the song, for the audio thread. */
  readonly sound = (request: SoundRequest): Promise<SoundAnswer> => this.ground.player.ask('sound', request);

  /** The match of a part under a treatment. */
  readonly match = (treatment: Treatment, part: HeardPart): Promise<LevelMatch | Unmeasurable> =>
    this.ground.client.ask('match', { treatment, part });

  readonly loudness = (reference: string): Promise<ReferenceLoudness> =>
    this.ground.client.ask('loudness', { reference });

  /** A blind compare that was begun stays in the session, however it ended: it is a fact, and no step that is taken back. */
  keepCompare(record: BlindCompareRecord): void {
    const { history, song, readsOnly } = this.ground.store.read();
    if (song === null || readsOnly) return;
    this.ground.amend({ blindCompares: [...history.session.blindCompares, record] });
  }
}
