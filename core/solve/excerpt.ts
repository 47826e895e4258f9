import { isMono, type Channel, type StereoSignal } from '../signal/stereo-signal.js';
import { cosCycles } from '../units/exact-math.js';
import type { Hit, Note } from '../song/song.js';

/**
 * The parts of a song that a search renders again and again: windows with the worst places, and windows spread evenly so that
 * shares and percentiles stay fair. A short song is its own excerpt. Deterministic.
 */
export interface Excerpt {
  readonly sampleRate_Hz: number;
  /** Sample ranges of the song, ascending, not touching. */
  readonly ranges: readonly { readonly from: number; readonly to: number }[];
  readonly whole: boolean;
}

const WINDOW_S = 4;
const FADE_S = 0.005;

/**
 * @param worst_s song times that must be heard, most important first.
 * @param length_s how much to keep at most; songs up to one and a half times that are kept whole.
 */
export function chooseExcerpt(
  frameCount: number,
  sampleRate_Hz: number,
  worst_s: readonly number[],
  length_s = 36,
): Excerpt {
  const windowFrames = Math.round((WINDOW_S * sampleRate_Hz) / 128) * 128;
  const windowCount = Math.floor(frameCount / windowFrames);
  const wantedCount = Math.floor(length_s / WINDOW_S);
  if (windowCount <= 1.5 * wantedCount) {
    return { sampleRate_Hz, ranges: [{ from: 0, to: frameCount }], whole: true };
  }
  const chosen = new Set<number>();
  const evenCount = Math.ceil(wantedCount / 2);
  for (let i = 0; i < evenCount; i++) chosen.add(Math.floor(((i + 0.5) * windowCount) / evenCount));
  for (const time_s of worst_s) {
    if (chosen.size >= wantedCount) break;
    const window = Math.floor((time_s * sampleRate_Hz) / windowFrames);
    if (window >= 0 && window < windowCount) chosen.add(window);
  }
  return {
    sampleRate_Hz,
    ranges: joined(
      [...chosen].sort((a, b) => a - b),
      windowFrames,
    ),
    whole: false,
  };
}

function joined(windows: readonly number[], windowFrames: number): { from: number; to: number }[] {
  const ranges: { from: number; to: number }[] = [];
  for (const window of windows) {
    const last = ranges[ranges.length - 1];
    const from = window * windowFrames;
    if (last !== undefined && last.to === from) last.to = from + windowFrames;
    else ranges.push({ from, to: from + windowFrames });
  }
  return ranges;
}

/** The excerpt of a signal: its ranges one after another, each faded in and out over 5 ms so that no joint clicks. */
export function cutSignal(signal: StereoSignal, excerpt: Excerpt): StereoSignal {
  if (excerpt.whole) return signal;
  const left = cutChannel(signal.left, excerpt);
  return {
    left,
    right: isMono(signal) ? left : cutChannel(signal.right, excerpt),
    sampleRate_Hz: signal.sampleRate_Hz,
  };
}

function cutChannel(channel: Channel, { ranges, sampleRate_Hz }: Excerpt): Float64Array {
  const fadeFrames = Math.round(FADE_S * sampleRate_Hz);
  const output = new Float64Array(ranges.reduce((sum, { from, to }) => sum + to - from, 0));
  let at = 0;
  for (const { from, to } of ranges) {
    for (let n = from; n < to; n++) {
      const edge = Math.min(n - from, to - 1 - n);
      const gain = edge < fadeFrames ? 0.5 - 0.5 * cosCycles((0.5 * (edge + 0.5)) / fadeFrames) : 1;
      output[at++] = gain * channel[n]!;
    }
  }
  return output;
}

/** The notes that lie whole in the excerpt, at the excerpt's own time. */
export function cutNotes(notes: readonly Note[], excerpt: Excerpt): Note[] {
  if (excerpt.whole) return [...notes];
  return notes.flatMap((note) => {
    const shift_s = shiftOf(note.start_s - 0.05, Math.min(note.end_s, note.start_s + 0.4), excerpt);
    return shift_s === null ? [] : [{ ...note, start_s: note.start_s + shift_s, end_s: note.end_s + shift_s }];
  });
}

/** The hits whose first 150 ms lie in the excerpt, at the excerpt's own time. */
export function cutHits(hits: readonly Hit[], excerpt: Excerpt): Hit[] {
  if (excerpt.whole) return [...hits];
  return hits.flatMap((hit) => {
    const shift_s = shiftOf(hit.time_s - 0.05, hit.time_s + 0.16, excerpt);
    return shift_s === null ? [] : [{ ...hit, time_s: hit.time_s + shift_s }];
  });
}

/** What to add to a song time to get the excerpt's time, or null where the span is not whole in one range. */
function shiftOf(from_s: number, to_s: number, { ranges, sampleRate_Hz }: Excerpt): number | null {
  let at = 0;
  for (const { from, to } of ranges) {
    if (from_s * sampleRate_Hz >= from && to_s * sampleRate_Hz <= to) return (at - from) / sampleRate_Hz;
    at += to - from;
  }
  return null;
}
