import type { ByteSink } from './byte-source.js';

/** A file that is written into memory and handed over whole on `finish`. */
export class ByteArraySink implements ByteSink {
  private bytes = new Uint8Array(1024);
  private length = 0;

  /** @param onFinish gets the bytes; after `abandon` it is never called. */
  constructor(private readonly onFinish: (bytes: Uint8Array) => void = () => undefined) {}

  async write(bytes: Uint8Array): Promise<void> {
    this.reserve(this.length + bytes.length);
    this.bytes.set(bytes, this.length);
    this.length += bytes.length;
  }

  async rewrite(offset: number, bytes: Uint8Array): Promise<void> {
    if (offset + bytes.length > this.length) throw new RangeError('rewrite goes past what was written');
    this.bytes.set(bytes, offset);
  }

  async finish(): Promise<void> {
    this.onFinish(this.bytes.slice(0, this.length));
  }

  async abandon(): Promise<void> {
    this.length = 0;
  }

  private reserve(length: number): void {
    if (length <= this.bytes.length) return;
    const larger = new Uint8Array(Math.max(length, 2 * this.bytes.length));
    larger.set(this.bytes.subarray(0, this.length));
    this.bytes = larger;
  }
}
