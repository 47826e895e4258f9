import type { ByteSource } from './byte-source.js';

/** Bytes that are in memory already, read like a file. It gives views: nobody may write into them. */
export class ByteArraySource implements ByteSource {
  readonly size: number;

  constructor(private readonly bytes: Uint8Array) {
    this.size = bytes.length;
  }

  async read(offset: number, length: number): Promise<Uint8Array> {
    return this.bytes.subarray(Math.min(offset, this.size), Math.min(offset + length, this.size));
  }
}
