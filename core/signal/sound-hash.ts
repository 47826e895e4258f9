import type { Channel } from './stereo-signal.js';

/**
 * A fingerprint of sound to the last bit: a mixing hash over the 64-bit patterns of the samples, so that a fault of 1e-16,
 * which a 32-bit file would hide, shows. Any split into blocks gives the same hash. Not a cryptographic one.
 * Mixing steps after A. Appleby, MurmurHash3 (public domain), by Math.imul. 0 and -0 count as the same.
 */
export class SoundHash {
  private state = 0x9747b28c | 0;
  private count = 0;
  private readonly value = new Float64Array(1);
  private readonly words = new Uint32Array(this.value.buffer);

  /** Frames `from..to` of both channels, interleaved. */
  add(left: Channel, right: Channel, from: number, to: number): void {
    for (let n = from; n < to; n++) {
      this.mixSample(left[n]!);
      this.mixSample(right[n]!);
    }
  }

  /** @returns 8 hexadecimal digits. */
  digest(): string {
    let h = this.state ^ this.count;
    h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
    h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
    h ^= h >>> 16;
    return (h >>> 0).toString(16).padStart(8, '0');
  }

  private mixSample(sample: number): void {
    this.value[0] = sample + 0; // -0 + 0 is 0
    this.mixWord(this.words[0]!);
    this.mixWord(this.words[1]!);
    this.count = (this.count + 8) | 0;
  }

  private mixWord(word: number): void {
    let k = Math.imul(word, 0xcc9e2d51);
    k = (k << 15) | (k >>> 17);
    let h = this.state ^ Math.imul(k, 0x1b873593);
    h = (h << 13) | (h >>> 19);
    this.state = (Math.imul(h, 5) + 0xe6546b64) | 0;
  }
}
