import type { ByteSource } from '../audio-file/byte-source.js';
import type { Fingerprinter } from './ports.js';

/** Fingerprints of files, each made once, when it is first asked for, and never two at once: each reads its whole file. */
export class Fingerprints {
  private readonly made = new Map<ByteSource, Promise<string>>();
  private last: Promise<unknown> = Promise.resolve();

  constructor(private readonly fingerprint: Fingerprinter) {}

  of(source: ByteSource): Promise<string> {
    const known = this.made.get(source);
    if (known !== undefined) return known;
    const made = this.last.then(() => this.fingerprint(source));
    this.last = made.catch(() => undefined); // what goes wrong is told to who waits for it
    this.made.set(source, made);
    return made;
  }
}
