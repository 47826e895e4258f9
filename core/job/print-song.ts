import { ByteArraySource } from '../audio-file/byte-array-source.js';
import { codingHistoryLine } from '../audio-file/broadcast-extension.js';
import { carriedChunks } from '../audio-file/carried-chunks.js';
import { WavWriter } from '../audio-file/write-wav.js';
import { isNamePattern } from '../delivery/name-pattern.js';
import { printPlan, type CopyItem, type PrintItem, type PrintWishes, type RenderItem } from '../delivery/print-plan.js';
import { renderSong, renderTrack, type RenderSource } from '../render/render-song.js';
import { scaledChannel, type StereoSignal } from '../signal/stereo-signal.js';
import type { TreatedRole, Treatment } from '../treatment/treatment.js';
import { dB_to_amplitude } from '../units/decibels.js';
import { PlainError } from '../units/plain-error.js';
import type { JobHost } from './job-host.js';
import { conformedStem, type OpenSong, type SongStem } from './open-song.js';

export const PRINTS_FOLDER = 'Keelson prints';

export interface PrintChoices extends PrintWishes {
  /** A gain on every rendered file, asked for where an integer print would pass full scale. */
  readonly gain_dB: number;
}

/** One file as it was printed. */
export interface PrintedFile {
  /** Relative to the song folder. */
  readonly path: string;
  readonly role: TreatedRole;
  readonly kind: PrintItem['kind'];
  /** The source files it holds. */
  readonly files: readonly string[];
  /** Where it begins, in samples of the song. */
  readonly start: number;
  readonly sha256: string;
}

export interface PrintedVersion {
  readonly version: string;
  /** Fingerprint of everything that made it: stems, treatment, choices. */
  readonly key: string;
  readonly files: readonly PrintedFile[];
}

/** A file that is whole but has not got its name yet. */
type WrittenBeside = Pick<WavWriter, 'finish' | 'abandon'> & Partial<Pick<WavWriter, 'check'>>;

/** A version printed before, which is verified and not written again where the key is the same. */
export type KnownVersion = Pick<PrintedVersion, 'version' | 'key' | 'files'>;

/**
 * Prints a treatment: rendered files with the source's chunks, copies where nothing is on. All files are written before any is
 * finished, so that a refusal leaves none. The same stems, treatment and choices keep their version: its files are verified.
 * @throws PlainError where an integer print would pass full scale, or the disk refuses.
 */
export async function printSong(
  host: JobHost,
  song: OpenSong,
  treatment: Treatment,
  choices: PrintChoices,
  known: readonly KnownVersion[],
): Promise<PrintedVersion> {
  const key = await keyOf(host, song, treatment, choices);
  const same = known.find((version) => version.key === key);
  if (same !== undefined && (await allStand(host, same))) return same;
  const items = planOf(song, treatment, choices);
  refuseEmpty(song.name, choices, items);
  const version = await nextVersion(host, known, items);
  const beside: WrittenBeside[] = [];
  try {
    for (const [index, item] of items.entries()) {
      host.progress?.(`printing ${item.name}`, index, items.length);
      const path = pathOf(version, item.name);
      beside.push(
        item.kind === 'copy'
          ? await copiedBeside(host, item, path)
          : await writeRendered(host, song, treatment, choices, path, item),
      );
    }
    for (const file of beside) await file.check?.();
    for (const file of beside) await file.finish();
  } catch (error) {
    // the first one made the folders, so it goes last and takes them along
    for (const file of beside.reverse()) await file.abandon();
    throw error;
  }
  const files: PrintedFile[] = [];
  for (const item of items) files.push(await printedFile(host, song, version, item));
  return { version, key, files };
}

export function planOf(song: OpenSong, treatment: Treatment, choices: PrintWishes): PrintItem[] {
  const stems = song.files.map(({ stem, start }) => ({
    stem,
    start,
    frameCount: Math.ceil((stem.frameCount * song.sampleRate_Hz) / stem.sampleRate_Hz),
  }));
  return printPlan(treatment, stems, choices);
}

function refuseEmpty(song: string, { name = '{name}' }: PrintWishes, items: readonly PrintItem[]): void {
  if (!isNamePattern(name)) {
    throw new PlainError(name, 'It cannot name files.', 'Write {name} in it, and no sign that a disk does not take.');
  }
  if (items.length === 0) {
    throw new PlainError(
      song,
      'Nothing is chosen to be printed.',
      'Choose roles that the song has: kick, bass or rest.',
    );
  }
}

function pathOf(version: string, name: string): string {
  return `${PRINTS_FOLDER}/${version}/${name}`;
}

async function keyOf(host: JobHost, song: OpenSong, treatment: Treatment, choices: PrintChoices): Promise<string> {
  const stems = await Promise.all(song.files.map(async ({ stem, sha256 }) => [stem.file, stem.role, await sha256()]));
  // in one order, and what is left out stays out: the same wish is the same version from wherever it comes
  const { depth, gain_dB, roles, singleStems, name } = choices;
  const said = { depth, gain_dB, roles, singleStems, name };
  const text = JSON.stringify({ stems, monoStems_dB: song.monoStems_dB, treatment, choices: said });
  return host.fingerprint(new ByteArraySource(Uint8Array.from(text, (char) => char.charCodeAt(0) & 0xff)));
}

async function allStand(host: JobHost, version: KnownVersion): Promise<boolean> {
  for (const { path, sha256 } of version.files) {
    if ((await host.folder.sizeOf(path)) === null) return false;
    if ((await host.fingerprint(await host.folder.open(path))) !== sha256) return false;
  }
  return true;
}

