import { isMono, sumOf, type StereoSignal } from '../signal/stereo-signal.js';
import { amplitude_to_dB, dB_to_amplitude } from '../units/decibels.js';
import { figure, unmeasurable, type Reading, type Unmeasurable } from '../units/reading.js';
import { median } from '../units/statistics.js';
import { bootstrapOfValues } from './bootstrap.js';
import { integratedLoudness } from './loudness.js';
import type { SongSound } from './song-sound.js';
import { TRUE_PEAK_CONTEXT, truePeak_FS } from './true-peak.js';
import { WithoutLows } from './without-lows.js';

/** One stretch of 400 ms of the sum of all stems. */
export interface HeadroomBlock {
  readonly start_s: number;
  readonly peak_dBTP: number;
  readonly cost_dB: number;
}

export interface HeadroomMeasure {
  readonly kind: 'measured';
  /** What the lows cost in peak level. */
  readonly cost_dB: Reading;
  /** 0 - true peak: what is left to full scale, negative where the sum passes it. */
  readonly left_dB: Reading;
  readonly truePeak_dBTP: Reading;
  readonly integrated_LUFS: Reading;
  /** The blocks within 12 dB of the loudest, which the cost is the median of. */
  readonly blocks: readonly HeadroomBlock[];
  /** Where the true peak lies, to the block. */
  readonly loudest_s: number;
}

const BLOCK_s = 0.4;
const CORNER_Hz = 120;
const WITHIN_dB = 12;
/** Most a single block is let say, where hardly anything but lows sounds. */
const MOST_COST_dB = 24;

/**
 * Headroom of the sum of all stems. Lows' cost, dB: the median over 400 ms blocks (side by side, those within 12 dB of the
 * loudest block peak) of the true peak with the lows less the true peak without them; the lows are taken out at zero phase at
 * 120 Hz. Loudness by BS.1770-5, true peak at 16 points per sample.
 */
export function measureHeadroom(sound: SongSound): HeadroomMeasure | Unmeasurable {
  const mix = sumOf([sound.kick, sound.bass, sound.rest].filter((signal) => signal !== null));
  return mix === null ? unmeasurable('no stem to sum') : headroomOf(mix);
}

/** The same of a sum that is at hand. It is not changed. */
export function headroomOf(mix: StereoSignal): HeadroomMeasure | Unmeasurable {
  const length = Math.round(BLOCK_s * mix.sampleRate_Hz);
  const blockCount = Math.ceil(mix.left.length / length);
  const peaks = Array.from({ length: blockCount }, (_, i) => blockPeak(mix, i * length, length));
  const highest = peaks.reduce((most, peak) => Math.max(most, peak), 0);
  if (highest === 0) return unmeasurable('the sum of the stems is silent');
  const loud = peaks.map((_, i) => i).filter((i) => peaks[i]! >= highest * dB_to_amplitude(-WITHIN_dB));
  const highs = new WithoutLows(mix, CORNER_Hz);
  const blocks = loud.map((i): HeadroomBlock => {
    const without = peakWithoutLows(highs, mix, i * length, length);
    const cost = without > 0 ? Math.min(MOST_COST_dB, amplitude_to_dB(peaks[i]! / without)) : MOST_COST_dB;
    return { start_s: i * BLOCK_s, peak_dBTP: amplitude_to_dB(peaks[i]!), cost_dB: cost };
  });
  const costs = blocks.map((block) => block.cost_dB);
  const truePeak = amplitude_to_dB(highest);
  return {
    kind: 'measured',
    cost_dB: figure(median(costs), bootstrapOfValues(costs, median)),
    left_dB: figure(truePeak === 0 ? 0 : -truePeak),
    truePeak_dBTP: figure(truePeak),
    integrated_LUFS: integratedLoudness(mix),
    blocks,
    loudest_s: peaks.indexOf(highest) * BLOCK_s,
  };
}

/** Of a block of the mix without its lows, with as much around it as its peak may depend on. */
function peakWithoutLows(highs: WithoutLows, mix: StereoSignal, from: number, length: number): number {
  const start = Math.max(0, from - TRUE_PEAK_CONTEXT);
  const end = Math.min(mix.left.length, from + length + TRUE_PEAK_CONTEXT);
  const left = highs.stretch('left', start, end);
  const right = isMono(mix) ? left : highs.stretch('right', start, end);
  return blockPeak({ left, right, sampleRate_Hz: mix.sampleRate_Hz }, from - start, length);
}

function blockPeak(signal: StereoSignal, from: number, length: number): number {
  const to = Math.min(signal.left.length, from + length);
  const left = truePeak_FS(signal.left, from, to);
  return isMono(signal) ? left : truePeak_FS(signal.right, from, to, left);
}
