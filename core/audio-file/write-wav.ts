import { PlainError } from '../units/plain-error.js';
import { amplitude_to_dB } from '../units/decibels.js';
import type { Channel } from '../signal/stereo-signal.js';
import type { ByteSink } from './byte-source.js';
import { bytesOf, viewOf } from './byte-text.js';
import { NO_CHUNKS, type CarriedChunk, type CarriedChunks } from './carried-chunks.js';
import { bytesPerSample, SampleEncoder, type PrintDepth } from './sample-encoder.js';
import { GUID_TAIL, TAG_EXTENSIBLE, TAG_FLOAT, TAG_PCM } from './wav-format.js';

/** What to write. */
export interface WavPlan {
  /** For messages. */
  readonly name: string;
  readonly depth: PrintDepth;
  readonly channels: 1 | 2;
  readonly sampleRate_Hz: number;
  /** A seed asks for TPDF dither (integer depths only); null writes without. */
  readonly ditherSeed: number | null;
  readonly carried?: CarriedChunks;
  /** Largest RIFF size before the file turns into RF64; smaller only in tests. */
  readonly largestRiffSize?: number;
}

const LARGEST_RIFF_SIZE = 0xffffffff;
const UNKNOWN_SIZE = 0xffffffff;
const FRAMES_AT_ONCE = 16_384;
const COPY_BYTES = 1 << 20;
/** Room for the 28 bytes of `ds64`, right after `WAVE` (EBU Tech 3306, section 3.5). */
const RESERVATION_AT = 12;
const RESERVATION_BYTES = 28;

/**
 * Writes a WAV block by block. Order: RIFF, JUNK (becomes ds64), the source's chunks that stood before its sound with `fmt `
 * ahead of them, data, the source's other chunks. Odd chunks are padded. Past 4 GiB the file becomes RF64 in place.
 *
 * Whatever fails, the sink is abandoned and the error thrown: no half file is left.
 */
export class WavWriter {
  private readonly encoder: SampleEncoder;
  private written = 0;
  private dataAt = 0;
  private factAt: number | null = null;
  private frameCount = 0;

  private constructor(
    private readonly sink: ByteSink,
    private readonly plan: WavPlan,
  ) {
    this.encoder = new SampleEncoder(plan.depth, plan.channels, plan.ditherSeed);
  }

  static async open(sink: ByteSink, plan: WavPlan): Promise<WavWriter> {
    const writer = new WavWriter(sink, plan);
    await writer.guarded(() => writer.writeHeader());
    return writer;
  }

  /** All frames of the channels given, `plan.channels` of them, of equal length. */
  async writeFrames(channels: readonly Channel[]): Promise<void> {
    await this.guarded(async () => {
      const count = channels[0]?.length ?? 0;
      if (channels.length !== this.plan.channels || channels.some(({ length }) => length !== count)) {
        throw new RangeError(`expected ${this.plan.channels} channels of equal length`);
      }
      for (let from = 0; from < count; from += FRAMES_AT_ONCE) {
        await this.write(this.encoder.encode(channels, from, Math.min(count, from + FRAMES_AT_ONCE)));
      }
      this.frameCount += count;
    });
  }

  /**
   * Whether what was written so far can be printed, so that several files are finished together or not at all.
   * @throws PlainError where an integer print would pass full scale, or the sound is no number; no file is left then.
   */
  async check(): Promise<void> {
    await this.guarded(() => Promise.resolve().then(() => this.refuseWhatCannotBePrinted()));
  }

  /** @throws PlainError as `check` does. */
  async finish(): Promise<void> {
    await this.guarded(async () => {
      this.refuseWhatCannotBePrinted();
      const dataBytes = this.frameCount * this.plan.channels * bytesPerSample(this.plan.depth);
      if (dataBytes % 2 === 1) await this.write(new Uint8Array(1));
      for (const chunk of (this.plan.carried ?? NO_CHUNKS).after) await this.copyChunk(chunk);
      await this.writeSizes(dataBytes);
      await this.sink.finish();
    });
  }

  async abandon(): Promise<void> {
    await this.sink.abandon();
  }

  private async guarded(work: () => Promise<void>): Promise<void> {
    try {
      await work();
    } catch (error) {
      await this.sink.abandon();
      throw error;
    }
  }

  private async write(bytes: Uint8Array): Promise<void> {
    await this.sink.write(bytes);
    this.written += bytes.length;
  }

  private async writeHeader(): Promise<void> {
    await this.write(bytesOf('RIFF\0\0\0\0WAVE'));
    await this.writeChunk('JUNK', new Uint8Array(RESERVATION_BYTES));
    await this.writeChunk('fmt ', formatBytes(this.plan));
    if (this.plan.depth === '32f') {
      this.factAt = this.written + 8;
      await this.writeChunk('fact', new Uint8Array(4));
    }
    for (const chunk of (this.plan.carried ?? NO_CHUNKS).before) await this.copyChunk(chunk);
    await this.write(chunkHeader('data', 0));
    this.dataAt = this.written;
  }

