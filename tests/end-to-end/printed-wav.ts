import { readFile } from 'node:fs/promises';

/** A WAV read by the published layout alone, sharing no code with the program. */
export interface PrintedWav {
  readonly tag: number;
  readonly channels: number;
  readonly sampleRate_Hz: number;
  readonly bits: number;
  readonly frameCount: number;
  /** Samples since midnight of the `bext` chunk (EBU Tech 3285, offset 338), null without one. */
  readonly timeReference_samples: number | null;
  /** One array per channel, full scale 1. */
  readonly samples: readonly Float64Array[];
}

export async function printedWav(path: string): Promise<PrintedWav> {
  const bytes = await readFile(path);
  const chunks = new Map<string, Buffer>();
  for (let at = 12; at + 8 <= bytes.length;) {
    const size = bytes.readUInt32LE(at + 4);
    chunks.set(bytes.toString('latin1', at, at + 4), bytes.subarray(at + 8, at + 8 + size));
    at += 8 + size + (size % 2);
  }
  const format = chunks.get('fmt ')!;
  const data = chunks.get('data')!;
  const bext = chunks.get('bext');
  const plain = format.readUInt16LE(0);
  const tag = plain === 0xfffe ? format.readUInt16LE(24) : plain;
  const channels = format.readUInt16LE(2);
  const bits = format.readUInt16LE(14);
  const frameCount = data.length / channels / (bits / 8);
  return {
    tag,
    channels,
    sampleRate_Hz: format.readUInt32LE(4),
    bits,
    frameCount,
    timeReference_samples: bext === undefined ? null : Number(bext.readBigUInt64LE(338)),
    samples: Array.from({ length: channels }, (_, c) =>
      Float64Array.from({ length: frameCount }, (__, n) => sampleAt(data, (n * channels + c) * (bits / 8), tag, bits)),
    ),
  };
}

function sampleAt(data: Buffer, at: number, tag: number, bits: number): number {
  if (tag === 3) return bits === 32 ? data.readFloatLE(at) : data.readDoubleLE(at);
  return data.readIntLE(at, bits / 8) / 2 ** (bits - 1);
}
