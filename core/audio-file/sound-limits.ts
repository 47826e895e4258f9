import { PlainError } from '../units/plain-error.js';
import type { AudioFileFacts } from './audio-reader.js';

export const LOWEST_RATE_HZ = 8_000;
export const HIGHEST_RATE_HZ = 384_000;

/** Loudspeaker positions in the order of the channel mask's bits 0..10 (WAVE_FORMAT_EXTENSIBLE). */
const POSITIONS = [
  'front left',
  'front right',
  'front centre',
  'low frequency',
  'back left',
  'back right',
  'front left of centre',
  'front right of centre',
  'back centre',
  'side left',
  'side right',
];

/** @throws PlainError where nothing can be done with the file: no channels, a rate out of range, no sound. */
export function checkReadable(facts: Pick<AudioFileFacts, 'name' | 'channels' | 'sampleRate_Hz' | 'frameCount'>): void {
  const { name, channels, sampleRate_Hz, frameCount } = facts;
  if (channels === 0) throw new PlainError(name, 'The header says 0 channels.', 'Export the file again.');
  if (!(sampleRate_Hz >= LOWEST_RATE_HZ && sampleRate_Hz <= HIGHEST_RATE_HZ)) {
    throw new PlainError(
      name,
      `The header says a sample rate of ${sampleRate_Hz} Hz; ${LOWEST_RATE_HZ} to ${HIGHEST_RATE_HZ} Hz can be read.`,
      'Export it at the rate of the session.',
    );
  }
  if (frameCount === 0) throw new PlainError(name, 'The file holds no sound.', 'Export it again or leave it out.');
}

/** @throws PlainError where the file is neither mono nor stereo, naming its channels. */
export function checkMonoOrStereo(facts: Pick<AudioFileFacts, 'name' | 'channels' | 'channelMask'>): void {
  if (facts.channels === 1 || facts.channels === 2) return;
  throw new PlainError(
    facts.name,
    `The file has ${facts.channels} channels${positionsOf(facts.channels, facts.channelMask)}; a stem has 1 or 2.`,
    'Export it as mono or stereo, or as one file per channel.',
  );
}

function positionsOf(channels: number, mask: number | null): string {
  if (mask === null || mask === 0) return '';
  const named = POSITIONS.filter((_, bit) => (mask & (1 << bit)) !== 0);
  return named.length === channels ? ` (${named.join(', ')})` : '';
}
