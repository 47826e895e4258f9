import { PlainError } from '../units/plain-error.js';
import { shellWord } from './file-pattern.js';
import type { RoleGuess } from './role-from-name.js';
import { overriddenRoles, type RoleOverride } from './role-override.js';
import { onlyFiles, refuseTwoSongs, rolesFromNames } from './song-sets.js';
import type { Role } from './song.js';

/** Under this the engineer is asked. */
export const ASKED_UNDER = 0.6;

export interface AssignedRole {
  readonly file: string;
  readonly role: Role;
  readonly because: string;
  readonly confidence: number;
}

export interface RoleSources {
  /** Said now, with `--role`. */
  readonly overrides?: readonly RoleOverride[];
  /** Said or found before, from the session file. */
  readonly remembered?: readonly { readonly file: string; readonly role: Role; readonly because: string }[];
  /** What the file sounds like; asked only where the name is not sure. */
  readonly roleFromSound?: (file: string) => Promise<RoleGuess | null>;
  /** Takes only the files that fit this pattern. */
  readonly only?: string;
}

export interface SongRoles {
  readonly roles: readonly AssignedRole[];
  /** What the engineer should know: no kick, no bass. Whole sentences. */
  readonly remarks: readonly string[];
}

/**
 * The role of every file: what the engineer says now, then what the session remembers, then what the name says, then what the
 * file sounds like. Order of the files is kept.
 *
 * @throws PlainError where the folder holds two songs, a role cannot be told, or there is neither kick nor bass.
 */
export async function assignRoles(files: readonly string[], sources: RoleSources = {}): Promise<SongRoles> {
  const taken = sources.only === undefined ? files : onlyFiles(files, sources.only);
  const said = overriddenRoles(taken, sources.overrides ?? []);
  const remembered = new Map((sources.remembered ?? []).map((stem) => [stem.file, stem]));
  const known = (file: string) => said.has(file) || remembered.has(file);
  if (sources.only === undefined && !taken.every(known)) refuseTwoSongs(taken);

  const names = rolesFromNames(taken);
  const roles: AssignedRole[] = [];
  const doubtful: { file: string; guess: RoleGuess }[] = [];
  for (const file of taken) {
    const role = said.get(file);
    const before = remembered.get(file);
    if (role !== undefined) roles.push({ file, role, because: 'you said so', confidence: 1 });
    else if (before !== undefined) roles.push({ file, role: before.role, because: before.because, confidence: 1 });
    else {
      const guess = await heard(file, names.get(file)!, sources.roleFromSound);
      if (guess.role === null || guess.confidence < ASKED_UNDER) doubtful.push({ file, guess });
      else roles.push({ file, role: guess.role, because: guess.because, confidence: guess.confidence });
    }
  }
  if (doubtful.length > 0) throw questionAbout(doubtful);
  return { roles, remarks: remarksOn(roles) };
}

/** The name's guess where it is sure, else what name and sound say together. */
async function heard(file: string, name: RoleGuess, listen: RoleSources['roleFromSound']): Promise<RoleGuess> {
  if (name.confidence >= ASKED_UNDER || listen === undefined || name.kickAndBass) return name;
  const sound = await listen(file);
  return sound === null ? name : nameAndSound(name, sound);
}

/**
 * A doubtful name with a sound. Where both say the same, the doubts multiply: 1 - (1 - name)(1 - sound). Where they differ, the
 * sound counts, less the name's confidence times its own doubt.
 */
export function nameAndSound(name: RoleGuess, sound: RoleGuess): RoleGuess {
  if (sound.role === null) return name;
  if (name.role === null) return sound;
  if (name.role === sound.role) {
    const confidence = 1 - (1 - name.confidence) * (1 - sound.confidence);
    return { role: name.role, because: `${name.because}, and ${sound.because}`, confidence };
  }
  const confidence = sound.confidence * (1 - name.confidence * (1 - sound.confidence));
  return { role: sound.role, because: `${name.because}, but ${sound.because}`, confidence };
}

function questionAbout(doubtful: readonly { file: string; guess: RoleGuess }[]): PlainError {
  const together = doubtful.find(({ guess }) => guess.kickAndBass);
  if (together !== undefined) {
    return new PlainError(
      together.file,
      `Kick and bass seem to be in one stem (${together.guess.because}), and what is mixed cannot be told apart.`,
      `Export them as two stems; or, if it holds one of them only, say which: --role bass=${shellWord(together.file)}`,
    );
  }
  const lines = doubtful.map(({ file, guess }) => `--role ${guess.role ?? 'rest'}=${shellWord(file)}`);
  const reasons = doubtful.map(({ file, guess }) => `${file} (${guess.because})`);
  return new PlainError(
    reasons.join('; '),
    doubtful.length === 1 ? 'Its role is not sure.' : 'Their roles are not sure.',
    `Say what ${doubtful.length === 1 ? 'it is' : 'they are'} (kick, bass, rest, mix, reference or aside), for instance: ${lines.join(' ')}`,
  );
}

function remarksOn(roles: readonly AssignedRole[]): string[] {
  const has = (wanted: Role) => roles.some(({ role }) => role === wanted);
  if (!has('kick') && !has('bass')) {
    throw new PlainError(
      'This song',
      roles.length === 0 ? 'It has no stems.' : 'It has neither a kick nor a bass.',
      roles.length === 0
        ? 'Put the stems of one song into the folder, as WAV, AIFF or FLAC.'
        : `Add one, or say which file it is: --role kick=${shellWord(roles[0]!.file)}`,
    );
  }
  if (!has('kick')) return ['There is no kick among the stems: clearance and agreement cannot be measured.'];
  if (!has('bass')) return ['There is no bass among the stems: only what concerns the kick can be measured.'];
  return [];
}
