import { InvalidArgumentError } from 'commander';
import { parseRoleOverride, type RoleOverride } from '../core/song/role-override.js';
import { parseWishAssignment } from '../core/wishes/wish-text.js';
import { parseValue } from '../core/wishes/value-text.js';
import { isNamePattern } from '../core/delivery/name-pattern.js';
import type { TreatedRole } from '../core/treatment/treatment.js';
import type { Wish } from '../core/wishes/wish.js';

/** What every command on a song takes. */
export interface SongRequest {
  readonly folder: string;
  readonly roles: readonly RoleOverride[];
  readonly only: string | null;
  /** Gain of mono stems in both channels; null: as the session remembers, else 0. */
  readonly monoStems_dB: number | null;
  readonly strict: boolean;
  readonly json: boolean;
}

export type PrintFormat = '16' | '24' | '32f' | 'source';
export const PRINT_FORMATS: readonly PrintFormat[] = ['16', '24', '32f', 'source'];

/** Where and how prints are written; null: as they were printed last, and as usual before the first print. */
export interface PrintRequest extends SongRequest {
  readonly format: PrintFormat | null;
  /** A gain on every rendered file, where an integer print would pass full scale. */
  readonly gain_dB: number | null;
  readonly printRoles: readonly TreatedRole[] | null;
  readonly singleStems: boolean | null;
  /** Pattern of the file names. */
  readonly printName: string | null;
}

export interface TreatRequest extends PrintRequest {
  readonly accept: readonly string[] | 'all';
  readonly leave: readonly { readonly finding: string; readonly reason: string }[];
  readonly later: readonly string[];
  readonly wishes: readonly Wish[];
  /** Text as typed: the stage declares how its value is read. */
  readonly settings: readonly { readonly address: string; readonly text: string }[];
  readonly print: boolean;
}

export interface DemoRequest {
  readonly output: string | null;
  readonly json: boolean;
}

/** For repeated options: each value read and added to the ones before. */
export function repeated<Value>(read: (text: string) => Value): (text: string, before: Value[] | undefined) => Value[] {
  return (text, before) => [...(before ?? []), read(text)];
}

/** `wide-lows,covered-kick` or `all`; repeated options add up. */
export function readAccept(text: string, before: string[] | undefined): string[] {
  return [...(before ?? []), ...splitNames(text)];
}

function splitNames(text: string): string[] {
  const names = text.split(',').map((name) => name.trim());
  if (names.some((name) => !/^[a-z][a-z-]*$/.test(name))) {
    throw new InvalidArgumentError('Name findings as inspect does: --accept wide-lows,covered-kick, or --accept all.');
  }
  return names;
}

/** `wide-lows=the chorus wants it`. */
export function readLeave(text: string): { finding: string; reason: string } {
  const match = /^([a-z][a-z-]*)=(.+)$/s.exec(text.trim());
  if (match === null) throw new InvalidArgumentError('Give the reason: --leave wide-lows="the chorus wants it".');
  return { finding: match[1]!, reason: match[2]!.trim() };
}

/** `bass.make-room.cut_dB=3`. */
export function readSetting(text: string): { address: string; text: string } {
  const match = /^([^=]+\.[^=]+)=(.+)$/s.exec(text.trim());
  if (match === null) throw new InvalidArgumentError('Name the setting and its value: --set bass.make-room.cut_dB=3.');
  return { address: match[1]!.trim(), text: match[2]!.trim() };
}

/** `-1.5` or `-1.5 dB`. */
export function readGain(text: string): number {
  try {
    return parseValue(text, { unit: 'dB' });
  } catch {
    throw new InvalidArgumentError('Give a gain in dB: --gain -1.5.');
  }
}

/** `kick,bass`. */
export function readPrintRoles(text: string): TreatedRole[] {
  const roles = text.split(',').map((role) => role.trim());
  if (roles.every((role): role is TreatedRole => role === 'kick' || role === 'bass' || role === 'rest')) return roles;
  throw new InvalidArgumentError('Name roles that are printed: --print-roles kick,bass.');
}

/** `{name} low end`. */
export function readPrintName(text: string): string {
  if (isNamePattern(text)) return text;
  throw new InvalidArgumentError('Write {name} in it, and no sign that a disk does not take: --name "{name} treated".');
}

/** A pan law: 0 to -12 dB. */
export function readMonoStems(text: string): number {
  const gain_dB = readGain(text);
  if (gain_dB > 0 || gain_dB < -12) throw new InvalidArgumentError('Give 0 to -12 dB: --mono-stems -3.');
  return gain_dB;
}

export const readRole = repeated(parseRoleOverride);
export const readWish = repeated(parseWishAssignment);