  private async writeChunk(id: string, content: Uint8Array): Promise<void> {
    await this.write(chunkHeader(id, content.length));
    await this.write(content);
    if (content.length % 2 === 1) await this.write(new Uint8Array(1));
  }

  private async copyChunk(chunk: CarriedChunk): Promise<void> {
    await this.write(chunkHeader(chunk.id, chunk.length));
    for (let done = 0; done < chunk.length; done += COPY_BYTES) {
      const wanted = Math.min(COPY_BYTES, chunk.length - done);
      const bytes = await chunk.source.read(chunk.offset + done, wanted);
      if (bytes.length < wanted) {
        throw new PlainError(this.plan.name, 'Its source became shorter while it was copied.', 'Run again.');
      }
      await this.write(bytes);
    }
    if (chunk.length % 2 === 1) await this.write(new Uint8Array(1));
  }

  private async writeSizes(dataBytes: number): Promise<void> {
    const { sink, frameCount } = this;
    const riffSize = this.written - 8;
    const wide = riffSize > (this.plan.largestRiffSize ?? LARGEST_RIFF_SIZE);
    if (this.factAt !== null) await sink.rewrite(this.factAt, littleEndian32(wide ? UNKNOWN_SIZE : frameCount));
    await sink.rewrite(this.dataAt - 4, littleEndian32(wide ? UNKNOWN_SIZE : dataBytes));
    await sink.rewrite(4, littleEndian32(wide ? UNKNOWN_SIZE : riffSize));
    if (!wide) return;
    await sink.rewrite(0, bytesOf('RF64'));
    await sink.rewrite(RESERVATION_AT, chunkHeader('ds64', RESERVATION_BYTES));
    await sink.rewrite(RESERVATION_AT + 8, wideSizes(riffSize, dataBytes, frameCount));
  }

  private refuseWhatCannotBePrinted(): void {
    const { encoder, plan } = this;
    if (encoder.notFiniteCount > 0) {
      throw new PlainError(
        plan.name,
        `${encoder.notFiniteCount} samples of the print are not numbers.`,
        'Nothing was written. Turn off the stage that was changed last and print again.',
      );
    }
    if (encoder.overCount === 0) return;
    const peak_dBFS = amplitude_to_dB(encoder.peak);
    throw new PlainError(
      plan.name,
      `${encoder.overCount} samples pass full scale of ${plan.depth}-bit integer; the peak is ${signed(peak_dBFS)} dBFS.`,
      `Print as 32-bit float, or lower the print by ${neededCut_dB(peak_dBFS).toFixed(1)} dB. Nothing was written.`,
    );
  }
}

/** The cut that brings the peak under full scale with room for the dither: to the next tenth of a dB, at least 0.1. */
function neededCut_dB(peak_dBFS: number): number {
  return Math.max(1, Math.floor(peak_dBFS * 10) + 1) / 10;
}

function signed(level_dB: number): string {
  return `${level_dB < 0 ? '' : '+'}${level_dB.toFixed(2)}`;
}

function formatBytes(plan: WavPlan): Uint8Array {
  const size = bytesPerSample(plan.depth);
  const extended = plan.depth === '24';
  const bytes = new Uint8Array(extended ? 40 : plan.depth === '32f' ? 18 : 16);
  const view = viewOf(bytes);
  view.setUint16(0, extended ? TAG_EXTENSIBLE : plan.depth === '32f' ? TAG_FLOAT : TAG_PCM, true);
  view.setUint16(2, plan.channels, true);
  view.setUint32(4, plan.sampleRate_Hz, true);
  view.setUint32(8, plan.sampleRate_Hz * plan.channels * size, true);
  view.setUint16(12, plan.channels * size, true);
  view.setUint16(14, 8 * size, true);
  if (!extended) return bytes;
  view.setUint16(16, 22, true);
  view.setUint16(18, 8 * size, true);
  view.setUint32(20, plan.channels === 2 ? 3 : 4, true); // front left + front right, or front centre
  view.setUint32(24, TAG_PCM, true);
  bytes.set(GUID_TAIL, 28);
  return bytes;
}

function chunkHeader(id: string, length: number): Uint8Array {
  const bytes = new Uint8Array(8);
  bytes.set(bytesOf(id));
  viewOf(bytes).setUint32(4, length, true);
  return bytes;
}

function littleEndian32(value: number): Uint8Array {
  const bytes = new Uint8Array(4);
  viewOf(bytes).setUint32(0, value, true);
  return bytes;
}

/** The content of `ds64`: RIFF size, data size and sample count of 64 bits each, and an empty table. */
function wideSizes(riffSize: number, dataBytes: number, frameCount: number): Uint8Array {
  const bytes = new Uint8Array(RESERVATION_BYTES);
  const view = viewOf(bytes);
  [riffSize, dataBytes, frameCount].forEach((value, index) => {
    view.setUint32(8 * index, value % 4294967296, true);
    view.setUint32(8 * index + 4, Math.floor(value / 4294967296), true);
  });
  return bytes;
}
