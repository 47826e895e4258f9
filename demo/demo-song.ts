import type { Channel, StereoSignal } from '../core/signal/stereo-signal.js';
import { bassAmp, bassDirect } from './bass-rig.js';
import { drumTracks, kickTracks } from './drum-kit.js';
import { guitarTrack } from './guitar.js';
import { keysTrack } from './keys.js';

export const DEMO_SAMPLE_RATE_HZ = 48000;
export const DEMO_SONG_NAME = 'Weir at First Light';

/** One file of the demo song, 48 kHz and 24 bit. The sound is made when it is first asked for. */
export interface DemoStem {
  readonly fileName: string;
  readonly bitDepth: 24;
  /** On the 24-bit grid: multiples of 2^-23, so that writing it at 24 bit loses nothing. */
  readonly signal: StereoSignal;
}

/** The song "Weir at First Light" as stems, in the order of the folder. The same bits on every machine. */
export function buildDemoSong(): DemoStem[] {
  const rate = DEMO_SAMPLE_RATE_HZ;
  const kick = onFirstUse(() => kickTracks(rate));
  const direct = onFirstUse(() => bassDirect(rate));
  return [
    demoStem('01 Kick In.wav', () => mono(kick().inside, rate)),
    demoStem('02 Kick Out.wav', () => mono(kick().outside, rate)),
    demoStem('03 Drums.wav', () => drumTracks(rate)),
    demoStem('04 Bass DI.wav', () => mono(direct(), rate)),
    demoStem('05 Bass Amp.wav', () => bassAmp(direct(), rate)),
    demoStem('06 Keys.wav', () => keysTrack(rate)),
    demoStem('07 Guitar.wav', () => guitarTrack(rate)),
  ];
}

function mono(samples: Float64Array, sampleRate_Hz: number): StereoSignal {
  return { left: samples, right: samples, sampleRate_Hz };
}

function demoStem(fileName: string, render: () => StereoSignal): DemoStem {
  const made = onFirstUse(() => onGrid(render()));
  return {
    fileName,
    bitDepth: 24,
    get signal() {
      return made();
    },
  };
}

function onFirstUse<T>(make: () => T): () => T {
  let made: { readonly value: T } | null = null;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}

const STEPS = 8388608;

function onGrid({ left, right, sampleRate_Hz }: StereoSignal): StereoSignal {
  const rounded = (channel: Channel): Float32Array => {
    const samples = new Float32Array(channel.length);
    for (let n = 0; n < samples.length; n++) samples[n] = Math.floor(channel[n]! * STEPS + 0.5) / STEPS;
    return samples;
  };
  const first = rounded(left);
  return { left: first, right: right === left ? first : rounded(right), sampleRate_Hz };
}
