import { amplitude_to_dB, dB_to_amplitude } from '../units/decibels.js';
import { exp2 } from '../units/exact-math.js';
import type { Channel } from '../signal/stereo-signal.js';
import type { FileFault } from '../song/song.js';
import type { AudioReader } from './audio-reader.js';
import { FlatTopCounter } from './flat-tops.js';

/** What a look at every sample of a file tells, beyond its header. */
export interface SourceFacts {
  /** Largest magnitude per channel, full scale 1. */
  readonly peaks: readonly number[];
  readonly notFiniteCount: number;
  /** Flat tops at the file's own ceiling, see `FlatTopCounter`. */
  readonly clippedRuns: number;
  readonly faults: readonly FileFault[];
}

/**
 * A file whose peak is under this is silent: 16-bit TPDF dither around nothing peaks at 2 LSB, -84 dBFS.
 */
export const SILENT_DBFS = -80;
/** Channels that differ by no more than this of their peak are the same sound: one LSB at 16 bits. Common practice. */
const DUAL_MONO_DB = -90;
/** One LSB at 16 bits: a file of more bits may hold the sound of one with 16. */
const COARSEST_COMMON_STEP = 1 / 32768;
const BLOCK_FRAMES = 65_536;
/** How far past its block a flat top is followed. */
const BEYOND_FRAMES = 4_096;

interface BlockPeak {
  readonly from: number;
  readonly count: number;
  readonly peak: number;
}

interface Levels {
  readonly peaks: number[];
  readonly blocks: BlockPeak[];
  difference: number;
  notFiniteCount: number;
}

/** Measures a file by blocks: once whole, then again only where it comes near its own ceiling. */
export async function measureSourceFacts(reader: AudioReader): Promise<SourceFacts> {
  const levels = await measureLevels(reader);
  const clippedRuns = await countFlatTops(reader, levels);
  const { peaks, notFiniteCount } = levels;
  return { peaks, notFiniteCount, clippedRuns, faults: faultsOf(levels, clippedRuns) };
}

async function measureLevels(reader: AudioReader): Promise<Levels> {
  const { channels: count, frameCount } = reader.facts;
  const levels: Levels = { peaks: Array<number>(count).fill(0), blocks: [], difference: 0, notFiniteCount: 0 };
  for (let from = 0; from < frameCount; from += BLOCK_FRAMES) {
    const { channels, notFiniteCount } = await reader.readBlock(from, BLOCK_FRAMES);
    const peaks = channels.map(peakOf);
    peaks.forEach((peak, index) => (levels.peaks[index] = Math.max(levels.peaks[index]!, peak)));
    levels.blocks.push({ from, count: channels[0]!.length, peak: Math.max(...peaks) });
    levels.notFiniteCount += notFiniteCount;
    if (count === 2) levels.difference = Math.max(levels.difference, differenceOf(channels[0]!, channels[1]!));
  }
  return levels;
}

function peakOf(channel: Channel): number {
  let peak = 0;
  for (let n = 0; n < channel.length; n++) {
    const magnitude = Math.abs(channel[n]!);
    if (magnitude > peak) peak = magnitude;
  }
  return peak;
}

function differenceOf(left: Channel, right: Channel): number {
  let largest = 0;
  for (let n = 0; n < left.length; n++) {
    const difference = Math.abs(left[n]! - right[n]!);
    if (difference > largest) largest = difference;
  }
  return largest;
}

async function countFlatTops(reader: AudioReader, levels: Levels): Promise<number> {
  const ceiling = Math.max(...levels.peaks);
  if (isSilent(ceiling)) return 0;
  const step = Math.max(COARSEST_COMMON_STEP, 2 / exp2(reader.facts.validBits));
  const counters = levels.peaks.map(() => new FlatTopCounter(ceiling, step));
  const near = levels.blocks.filter(({ peak }) => peak >= counters[0]!.threshold);
  for (const { from, count } of near) {
    // two frames more ahead and some behind, so that a top at a block's edge is seen with its flanks
    const before = Math.min(2, from);
    const channels = await reader.readFrames(from - before, before + count + BEYOND_FRAMES);
    counters.forEach((counter, index) => counter.count(channels[index]!, before, before + count));
  }
  return counters.reduce((sum, counter) => sum + counter.runs, 0);
}

function isSilent(peak: number): boolean {
  return peak < dB_to_amplitude(SILENT_DBFS);
}

function faultsOf(levels: Levels, clippedRuns: number): FileFault[] {
  const { peaks, difference, notFiniteCount } = levels;
  const faults: FileFault[] = [];
  const add = (id: string, sentence: string): void => void faults.push({ id, sentence });
  if (notFiniteCount > 0) add('not-finite-samples', `${notFiniteCount} samples are not numbers; they are read as 0.`);
  const ceiling = Math.max(...peaks);
  if (isSilent(ceiling)) {
    add('silent', ceiling === 0 ? 'Every sample is 0.' : `The file never passes ${SILENT_DBFS} dBFS.`);
    return faults;
  }
  if (peaks.length === 2) faults.push(...sideFaults(peaks, difference, ceiling));
  if (clippedRuns > 0) {
    add(
      'clipped-source',
      `The sound is cut flat ${clippedRuns === 1 ? 'once' : `${clippedRuns} times`} at its own ceiling of ${amplitude_to_dB(ceiling).toFixed(2)} dBFS.`,
    );
  }
  return faults;
}

function sideFaults(peaks: readonly number[], difference: number, ceiling: number): FileFault[] {
  const silentSide = peaks.findIndex(isSilent);
  if (silentSide >= 0) {
    const side = silentSide === 0 ? 'left' : 'right';
    return [{ id: 'silent-side', sentence: `The ${side} channel is silent; the sound is only in the other.` }];
  }
  if (difference > ceiling * dB_to_amplitude(DUAL_MONO_DB)) return [];
  const how = difference === 0 ? 'to the last bit' : 'but for rounding';
  return [{ id: 'dual-mono', sentence: `Both channels are the same ${how}: the file is mono in two channels.` }];
}
