import type { OpenStem } from '../core/job/open-stems.js';
import { ASKED_UNDER } from '../core/song/assign-roles.js';
import { rolesFromNames } from '../core/song/song-sets.js';
import type { Role } from '../core/song/song.js';

/**
 * Roles before anything is listened to: what was said or remembered, else what the name says where it is sure. A doubtful file
 * counts as rest, so that it is heard.
 */
export function namedAtOnce(
  stems: readonly OpenStem[],
  known: readonly { readonly file: string; readonly role: Role }[],
): (file: string) => Role {
  const said = new Map(known.map(({ file, role }) => [file, role]));
  const names = rolesFromNames(stems.map(({ file }) => file));
  return (file) => {
    const guess = names.get(file);
    const sure = guess !== undefined && guess.role !== null && guess.confidence >= ASKED_UNDER;
    return said.get(file) ?? (sure ? guess.role! : 'rest');
  };
}
