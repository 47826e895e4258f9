import { createHash } from 'node:crypto';
import { mkdir, mkdtemp, readdir, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after } from 'node:test';
import type { StereoSignal } from '../../core/signal/stereo-signal.js';
import { isMono } from '../../core/signal/stereo-signal.js';
import { bextContent, wavBytes } from '../sound-bytes/wav-bytes.js';
import type { TestSong } from '../songs/song-of-parts.js';

const roots: string[] = [];
after(() => Promise.all(roots.map((path) => rm(path, { recursive: true, force: true }))));

/** A folder of the test's own that goes away after the file's last test. */
export async function temporaryFolder(name = 'song'): Promise<string> {
  const root = await mkdtemp(join(tmpdir(), 'keelson-'));
  roots.push(root);
  const path = join(root, name);
  await mkdir(path);
  return path;
}

export type StemDepth = '16' | '24' | '32f';

export interface StemBytesOptions {
  readonly depth?: StemDepth;
  readonly timeReference_samples?: number;
}

/** A WAV of a signal, written byte by byte here: mono where both channels are one array. */
export function stemBytes(signal: StereoSignal, options: StemBytesOptions = {}): Uint8Array {
  const { depth = '24', timeReference_samples } = options;
  const channels = isMono(signal) ? [signal.left] : [signal.left, signal.right];
  const bits = depth === '32f' ? 32 : Number(depth);
  const words = {
    tag: depth === '32f' ? 3 : 1,
    channels: channels.length,
    sampleRate_Hz: signal.sampleRate_Hz,
    bits,
  };
  const others =
    timeReference_samples === undefined ? [] : [{ id: 'bext', content: bextContent(BigInt(timeReference_samples)) }];
  return wavBytes(words, sampleBytes(channels, depth), others);
}

function sampleBytes(channels: readonly ArrayLike<number>[], depth: StemDepth): Uint8Array {
  const size = depth === '32f' ? 4 : Number(depth) / 8;
  const full = 2 ** (8 * size - 1);
  const count = channels[0]!.length;
  const bytes = Buffer.alloc(size * channels.length * count);
  let at = 0;
  for (let n = 0; n < count; n++) {
    for (const channel of channels) {
      if (depth === '32f') at = bytes.writeFloatLE(channel[n]!, at);
      else at = bytes.writeIntLE(Math.max(-full, Math.min(full - 1, Math.round(channel[n]! * full))), at, size);
    }
  }
  return bytes;
}

export type FolderFiles = Readonly<Record<string, Uint8Array | string>>;

/** A new song folder with these files. */
export async function folderWith(files: FolderFiles, name?: string): Promise<string> {
  const folder = await temporaryFolder(name);
  for (const [file, bytes] of Object.entries(files)) await writeFile(join(folder, file), bytes);
  return folder;
}

/** The song's tracks as files, under other names where some are given. */
export function filesOf(
  song: TestSong,
  names: Readonly<Record<string, string>> = {},
  options: StemBytesOptions = {},
): Record<string, Uint8Array> {
  const { kick, bass, rest } = song.sound.tracks;
  return Object.fromEntries(
    [...kick, ...bass, ...rest].map(({ file, signal }) => [names[file] ?? file, stemBytes(signal, options)]),
  );
}

/** What must never change of a source: its bytes and when it was last written. */
export async function sourcesOf(folder: string): Promise<Record<string, string>> {
  const sources: Record<string, string> = {};
  for (const entry of await readdir(folder, { withFileTypes: true })) {
    if (!entry.isFile() || entry.name === 'keelson.json') continue;
    const path = join(folder, entry.name);
    sources[entry.name] = `${await sha256Of(path)} ${(await stat(path)).mtimeMs}`;
  }
  return sources;
}

/** Every file under the folder, hidden ones too, by its relative path with its SHA-256. */
export async function everyFile(folder: string): Promise<Record<string, string>> {
  const files: Record<string, string> = {};
  for (const name of (await readdir(folder, { recursive: true })).sort()) {
    const path = join(folder, name);
    if ((await stat(path)).isFile()) files[name.replaceAll('\\', '/')] = await sha256Of(path);
  }
  return files;
}

async function sha256Of(path: string): Promise<string> {
  return createHash('sha256')
    .update(await readFile(path))
    .digest('hex');
}
