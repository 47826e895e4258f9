import { PlainError } from '../units/plain-error.js';
import { filePattern, shellWord } from './file-pattern.js';
import { ROLES, type Role } from './song.js';

/** What the engineer says of a file, or of all files that fit a pattern. */
export interface RoleOverride {
  readonly role: Role;
  /** A file name, or a pattern with `*` and `?`. */
  readonly pattern: string;
}

/** Reads `kick=01 Kick In.wav`. @throws PlainError where it is not a role, `=` and a name. */
export function parseRoleOverride(text: string): RoleOverride {
  const at = text.indexOf('=');
  const role = text.slice(0, Math.max(at, 0)).trim().toLowerCase() as Role;
  const pattern = text.slice(at + 1).trim();
  if (at < 0 || pattern === '' || !ROLES.includes(role)) {
    throw new PlainError(
      `--role ${text}`,
      'It takes a role and a file name.',
      `Write it like --role kick="01 Kick In.wav"; roles are ${ROLES.join(', ')}.`,
    );
  }
  return { role, pattern };
}

/**
 * The role the engineer gave to each file. A full name goes before a pattern, and the last word counts.
 * @throws PlainError where an override fits no file.
 */
export function overriddenRoles(
  files: readonly string[],
  overrides: readonly RoleOverride[],
): ReadonlyMap<string, Role> {
  const roles = new Map<string, Role>();
  const exactFirst = [...overrides].sort(
    (a, b) => Number(files.includes(a.pattern)) - Number(files.includes(b.pattern)),
  );
  for (const { role, pattern } of exactFirst) {
    const fits = filePattern(pattern);
    const named = files.includes(pattern) ? [pattern] : files.filter(fits);
    if (named.length === 0) {
      throw new PlainError(
        `--role ${role}=${shellWord(pattern)}`,
        'No file of the song has this name.',
        `The files are: ${files.map(shellWord).join(', ')}.`,
      );
    }
    for (const file of named) roles.set(file, role);
  }
  return roles;
}
