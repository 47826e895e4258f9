import type { LevelCourse } from '../../../core/measure/level-course.js';
import type { OpenedSong } from '../../../protocol/inspect-told.js';
import type { ListedSong } from '../../../protocol/job-messages.js';
import type { Role } from '../../../core/song/song.js';

/** One row of the table of stems. */
export interface StemRow {
  readonly file: string;
  readonly format: string;
  /** Null while it is not known. */
  readonly role: Role | null;
  readonly because: string;
  /** Sentences; empty where there is nothing to tell. */
  readonly toKnow: readonly string[];
  /** Whether it was read through, so that there is nothing more to know. */
  readonly isRead: boolean;
  readonly readable: boolean;
  /** How loud it is through the song; null where it was not heard. */
  readonly level: LevelCourse | null;
}

/** The stems as far as they are known: listed first, then with what was measured; roles by hand stand at once. */
export function stemRows(
  listed: ListedSong,
  opened: Pick<OpenedSong, 'stems' | 'levels'> | null,
  byHand: ReadonlyMap<string, Role>,
): readonly StemRow[] {
  const stems = new Map((opened?.stems ?? []).map((stem) => [stem.file, stem]));
  return listed.stems.map(({ file, format, trouble }) => {
    const stem = stems.get(file);
    const said = byHand.get(file);
    const toKnow = [...(trouble === null ? [] : [trouble]), ...faultSentences(stem, trouble !== null)];
    return {
      file,
      format,
      role: said ?? stem?.role ?? null,
      because: said !== undefined ? 'you said so' : (stem?.because ?? ''),
      toKnow,
      isRead: stem !== undefined,
      readable: trouble === null,
      level: opened?.levels.find((level) => level.file === file) ?? null,
    };
  });
}

function faultSentences(stem: OpenedSong['stems'][number] | undefined, unreadable: boolean): string[] {
  return unreadable ? [] : (stem?.faults ?? []).map(({ sentence }) => sentence);
}
