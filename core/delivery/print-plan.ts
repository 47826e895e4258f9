import type { PrintDepth } from '../audio-file/sample-encoder.js';
import type { Stem } from '../song/song.js';
import { isLinear, isTreated } from '../treatment/paths.js';
import type { TreatedRole, Treatment } from '../treatment/treatment.js';

/** One file to be delivered. Names are relative to the version's folder. */
export type PrintItem = CopyItem | RenderItem;

/** Nothing is on in its path: the file is copied byte for byte. */
export interface CopyItem {
  readonly kind: 'copy';
  readonly role: TreatedRole;
  readonly name: string;
  readonly file: string;
}

export interface RenderItem {
  readonly kind: 'bus' | 'track';
  readonly role: TreatedRole;
  readonly name: string;
  /** The source files it holds; its chunks are carried over from the first. */
  readonly files: readonly string[];
  readonly depth: PrintDepth;
  readonly channels: 1 | 2;
  /** Where it begins and how long it is, in samples of the song: as its sources. */
  readonly start: number;
  readonly frameCount: number;
}

/** A stem as the plan needs it. */
export interface PlannedStem {
  readonly stem: Stem;
  /** In samples of the song's rate. */
  readonly start: number;
  readonly frameCount: number;
}

export interface PrintWishes {
  /** Depth of every rendered file; null keeps the sources'. */
  readonly depth: PrintDepth | null;
  /** Roles to print; all of them where it is left out. */
  readonly roles?: readonly TreatedRole[];
  /** False: no single stems beside a role that is printed as one. */
  readonly singleStems?: boolean;
  /** How files are called: `{name}` stands for what they are called else. */
  readonly name?: string;
}

/** Single stems of a role that is printed as one stand apart, so that they are not added to it by mistake. */
export const SINGLE_STEMS_FOLDER = 'single stems';

/**
 * What to print of each role: with nothing on its files are copied; else kick and bass are one print each (and their single
 * stems beside where the path is linear), rest file by file. `mix`, `reference` and `aside` are never printed.
 */
export function printPlan(treatment: Treatment, stems: readonly PlannedStem[], wishes: PrintWishes): PrintItem[] {
  const roles = (['kick', 'bass', 'rest'] as const).filter((role) => wishes.roles?.includes(role) ?? true);
  const items = roles.flatMap((role) => {
    const sources = stems.filter(({ stem }) => stem.role === role);
    if (sources.length === 0) return [];
    if (role === 'rest') return sources.map((source) => restItem(treatment, source, wishes));
    if (!isTreated(treatment, role)) return sources.map((source) => copyOf(source));
    return roleItems(treatment, role, sources, wishes);
  });
  return withOwnNames(items.map((item) => ({ ...item, name: namedBy(wishes.name ?? '{name}', item.name) })));
}

/** The pattern goes for the file's own name, not for its folder and its ending. */
function namedBy(pattern: string, name: string): string {
  const [, folder = '', own = '', ending = ''] = /^(.*\/)?([^/]*?)(\.[^./]*)?$/.exec(name) ?? [];
  return `${folder}${pattern.replaceAll('{name}', () => own)}${ending}`;
}

function copyOf({ stem }: PlannedStem): CopyItem {
  return { kind: 'copy', role: stem.role as TreatedRole, name: stem.file, file: stem.file };
}

function restItem(treatment: Treatment, source: PlannedStem, wishes: PrintWishes): PrintItem {
  const path = treatment.rest.tracks.find((track) => track.file === source.stem.file);
  const on = path?.stages.some((instance) => instance.on) ?? false;
  return on ? rendered('track', 'rest', wavName(source.stem.file), [source], wishes, 2) : copyOf(source);
}

function roleItems(
  treatment: Treatment,
  role: 'kick' | 'bass',
  sources: readonly PlannedStem[],
  wishes: PrintWishes,
): RenderItem[] {
  const wide = treatment[role].lanes.high.some((instance) => instance.on && instance.stage === 'widen');
  const channels = wide ? 2 : 1;
  const only = sources.length === 1 ? sources[0]! : null;
  const name = only === null ? roleName(role, sources) : wavName(only.stem.file);
  const bus = rendered('bus', role, name, sources, wishes, channels);
  if (only !== null || wishes.singleStems === false || !isLinear(treatment, role)) return [bus];
  const singles = sources.map((source) =>
    rendered('track', role, `${SINGLE_STEMS_FOLDER}/${wavName(source.stem.file)}`, [source], wishes, channels),
  );
  return [bus, ...singles];
}

function rendered(
  kind: 'bus' | 'track',
  role: TreatedRole,
  name: string,
  sources: readonly PlannedStem[],
  wishes: PrintWishes,
  leastChannels: 1 | 2,
): RenderItem {
  const start = Math.min(...sources.map((source) => source.start));
  const end = Math.max(...sources.map((source) => source.start + source.frameCount));
  const stereo = sources.some(({ stem }) => stem.channels === 2);
  return {
    kind,
    role,
    name,
    files: sources.map(({ stem }) => stem.file),
    depth: wishes.depth ?? deepest(sources.map(({ stem }) => stem.bitDepth)),
    channels: stereo ? 2 : leastChannels === 2 && role !== 'rest' ? 2 : 1,
    start,
    frameCount: end - start,
  };
}

/** The depth that loses nothing of any source: 16 and 24 stay, 8 becomes 16, all else is 32-bit float. */
function deepest(depths: readonly string[]): PrintDepth {
  if (depths.every((depth) => depth === '16' || depth === '8')) return '16';
  if (depths.every((depth) => depth === '24' || depth === '16' || depth === '8')) return '24';
  return '32f';
}

function wavName(file: string): string {
  return `${file.replace(/\.[^.]+$/, '')}.wav`;
}

/** What the names of a role's files have in common, else the role's own name: `Bass DI` and `Bass Amp` become `Bass.wav`. */
function roleName(role: 'kick' | 'bass', sources: readonly PlannedStem[]): string {
  const words = sources.map(({ stem }) => stem.file.replace(/\.[^.]+$/, '').split(/(?<=[\s_\-.])/));
  const shared = words[0]!.filter((word, i) => words.every((other) => other[i] === word));
  const prefix = words[0]!
    .slice(0, shared.length)
    .join('')
    .replace(/[\s_\-.]+$/, '');
  const own = role === 'kick' ? 'Kick' : 'Bass';
  return `${/[a-z]{3}/i.test(prefix) ? prefix : own}.wav`;
}

/** Names that fall together (also where only the case differs) get a number. */
function withOwnNames(items: readonly PrintItem[]): PrintItem[] {
  const taken = new Set<string>();
  return items.map((item) => {
    let name = item.name;
    for (let n = 2; taken.has(name.toLowerCase()); n++) name = item.name.replace(/(\.[^.]+)?$/, ` ${n}$1`);
    taken.add(name.toLowerCase());
    return { ...item, name };
  });
}
