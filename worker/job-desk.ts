import { findFaults } from '../core/findings/find-faults.js';
import type { Inspection } from '../core/job/inspect-song.js';
import type { JobHost } from '../core/job/job-host.js';
import type { ProgressListener, SongFolder } from '../core/job/ports.js';
import { printAndProve } from '../core/job/print-and-prove.js';
import { reachedStages } from '../core/job/reached-stages.js';
import { loadSession, rememberedOptions, saveSession, withRoles } from '../core/job/session-store.js';
import { solveInspection, untreated } from '../core/job/solve-inspection.js';
import type { TreatOutcome } from '../core/job/treat-song.js';
import { SESSION_FILE } from '../core/session/session-file.js';
import type { Session } from '../core/session/session-format.js';
import type { Solution } from '../core/solve/solve-song.js';
import { PlainError } from '../core/units/plain-error.js';
import { compressedDecoders } from '../decoders/compressed-decoders.js';
import type { InspectTold } from '../protocol/inspect-told.js';
import type { JobTask, JobTasks, PrintedSong, SolvedSong } from '../protocol/job-messages.js';
import { agreedOf } from './agreed-of.js';
import { fingerprint } from './fingerprint.js';
import { heldWhole } from './held-whole.js';
import { demoSource } from './demo-source.js';
import { inspectInParts } from './inspect-in-parts.js';
import { listedSong } from './listed-song.js';
import { nextTask } from './next-task.js';
import { partMatch } from './part-match.js';
import { referenceLoudness, songLoudness } from './reference-loudness.js';
import type { MeasureHelper } from './second-thread.js';
import { songFolderOf } from './song-folder-of.js';
import { withRestTracks } from './with-rest-tracks.js';
import { withoutSound } from './without-sound.js';
import { zipPrints } from './zip-prints.js';

type Answer<Task extends JobTask> = Promise<JobTasks[Task]['answer']>;
type Ask<Task extends JobTask> = JobTasks[Task]['ask'];

/** What the thread lends to its desk. */
export interface DeskWays {
  readonly progress: ProgressListener;
  tell(told: InspectTold): void;
  /** A thread that measures beside this one, begun anew each time; null where the machine has none to give. */
  helper(): MeasureHelper | null;
}

/** Holds one song with its sound and does the job on it, step by step, over the functions of the core. */
export class JobDesk {
  private folder: SongFolder | null = null;
  private writable = false;
  private inspection: Inspection | null = null;
  /** What was solved last, for which session. */
  private solved: { readonly key: string; readonly solution: Solution | null } | null = null;
  private savedBefore: Session | null = null;
  private stopAsked = false;

  constructor(private readonly ways: DeskWays) {}

  async list({ source }: Ask<'list'>): Answer<'list'> {
    this.inspection = null;
    this.solved = null;
    this.savedBefore = null;
    this.writable = source.kind === 'folder';
    const made = source.kind === 'demo' ? await demoSource(this.ways.progress) : source;
    this.folder = await songFolderOf(made);
    return { ...(await listedSong(this.host, this.writable)), source: made };
  }

  async inspect({ session, roles }: Ask<'inspect'>): Answer<'inspect'> {
    this.inspection = null;
    this.solved = null;
    const overrides = roles.map(({ file, role }) => ({ role, pattern: file }));
    const { host, ways } = this;
    const inspection = await inspectInParts(host, rememberedOptions(session, { overrides }), {
      helper: () => ways.helper(),
      orders: session.orders,
      tell: ways.tell,
    });
    this.inspection = inspection;
    return withRoles(session, inspection.song);
  }

  async solve({ session }: Ask<'solve'>): Answer<'solve'> {
    const { song } = this.opened;
    if ((this.solved?.solution?.stopped ?? null) !== null) this.solved = null; // asked again, it is solved to the end
    const solution = await this.solutionOf(session);
    if (solution === null) return null;
    return {
      solution: withoutSound(solution),
      faultsAfter: findFaults(solution.after, song.stems),
      match: await this.match({ treatment: solution.treatment, part: 'all' }),
    } satisfies SolvedSong;
  }

  async match({ treatment, part }: Ask<'match'>): Answer<'match'> {
    const { song } = this.opened;
    const solution = this.solved?.solution ?? null;
    const isSolved = solution !== null && JSON.stringify(solution.treatment) === JSON.stringify(treatment);
    const sound = await withRestTracks(song, treatment, part);
    return partMatch({ sound, treatment, part, whole: isSolved ? solution.walk : null });
  }

  async loudness({ reference }: Ask<'loudness'>): Answer<'loudness'> {
    const song_LUFS = songLoudness(this.opened);
    return { song_LUFS, reference_LUFS: await referenceLoudness(this.opened, reference) };
  }

  async print({ session, choices }: Ask<'print'>): Answer<'print'> {
    const inspection = this.opened;
    const solution = await this.solutionOf(session);
    const treatment = session.treatment ?? solution?.treatment ?? untreated(inspection, session.orders);
    const outcome: TreatOutcome = {
      ...{ inspection, solution, treatment },
      session: { ...session, treatment: solution === null ? null : treatment },
      findings: [],
      agreed: solution !== null,
      remarks: [],
    };
    const { printed, proof } = await printAndProve(this.host, outcome, choices);
    const paths = [SESSION_FILE, ...printed.files.map(({ path }) => path)];
    return {
      ...{ printed, proof },
      reached: reachedStages(outcome, proof),
      session: await loadSession(this.host),
      zip: this.writable ? null : await zipPrints(this.host.folder, paths),
    } satisfies PrintedSong;
  }

  async stop(): Answer<'stop'> {
    this.stopAsked = true;
    return null;
  }

  /** Saves the session beside the stems; without a folder to write into it does nothing. */
  async save({ session }: Ask<'save'>): Answer<'save'> {
    if (!this.writable) return null;
    await saveSession(this.host, session, this.savedBefore ?? session);
    this.savedBefore = session;
    return null;
  }

  private get host(): JobHost {
    if (this.folder === null) throw new PlainError('The song', 'It is not open.', 'Open it again.');
    const { progress } = this.ways;
    return {
      ...{ folder: this.folder, decoders: compressedDecoders, fingerprint, held: heldWhole, progress },
      checkpoint: () => this.lookUp(),
    };
  }

  /** Between renders: what waits to be heard is heard, and with it whether to go on. */
  private async lookUp(): Promise<'go on' | 'stop'> {
    await nextTask();
    return this.stopAsked ? 'stop' : 'go on';
  }

  private get opened(): Inspection {
    if (this.inspection === null) throw new PlainError('The song', 'It is not measured yet.', 'Wait until it is.');
    return this.inspection;
  }

  /** The same decisions, wishes and settings are not solved twice. */
  private async solutionOf(session: Session): Promise<Solution | null> {
    const key = JSON.stringify([session.decisions, session.wishes, session.settings, session.orders]);
    if (this.solved?.key !== key) {
      this.stopAsked = false;
      const solution = await solveInspection(this.opened, agreedOf(session, this.opened), this.host);
      this.solved = { key, solution };
    }
    return this.solved.solution;
  }
}