/** The first number that no version has and under which none of these files stands. */
async function nextVersion(
  host: JobHost,
  known: readonly KnownVersion[],
  items: readonly PrintItem[],
): Promise<string> {
  const highest = known.reduce((most, { version }) => Math.max(most, Number(version.slice(1)) || 0), 0);
  for (let number = highest + 1; ; number++) {
    const version = `v${number}`;
    let free = true;
    for (const { name } of items) free = free && (await host.folder.sizeOf(pathOf(version, name))) === null;
    if (free) return version;
  }
}

async function writeRendered(
  host: JobHost,
  song: OpenSong,
  treatment: Treatment,
  choices: PrintChoices,
  path: string,
  item: RenderItem,
): Promise<WavWriter> {
  const sound = await renderedSound(song, treatment, item);
  const first = leadingFile(song, item);
  const carried = await carriedChunks(first.open.source, first.open.facts, {
    codingHistoryLine: codingHistoryLine(
      song.sampleRate_Hz,
      item.depth === '16' ? 16 : item.depth === '24' ? 24 : 32,
      item.channels,
      'Keelson',
    ),
    ...timeReferenceChange(song, first),
  });
  const sink = await host.folder.create(path);
  const writer = await WavWriter.open(sink, {
    name: path,
    depth: item.depth,
    channels: item.channels,
    sampleRate_Hz: song.sampleRate_Hz,
    ditherSeed: item.depth === '32f' ? null : ditherSeedOf(item.name),
    carried,
  });
  const channels = item.channels === 1 ? [sound.left] : [sound.left, sound.right];
  const gain = dB_to_amplitude(choices.gain_dB - (item.channels === 1 ? song.monoStems_dB : 0));
  const from = item.start;
  const to = Math.min(sound.left.length, item.start + item.frameCount);
  await writer.writeFrames(channels.map((channel) => scaled(channel.subarray(from, to), gain)));
  return writer;
}

function scaled(channel: StereoSignal['left'], gain: number): StereoSignal['left'] {
  return gain === 1 ? channel : scaledChannel(channel, gain);
}

/** Its own number for every file, the same on every machine. */
function ditherSeedOf(name: string): number {
  let seed = 2166136261;
  for (let i = 0; i < name.length; i++) seed = Math.imul(seed ^ name.charCodeAt(i), 16777619);
  return seed >>> 0;
}

async function renderedSound(song: OpenSong, treatment: Treatment, item: RenderItem): Promise<StereoSignal> {
  if (item.role === 'rest') {
    const source = stemOfFile(song, item.files[0]!);
    const signal = await conformedStem(source.open, source.start, song);
    const tracks = { kick: [], bass: [], rest: [{ file: source.stem.file, signal }] };
    return renderTrack({ ...emptySource(song), tracks }, treatment, 'rest', source.stem.file);
  }
  const source: RenderSource = { ...emptySource(song), tracks: { ...song.sound.tracks, rest: [] } };
  if (item.kind === 'track') return renderTrack(source, treatment, item.role, item.files[0]!);
  const rendered = renderSong(source, treatment, { roles: [item.role] })[item.role];
  if (rendered === null) throw new PlainError(item.name, 'It gave no sound.', 'Inspect the song again.');
  return rendered;
}

function emptySource(song: OpenSong): Omit<RenderSource, 'tracks'> {
  return { sampleRate_Hz: song.sampleRate_Hz, frameCount: song.frameCount, rest: null };
}

function stemOfFile(song: OpenSong, file: string): SongStem {
  const found = song.files.find(({ stem }) => stem.file === file);
  if (found === undefined) throw new PlainError(file, 'It is not among the stems any more.', 'Inspect the song again.');
  return found;
}

/** The source whose chunks a print carries: the one that begins first, so that its time reference is the print's. */
function leadingFile(song: OpenSong, item: RenderItem): SongStem {
  const sources = item.files.map((file) => stemOfFile(song, file));
  return sources.find(({ start }) => start === item.start) ?? sources[0]!;
}

/** The time reference counts samples at the file's own rate: a converted print needs it anew. */
function timeReferenceChange(song: OpenSong, { open }: SongStem): { timeReference_samples?: number } {
  const { broadcast, sampleRate_Hz } = open.facts;
  if (broadcast === null || sampleRate_Hz === song.sampleRate_Hz) return {};
  return { timeReference_samples: Math.round((broadcast.timeReference_samples * song.sampleRate_Hz) / sampleRate_Hz) };
}

const COPY_BYTES = 1 << 20;

async function copiedBeside(host: JobHost, item: CopyItem, path: string): Promise<WrittenBeside> {
  const source = await host.folder.open(item.file);
  const sink = await host.folder.create(path);
  try {
    for (let offset = 0; offset < source.size; offset += COPY_BYTES) {
      await sink.write(await source.read(offset, Math.min(COPY_BYTES, source.size - offset)));
    }
  } catch (error) {
    await sink.abandon();
    throw error;
  }
  return sink;
}

async function printedFile(host: JobHost, song: OpenSong, version: string, item: PrintItem): Promise<PrintedFile> {
  const path = pathOf(version, item.name);
  const sha256 = await host.fingerprint(await host.folder.open(path));
  const files = item.kind === 'copy' ? [item.file] : item.files;
  const start = item.kind === 'copy' ? stemOfFile(song, item.file).start : item.start;
  return { path, role: item.role, kind: item.kind, files, start, sha256 };
}
