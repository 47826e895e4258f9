import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { FLACDecoder } from '@wasm-audio-decoders/flac';
import type { StereoSignal } from '../../core/signal/stereo-signal.js';

const folder = join(
  dirname(createRequire(import.meta.url).resolve('supersonic-scsynth-samples/package.json')),
  'samples',
);

/** One of the CC0 one-shots of the package supersonic-scsynth-samples, by its name without the ending. */
export async function oneShot(name: string): Promise<StereoSignal> {
  const decoder = new FLACDecoder();
  await decoder.ready;
  const { channelData, sampleRate } = await decoder.decodeFile(readFileSync(join(folder, `${name}.flac`)));
  decoder.free();
  const left = channelData[0]!;
  return { left, right: channelData[1] ?? left, sampleRate_Hz: sampleRate };
}

/** The mid of a sound read at another speed and rate, by linear interpolation: 2 = an octave up. */
export function readAtSpeed(sound: StereoSignal, speed: number, sampleRate_Hz: number): Float64Array {
  const step = (speed * sound.sampleRate_Hz) / sampleRate_Hz;
  const length = Math.floor((sound.left.length - 1) / step);
  const mid = (n: number): number => 0.5 * (sound.left[n]! + sound.right[n]!);
  return Float64Array.from({ length }, (_, n) => {
    const at = n * step;
    const whole = Math.floor(at);
    return mid(whole) + (at - whole) * (mid(Math.min(whole + 1, sound.left.length - 1)) - mid(whole));
  });
}
