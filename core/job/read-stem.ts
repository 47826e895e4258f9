import type { AudioReader } from '../audio-file/audio-reader.js';
import type { Channel, StereoSignal } from '../signal/stereo-signal.js';
import { PlainError } from '../units/plain-error.js';

const BLOCK_FRAMES = 65_536;

/**
 * Reads one file block by block into two channels, at its own rate. A mono file stands in both. Samples that are no number
 * stand as 0.
 * @throws PlainError for more than two channels, and where the file cannot be read.
 */
export async function readStem(reader: AudioReader): Promise<StereoSignal> {
  const { name, channels, frameCount, sampleRate_Hz } = reader.facts;
  if (channels !== 1 && channels !== 2) {
    throw new PlainError(
      name,
      `It has ${channels} channels.`,
      'Export it as mono or stereo and put that beside the other stems.',
    );
  }
  let whole: Channel[] | null = null;
  for (let from = 0; from < frameCount; from += BLOCK_FRAMES) {
    const block = await reader.readFrames(from, Math.min(BLOCK_FRAMES, frameCount - from));
    whole ??= block.map((channel) =>
      channel instanceof Float64Array ? new Float64Array(frameCount) : new Float32Array(frameCount),
    );
    block.forEach((channel, c) => whole![c]!.set(channel, from));
  }
  const left = whole?.[0] ?? new Float32Array(frameCount);
  return { left, right: whole?.[1] ?? left, sampleRate_Hz };
}
