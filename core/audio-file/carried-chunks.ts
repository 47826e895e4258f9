import type { AudioFileFacts, ChunkPlace } from './audio-reader.js';
import { broadcastForPrint, type BroadcastChange } from './broadcast-extension.js';
import type { ByteSource } from './byte-source.js';

/** One chunk to be written into a print: `length` bytes of `source` from `offset` on. */
export interface CarriedChunk extends ChunkPlace {
  readonly source: ByteSource;
}

/** A source's chunks on both sides of its sound, in the source's order. */
export interface CarriedChunks {
  readonly before: readonly CarriedChunk[];
  readonly after: readonly CarriedChunk[];
}

export const NO_CHUNKS: CarriedChunks = { before: [], after: [] };

/** Written anew with every print. */
const WRITTEN_ANEW = new Set(['fmt ', 'data', 'fact', 'ds64']);
/** Peaks of the source's sound: `PEAK`, and `levl` (EBU Tech 3285 supplement 3). They would be untrue of the print. */
const UNTRUE_OF_A_PRINT = new Set(['PEAK', 'levl']);

/**
 * What a print carries over from its source: every chunk byte for byte and in order, `bext` with its coding history continued.
 * Only WAV chunks are carried; those of other containers mean nothing in a WAV.
 */
export async function carriedChunks(
  source: ByteSource,
  facts: AudioFileFacts,
  change: BroadcastChange,
): Promise<CarriedChunks> {
  if (facts.container !== 'wav' && facts.container !== 'rf64' && facts.container !== 'bw64') return NO_CHUNKS;
  const before: CarriedChunk[] = [];
  const after: CarriedChunk[] = [];
  let side = before;
  for (const [index, place] of facts.chunks.entries()) {
    if (place.id === 'data') side = after;
    if (WRITTEN_ANEW.has(place.id) || UNTRUE_OF_A_PRINT.has(place.id) || isReservation(place, index)) continue;
    const isBroadcast = place.id === 'bext' && facts.broadcast !== null;
    side.push(isBroadcast ? await continued(source, place, change) : { ...place, source });
  }
  return { before, after };
}

/** The room that a writer leaves at the very beginning for 64-bit sizes; every print leaves its own. */
function isReservation(place: ChunkPlace, index: number): boolean {
  return index === 0 && place.id === 'JUNK' && place.length === 28;
}

async function continued(source: ByteSource, place: ChunkPlace, change: BroadcastChange): Promise<CarriedChunk> {
  const bytes = broadcastForPrint(await source.read(place.offset, place.length), change);
  const held: ByteSource = {
    size: bytes.length,
    read: async (offset, length) => bytes.slice(offset, offset + length),
  };
  return { id: place.id, offset: 0, length: bytes.length, source: held };
}
