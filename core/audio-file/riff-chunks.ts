import { PlainError } from '../units/plain-error.js';
import type { FileFault } from '../song/song.js';
import type { ChunkPlace } from './audio-reader.js';
import type { ByteSource } from './byte-source.js';
import { textOf, viewOf } from './byte-text.js';

/** The chunks of a RIFF, RIFX, RF64 or BW64 file, sizes as far as the file really holds them. */
export interface RiffChunks {
  readonly form: 'RIFF' | 'RIFX' | 'RF64' | 'BW64';
  readonly bigEndian: boolean;
  readonly chunks: readonly ChunkPlace[];
  readonly faults: readonly FileFault[];
}

/** 64-bit sizes of a `ds64` chunk: EBU Tech 3306 (RF64), ITU-R BS.2088-1 (BW64). */
interface WideSizes {
  readonly riff: number;
  readonly data: number;
  readonly others: ReadonlyMap<string, number>;
}

const UNKNOWN_SIZE = 0xffffffff;
const MOST_CHUNKS = 4096;

interface Walk {
  readonly name: string;
  readonly source: ByteSource;
  readonly bigEndian: boolean;
  readonly chunks: ChunkPlace[];
  readonly faults: FileFault[];
  wide: WideSizes | null;
}

/** @throws PlainError where the file has more chunks than any honest file. */
export async function readRiffChunks(name: string, source: ByteSource): Promise<RiffChunks> {
  const head = await source.read(0, 12);
  const form = textOf(head.subarray(0, 4)) as RiffChunks['form'];
  const bigEndian = form === 'RIFX';
  const walk: Walk = { name, source, bigEndian, chunks: [], faults: [], wide: null };
  let offset = 12;
  while (offset + 8 <= source.size) {
    const next = await takeChunk(walk, offset);
    if (next === null) break;
    offset = next;
    if (walk.chunks.length > MOST_CHUNKS) {
      throw new PlainError(name, `The file holds more than ${MOST_CHUNKS} chunks.`, 'Export it again as plain WAV.');
    }
  }
  checkRiffSize(walk, viewOf(head).getUint32(4, !bigEndian), Math.min(offset, source.size));
  return { form, bigEndian, chunks: walk.chunks, faults: walk.faults };
}

/** @returns where the next chunk begins, or null where none can follow. */
async function takeChunk(walk: Walk, offset: number): Promise<number | null> {
  const { source, faults } = walk;
  const header = await source.read(offset, 8);
  const id = textOf(header.subarray(0, 4));
  if (!isChunkId(id)) {
    faults.push(
      fault(
        'stray-bytes',
        `${source.size - offset} bytes from byte ${offset} on belong to no chunk; they are left out.`,
      ),
    );
    return null;
  }
  const content = offset + 8;
  const left = source.size - content;
  const stated = viewOf(header).getUint32(4, !walk.bigEndian);
  const length = await trueLength(walk, id, stated, content, left);
  walk.chunks.push({ id, offset: content, length });
  if (id === 'ds64') walk.wide = await readWideSizes(source, content, length);
  return nextOffset(walk, content + length, length % 2 === 1);
}

async function trueLength(walk: Walk, id: string, stated: number, content: number, left: number): Promise<number> {
  const declared = stated === UNKNOWN_SIZE && walk.wide !== null ? wideSize(walk.wide, id, stated) : stated;
  if (declared <= left) {
    if (declared !== 0 || id !== 'data' || left < 1 || (await isChunkAt(walk.source, content))) return declared;
    walk.faults.push(declaredLength(`The data chunk declares 0 bytes; the ${left} bytes up to the end are read.`));
    return left;
  }
  const said = declared === UNKNOWN_SIZE ? 'no length' : `${declared} bytes`;
  walk.faults.push(declaredLength(`The ${id.trim()} chunk declares ${said}, the file holds ${left}; these are read.`));
  return left;
}

/** Chunks are padded to even bytes; a writer that forgot the pad is followed all the same. */
async function nextOffset(walk: Walk, end: number, odd: boolean): Promise<number> {
  if (!odd || end >= walk.source.size) return end;
  if (!(await isChunkAt(walk.source, end + 1)) && (await isChunkAt(walk.source, end))) {
    walk.faults.push(fault('missing-pad', `The chunk that ends at byte ${end} lacks its pad byte.`));
    return end;
  }
  return end + 1;
}

function checkRiffSize(walk: Walk, stated: number, walkedTo: number): void {
  const declared = stated === UNKNOWN_SIZE && walk.wide !== null ? walk.wide.riff : stated;
  const held = walk.source.size - 8;
  if (declared === held || walk.faults.some(({ id }) => id === 'declared-length')) return;
  // an odd last chunk whose pad is missing, or not counted, harms nobody
  if (declared === held + 1 || (declared === held - 1 && walkedTo === walk.source.size)) return;
  const said = declared === UNKNOWN_SIZE ? 'no length' : `${declared} bytes`;
  walk.faults.push(declaredLength(`The header declares ${said}, the file holds ${held}; all chunks found are read.`));
}

async function readWideSizes(source: ByteSource, offset: number, length: number): Promise<WideSizes | null> {
  if (length < 28) return null;
  const view = viewOf(await source.read(offset, Math.min(length, 28 + 12 * MOST_CHUNKS)));
  const size = (at: number): number => view.getUint32(at + 4, true) * 4294967296 + view.getUint32(at, true);
  const others = new Map<string, number>();
  const entries = Math.min(view.getUint32(24, true), Math.floor((view.byteLength - 28) / 12));
  for (let entry = 0; entry < entries; entry++) {
    const at = 28 + 12 * entry;
    others.set(textOf(new Uint8Array(view.buffer, view.byteOffset + at, 4)), size(at + 4));
  }
  return { riff: size(0), data: size(8), others };
}

function wideSize(wide: WideSizes, id: string, stated: number): number {
  return id === 'data' ? wide.data : (wide.others.get(id) ?? stated);
}

async function isChunkAt(source: ByteSource, offset: number): Promise<boolean> {
  if (offset + 8 > source.size) return false;
  return isChunkId(textOf(await source.read(offset, 4)));
}

/** Four printable characters of ASCII. */
function isChunkId(id: string): boolean {
  return /^[ -~]{4}$/.test(id);
}

function fault(id: string, sentence: string): FileFault {
  return { id, sentence };
}

function declaredLength(sentence: string): FileFault {
  return fault('declared-length', sentence);
}
