import { isMono, type StereoSignal } from '../core/signal/stereo-signal.js';

/** Frames `from..to` of the song. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
}

const PIECE_S = 4;
const MOST_PIECES = 6;
/** Pieces softer than the loudest by more than 20 dB say nothing of how loud a part is: BS.1770 would gate most of them too. */
const COUNTED_POWER = 0.01;

/**
 * Where in the song a part is compared when it must be rendered for it: the whole song where it is short, else up to six pieces of
 * 4 s, evenly spread over those in which the part plays.
 */
export function matchStretches(signals: readonly StereoSignal[], frameCount: number, sampleRate_Hz: number): Stretch[] {
  const length = PIECE_S * sampleRate_Hz;
  const count = Math.floor(frameCount / length);
  if (count <= MOST_PIECES) return [{ from: 0, to: frameCount }];
  const powers = Array.from({ length: count }, (_, i) =>
    signals.reduce((sum, signal) => sum + energyOf(signal, i * length, (i + 1) * length), 0),
  );
  const loudest = Math.max(...powers);
  const counted = powers.flatMap((power, i) => (loudest > 0 && power >= COUNTED_POWER * loudest ? [i] : []));
  const chosen = Array.from(
    { length: Math.min(MOST_PIECES, counted.length) },
    (_, k, all = Math.min(MOST_PIECES, counted.length)) => counted[Math.floor(((k + 0.5) * counted.length) / all)]!,
  );
  return chosen.map((i) => ({ from: i * length, to: (i + 1) * length }));
}

/** Every eighth sample is enough to tell where something plays. */
const STEP = 8;

function energyOf(signal: StereoSignal, from: number, to: number): number {
  let sum = 0;
  for (let n = from; n < to; n += STEP) sum += signal.left[n]! * signal.left[n]!;
  if (isMono(signal)) return 2 * sum;
  for (let n = from; n < to; n += STEP) sum += signal.right[n]! * signal.right[n]!;
  return sum;
}

/** Pieces one after another, each faded over 10 ms at its ends so that the joints are not heard by the measure. */
export function joinedPieces(pieces: readonly StereoSignal[], sampleRate_Hz: number): StereoSignal {
  const total = pieces.reduce((sum, { left }) => sum + left.length, 0);
  const left = new Float64Array(total);
  const right = new Float64Array(total);
  const fade = Math.round(0.01 * sampleRate_Hz);
  let at = 0;
  for (const piece of pieces) {
    const { length } = piece.left;
    for (let n = 0; n < length; n++) {
      const gain = Math.min(1, (n + 0.5) / fade, (length - n - 0.5) / fade);
      left[at + n] = gain * piece.left[n]!;
      right[at + n] = gain * piece.right[n]!;
    }
    at += length;
  }
  return { left, right, sampleRate_Hz };
}
