import { PlainError } from '../units/plain-error.js';
import { fileNameWords } from './file-name-words.js';
import { filePattern, shellWord } from './file-pattern.js';
import { roleFromName, roleFromWords, wordsBeforeRole, type RoleGuess } from './role-from-name.js';

/** The files that `--only` picks. @throws PlainError where it picks none. */
export function onlyFiles(files: readonly string[], pattern: string): string[] {
  const picked = files.filter(filePattern(pattern));
  if (picked.length > 0) return picked;
  throw new PlainError(
    `--only ${shellWord(pattern)}`,
    'No file of the folder has such a name.',
    `The files are: ${files.map(shellWord).join(', ')}.`,
  );
}

/**
 * Refuses a folder that holds the stems of two songs: two sets with different beginnings of their names, each with a kick and a
 * bass of its own. @throws PlainError naming the sets and the `--only` that picks one.
 */
export function refuseTwoSongs(files: readonly string[]): void {
  const sets = new Map<string, string[]>();
  for (const file of files) {
    const words = fileNameWords(file);
    const before = words.slice(0, wordsBeforeRole(words));
    const beginning = (/^\p{N}+$/u.test(before[0] ?? '') ? before.slice(1) : before).join(' ');
    if (beginning !== '' && before.length < words.length) sets.set(beginning, [...(sets.get(beginning) ?? []), file]);
  }
  const songs = [...sets.values()].filter(hasKickAndBass);
  if (songs.length < 2) return;
  const picks = songs.map((song) => `--only ${shellWord(`${commonStart(song)}*`)}`);
  throw new PlainError(
    'This folder',
    `It holds the stems of ${songs.length} songs, each with a kick and a bass of its own.`,
    `Pick one with ${picks.join(' or ')}, or take all as one song with --only "*".`,
  );
}

function hasKickAndBass(files: readonly string[]): boolean {
  const roles = files.map((file) => roleFromName(file).role);
  return roles.includes('kick') && roles.includes('bass');
}

function commonStart(names: readonly string[]): string {
  const first = names[0]!;
  let length = 0;
  while (length < first.length && names.every((name) => name[length] === first[length])) length++;
  return first.slice(0, length);
}

/**
 * What the names of a folder say, one guess per file. Words that all names begin with (a song's title, `Bass Hunt - Kick.wav`,
 * `Bass Hunt - Keys.wav`) are left out where only then both a kick and a bass are to be seen.
 */
export function rolesFromNames(files: readonly string[]): ReadonlyMap<string, RoleGuess> {
  const whole = new Map(files.map((file) => [file, roleFromName(file)]));
  if (files.length < 3) return whole;
  const words = files.map(fileNameWords);
  const shared = sharedWords(words);
  if (shared === 0) return whole;
  const rest = new Map(files.map((file, i) => [file, roleFromWords(words[i]!.slice(shared))]));
  return tellsKickFromBass(rest) && !tellsKickFromBass(whole) ? rest : whole;
}

function tellsKickFromBass(guesses: ReadonlyMap<string, RoleGuess>): boolean {
  const roles = [...guesses.values()].filter(({ confidence }) => confidence >= 0.6).map(({ role }) => role);
  return roles.includes('kick') && roles.includes('bass');
}

/** How many words all of one or more names begin with, at least one left over in each. */
function sharedWords(names: readonly (readonly string[])[]): number {
  const most = Math.min(...names.map((words) => words.length - 1));
  let count = 0;
  while (count < most && names.every((words) => words[count] === names[0]![count])) count++;
  return Math.max(0, count);
}
