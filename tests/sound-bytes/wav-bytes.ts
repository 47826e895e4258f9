/** One chunk as a test wants it written; `declared` tells a lie about its length, `pad: false` leaves the pad byte out. */
export interface ChunkBytes {
  readonly id: string;
  readonly content: Uint8Array;
  readonly declared?: number;
  readonly pad?: boolean;
}

export interface FormatWords {
  readonly tag?: number;
  readonly channels?: number;
  readonly sampleRate_Hz?: number;
  readonly bits?: number;
  readonly blockAlign?: number;
  /** Valid bits and channel mask make the format WAVE_FORMAT_EXTENSIBLE. */
  readonly extensible?: { readonly validBits: number; readonly mask: number; readonly guid?: string };
}

/** The content of a `fmt ` chunk, every byte set here (Microsoft, "Multiple Channel Audio Data and WAVE Files", 2007). */
export function formatContent(words: FormatWords = {}, bigEndian = false): Uint8Array {
  const { tag = 1, channels = 1, sampleRate_Hz = 48_000, bits = 16, extensible } = words;
  const blockAlign = words.blockAlign ?? channels * Math.ceil(bits / 8);
  const bytes = Buffer.alloc(extensible ? 40 : 16);
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
  view.setUint16(0, extensible ? 0xfffe : tag, !bigEndian);
  view.setUint16(2, channels, !bigEndian);
  view.setUint32(4, sampleRate_Hz, !bigEndian);
  view.setUint32(8, (sampleRate_Hz * blockAlign) >>> 0, !bigEndian);
  view.setUint16(12, blockAlign, !bigEndian);
  view.setUint16(14, bits, !bigEndian);
  if (extensible) {
    view.setUint16(16, 22, !bigEndian);
    view.setUint16(18, extensible.validBits, !bigEndian);
    view.setUint32(20, extensible.mask, !bigEndian);
    bytes.write(extensible.guid ?? `0${tag}00000000001000800000aa00389b71`, 24, 'hex');
  }
  return bytes;
}

export function chunkBytes(chunk: ChunkBytes, bigEndian = false): Uint8Array {
  const header = Buffer.alloc(8);
  header.write(chunk.id, 0, 'latin1');
  const declared = chunk.declared ?? chunk.content.length;
  if (bigEndian) header.writeUInt32BE(declared, 4);
  else header.writeUInt32LE(declared, 4);
  const pad = chunk.pad !== false && chunk.content.length % 2 === 1 ? Buffer.alloc(1) : Buffer.alloc(0);
  return Buffer.concat([header, chunk.content, pad]);
}

/** A whole file from its chunks. */
export function riffBytes(
  chunks: readonly ChunkBytes[],
  form: 'RIFF' | 'RIFX' | 'RF64' | 'BW64' = 'RIFF',
  riffSize?: number,
): Uint8Array {
  const bigEndian = form === 'RIFX';
  const body = Buffer.concat(chunks.map((chunk) => chunkBytes(chunk, bigEndian)));
  const head = Buffer.alloc(12);
  head.write(form, 0, 'latin1');
  if (bigEndian) head.writeUInt32BE(riffSize ?? body.length + 4, 4);
  else head.writeUInt32LE(riffSize ?? body.length + 4, 4);
  head.write('WAVE', 8, 'latin1');
  return Uint8Array.from(Buffer.concat([head, body]));
}

/** The plainest file: `fmt ` and `data`. */
export function wavBytes(words: FormatWords, data: Uint8Array, others: readonly ChunkBytes[] = []): Uint8Array {
  return riffBytes([{ id: 'fmt ', content: formatContent(words) }, { id: 'data', content: data }, ...others]);
}

/** 16-bit samples, little-endian. */
export function words16(values: readonly number[]): Uint8Array {
  const bytes = Buffer.alloc(2 * values.length);
  values.forEach((value, index) => bytes.writeInt16LE(value, 2 * index));
  return bytes;
}

/** A `bext` chunk's content by the offsets of EBU Tech 3285 version 2. */
export function bextContent(timeReference: bigint, version = 1, history = ''): Uint8Array {
  const bytes = Buffer.alloc(602 + history.length);
  bytes.write('Take 3, close', 0, 'latin1');
  bytes.write('Field recorder', 256, 'latin1');
  bytes.write('REF0001', 288, 'latin1');
  bytes.write('2026-03-0411:12:13', 320, 'latin1');
  bytes.writeBigUInt64LE(timeReference, 338);
  bytes.writeUInt16LE(version, 346);
  bytes.fill(0xab, 348, 412);
  bytes.writeInt16LE(-2310, 412);
  bytes.write(history, 602, 'latin1');
  return bytes;
}
