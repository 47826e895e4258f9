/**
 * A seeded generator of uniform numbers: the same seed gives the same sequence on every machine.
 * Algorithm: xoshiro128** 1.1 by D. Blackman and S. Vigna (public domain), state filled by splitmix32.
 */
export class SeededRandom {
  private a: number;
  private b: number;
  private c: number;
  private d: number;

  constructor(seed: number) {
    let state = seed >>> 0;
    const next = (): number => {
      state = (state + 0x9e3779b9) >>> 0;
      let z = state;
      z = Math.imul(z ^ (z >>> 16), 0x21f0aaad);
      z = Math.imul(z ^ (z >>> 15), 0x735a2d97);
      return (z ^ (z >>> 15)) >>> 0;
    };
    this.a = next();
    this.b = next();
    this.c = next();
    this.d = next();
  }

  /** @returns a whole number 0..2^32 - 1. */
  uint32(): number {
    const r = Math.imul(this.b, 5);
    const result = Math.imul((r << 7) | (r >>> 25), 9) >>> 0;
    const t = this.b << 9;
    this.c ^= this.a;
    this.d ^= this.b;
    this.b ^= this.c;
    this.a ^= this.d;
    this.c ^= t;
    this.d = (this.d << 11) | (this.d >>> 21);
    return result;
  }

  /** @returns a number in 0..1, 1 excluded, with 32 bits of resolution. */
  uniform(): number {
    return this.uint32() / 4294967296;
  }

  /** @returns a number in low..high. */
  between(low: number, high: number): number {
    return low + (high - low) * this.uniform();
  }

  /** @returns a whole number 0..count - 1. */
  below(count: number): number {
    return Math.floor(this.uniform() * count);
  }

  /** @returns an approximately normal number, mean 0, deviation 1: the sum of twelve uniforms minus six. */
  normal(): number {
    let sum = -6;
    for (let i = 0; i < 12; i++) sum += this.uniform();
    return sum;
  }
}
