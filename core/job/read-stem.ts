import type { AudioReader } from '../audio-file/audio-reader.js';
import type { Channel, StereoSignal } from '../signal/stereo-signal.js';
import { PlainError } from '../units/plain-error.js';

const BLOCK_FRAMES = 65_536;

/** A stem's sound as the file holds it, and how many of its samples were no number (they stand as 0). */
export interface ReadStem {
  readonly signal: StereoSignal;
  readonly notFiniteCount: number;
}

/**
 * Reads one file block by block into two channels, at its own rate. A mono file stands in both.
 * @throws PlainError for more than two channels, and where the file cannot be read.
 */
export async function readStem(reader: AudioReader): Promise<ReadStem> {
  const { name, channels, frameCount, sampleRate_Hz } = reader.facts;
  if (channels !== 1 && channels !== 2) {
    throw new PlainError(
      name,
      `It has ${channels} channels.`,
      'Export it as mono or stereo and put that beside the other stems.',
    );
  }
  let whole: Channel[] | null = null;
  let notFiniteCount = 0;
  for (let from = 0; from < frameCount; from += BLOCK_FRAMES) {
    const block = await reader.readBlock(from, Math.min(BLOCK_FRAMES, frameCount - from));
    whole ??= block.channels.map((channel) =>
      channel instanceof Float64Array ? new Float64Array(frameCount) : new Float32Array(frameCount),
    );
    block.channels.forEach((channel, c) => whole![c]!.set(channel, from));
    notFiniteCount += block.notFiniteCount;
  }
  const left = whole?.[0] ?? new Float32Array(frameCount);
  return { signal: { left, right: whole?.[1] ?? left, sampleRate_Hz }, notFiniteCount };
}
