import type { ByteSource } from '../core/audio-file/byte-source.js';
import { PlainError } from '../core/units/plain-error.js';

/** A file of the browser, read in blocks. */
export class BlobSource implements ByteSource {
  readonly size: number;

  constructor(
    private readonly name: string,
    private readonly blob: Blob,
  ) {
    this.size = blob.size;
  }

  /** @throws PlainError where the file was moved, changed or locked since it was chosen. */
  async read(offset: number, length: number): Promise<Uint8Array> {
    try {
      return new Uint8Array(await this.blob.slice(offset, offset + length).arrayBuffer());
    } catch {
      throw new PlainError(
        this.name,
        'It was changed, moved or locked since the song was opened.',
        'Open the song again, or drop its files again. What you did is safe in this browser.',
      );
    }
  }
}
