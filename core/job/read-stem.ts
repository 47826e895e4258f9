import type { AudioReader } from '../audio-file/audio-reader.js';
import { HeldSound } from '../audio-file/held-sound.js';
import type { StereoSignal } from '../signal/stereo-signal.js';
import { PlainError } from '../units/plain-error.js';

/**
 * Reads one file into two channels, at its own rate. A mono file stands in both. Samples that are no number
 * stand as 0.
 * @throws PlainError for more than two channels, and where the file cannot be read.
 */
export async function readStem(reader: AudioReader): Promise<StereoSignal> {
  const { name, channels, sampleRate_Hz } = reader.facts;
  if (channels !== 1 && channels !== 2) {
    throw new PlainError(
      name,
      `It has ${channels} channels.`,
      'Export it as mono or stereo and put that beside the other stems.',
    );
  }
  const held = reader instanceof HeldSound ? reader : await HeldSound.read(reader);
  const left = held.channels[0]!;
  return { left, right: held.channels[1] ?? left, sampleRate_Hz };
}
