import { exp10 } from '../../core/units/exact-math.js';
import { OnePole } from './one-pole.js';

export interface Room {
  readonly decayT60_s: number;
  readonly preDelay_s: number;
  /** Walls swallow what lies above. */
  readonly damping_Hz: number;
  /** Nothing below is let into the room. */
  readonly lowCut_Hz: number;
  /** Size against a small studio of 1. */
  readonly size: number;
}

const LENGTHS_S = [0.0211, 0.0263, 0.0307, 0.0353, 0.0401, 0.0449, 0.0509, 0.0571];
const COUNT = LENGTHS_S.length;

/**
 * A room: eight delay lines fed back through a Householder matrix (J.-M. Jot and A. Chaigne, "Digital Delay Networks for
 * Designing Artificial Reverberators", AES 90th Convention, 1991), damped line by line, even lines to the left and odd ones to
 * the right. Wet only. Worked in blocks no longer than the shortest line, in which every line is heard before it is fed.
 */
export function roomReverb(
  dry: Float64Array,
  room: Room,
  sampleRate_Hz: number,
): { readonly left: Float64Array; readonly right: Float64Array } {
  const left = new Float64Array(dry.length);
  const right = new Float64Array(dry.length);
  const lines = LENGTHS_S.map(
    (length_s) => new ReverbLine(Math.round(length_s * room.size * sampleRate_Hz), room, sampleRate_Hz),
  );
  const lowCut = new OnePole(room.lowCut_Hz, sampleRate_Hz);
  const preDelay = Math.round(room.preDelay_s * sampleRate_Hz);
  const block = Math.min(...lines.map(({ length }) => length));
  const input = new Float64Array(block);
  const sum = new Float64Array(block);
  for (let from = 0; from < dry.length; from += block) {
    const count = Math.min(block, dry.length - from);
    for (let i = 0; i < count; i++) {
      const n = from + i - preDelay;
      input[i] = lowCut.high(n >= 0 ? dry[n]! : 0);
    }
    sum.fill(0);
    for (const line of lines) line.hear(sum, count);
    for (const line of lines) line.feed(input, sum, count);
    spread(lines, [0, 2, 4, 6], left, from, count);
    spread(lines, [1, 3, 5, 7], right, from, count);
  }
  return { left, right };
}

/** 0.4 (a - b + c - d) of four lines' block into a channel. */
function spread(
  lines: readonly ReverbLine[],
  [a, b, c, d]: readonly [number, number, number, number],
  channel: Float64Array,
  from: number,
  count: number,
): void {
  const [first, second, third, fourth] = [lines[a]!.heard, lines[b]!.heard, lines[c]!.heard, lines[d]!.heard];
  for (let i = 0; i < count; i++) channel[from + i] = 0.4 * (first[i]! - second[i]! + third[i]! - fourth[i]!);
}

/** One delay line with its damping and its share of the decay. */
class ReverbLine {
  /** What comes out of the line in this block, damped. */
  readonly heard: Float64Array;
  private readonly line: Float64Array;
  private readonly gain: number;
  private readonly damping: OnePole;
  private at = 0;

  constructor(
    readonly length: number,
    room: Room,
    sampleRate_Hz: number,
  ) {
    this.line = new Float64Array(length);
    this.heard = new Float64Array(length);
    this.gain = exp10((-3 * length) / (room.decayT60_s * sampleRate_Hz));
    this.damping = new OnePole(room.damping_Hz, sampleRate_Hz);
  }

  /** Fills `heard` and adds it to `sum`. */
  hear(sum: Float64Array, count: number): void {
    const { line, heard, gain, at } = this;
    const ahead = Math.min(count, line.length - at);
    heard.set(line.subarray(at, at + ahead));
    heard.set(line.subarray(0, count - ahead), ahead);
    this.damping.lowAll(heard, count);
    for (let i = 0; i < count; i++) {
      heard[i]! *= gain;
      sum[i]! += heard[i]!;
    }
  }

  /** Writes what the matrix gives back where `heard` was read. */
  feed(input: Float64Array, sum: Float64Array, count: number): void {
    const { line, heard } = this;
    let at = this.at;
    for (let i = 0; i < count; i++) {
      const fed = input[i]! + heard[i]! - (2 / COUNT) * sum[i]!;
      line[at] = Math.abs(fed) < 1e-30 ? 0 : fed;
      if (++at === line.length) at = 0;
    }
    this.at = at;
  }
}
