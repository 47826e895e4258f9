import { roleFromSound } from '../measure/role-from-sound.js';
import { assignRoles, type AssignedRole, type RoleSources } from '../song/assign-roles.js';
import type { JobHost } from './job-host.js';
import type { OpenStem } from './open-stems.js';
import { readStem } from './read-stem.js';

export type RoleOptions = Pick<RoleSources, 'overrides' | 'remembered' | 'only'>;

export interface NamedRoles {
  roleOf(file: string): AssignedRole;
  readonly remarks: readonly string[];
}

/** Why a file has no part in this song: another one was chosen with `--only`. */
export const NOT_CHOSEN = 'not among --only';

/**
 * The role of every stem: what the engineer says, what the session remembers, what the name says, and where that is not sure
 * what the file sounds like.
 * @throws PlainError where a role is not sure: it is asked.
 */
export async function nameRoles(host: JobHost, stems: readonly OpenStem[], options: RoleOptions): Promise<NamedRoles> {
  const { roles, remarks } = await assignRoles(
    stems.map(({ file }) => file),
    {
      ...options,
      roleFromSound: async (file) => {
        host.progress?.(`listening to ${file}`, 0, 1);
        const signal = await readStem(stems.find((stem) => stem.file === file)!.reader);
        return roleFromSound(signal);
      },
    },
  );
  const byFile = new Map(roles.map((role) => [role.file, role]));
  const leftOut = (file: string): AssignedRole => ({ file, role: 'aside', because: NOT_CHOSEN, confidence: 1 });
  return { roleOf: (file) => byFile.get(file) ?? leftOut(file), remarks };
}
