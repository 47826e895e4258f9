import { resampled } from '../../core/dsp/resampler.js';
import type { RenderSource } from '../../core/render/render-song.js';
import { sliceOf, type StereoSignal } from '../../core/signal/stereo-signal.js';
import type { Note } from '../../core/song/song.js';
import { defaultTreatment, parseAddress, stageAt, withStage } from '../../core/treatment/paths.js';
import type { SettingChange } from '../../core/treatment/setting-changes.js';
import type { SettingValue, Treatment } from '../../core/treatment/treatment.js';
import { buildDemoSong, DEMO_SAMPLE_RATE_HZ } from '../../demo/demo-song.js';
import { demoTruth } from '../../demo/demo-truth.js';

const SOUND_S = 4;
const TAIL_S = 1;

const FILES = {
  kick: ['01 Kick In.wav', '02 Kick Out.wav'],
  bass: ['04 Bass DI.wav', '05 Bass Amp.wav'],
  rest: ['03 Drums.wav', '06 Keys.wav', '07 Guitar.wav'],
};

const stems = buildDemoSong().filter(({ fileName }) => Object.values(FILES).flat().includes(fileName));

/** The demo song's first seconds at a rate, and a silent tail in which denormals would show. */
export function demoPiece(sampleRate_Hz: number): RenderSource {
  const frameCount = Math.round((SOUND_S + TAIL_S) * sampleRate_Hz);
  const track = (file: string) => {
    const { signal } = stems.find(({ fileName }) => fileName === file)!;
    return {
      file,
      signal: padded(resampled(sliceOf(signal, 0, SOUND_S * DEMO_SAMPLE_RATE_HZ), sampleRate_Hz), frameCount),
    };
  };
  const tracks = { kick: FILES.kick.map(track), bass: FILES.bass.map(track), rest: FILES.rest.map(track) };
  return { sampleRate_Hz, frameCount, rest: null, tracks };
}

function padded(signal: StereoSignal, frameCount: number): StereoSignal {
  const long = (channel: StereoSignal['left']) => {
    const all = new Float32Array(frameCount);
    all.set(channel.subarray(0, frameCount));
    return all;
  };
  const left = long(signal.left);
  const right = signal.right === signal.left ? left : long(signal.right);
  return { left, right, sampleRate_Hz: signal.sampleRate_Hz };
}

/** Every stage in its place, off. */
export function plainDemoTreatment(sampleRate_Hz: number): Treatment {
  const hits = demoTruth.hits
    .filter(({ time_s }) => time_s < SOUND_S)
    .map(({ time_s }) => ({ time_s, level_dBFS: -12 }));
  return defaultTreatment({
    sampleRate_Hz,
    notes: demoTruth.notes.filter(({ start_s }) => start_s < SOUND_S).map(noteOf),
    hits,
    files: FILES,
  });
}

function noteOf({ start_s, end_s, frequency_Hz }: { start_s: number; end_s: number; frequency_Hz: number }): Note {
  return {
    start_s,
    end_s,
    frequency_Hz,
    level_dBFS: -20,
    harmonics_dB: [0, -6, -12, -18, -24, -30, -36, -42],
    fundamentalMissing: false,
    curve_Hz: null,
    curveStep_s: 0.01,
  };
}

type StageAtWork = readonly [
  place: string,
  settings: Readonly<Record<string, SettingValue>>,
  figures: Readonly<Record<string, number | readonly number[]>>,
];

const AT_WORK: readonly StageAtWork[] = [
  ['kick["01 Kick In.wav"].clean', { lowCut: true }, { meanLeft_FS: 0.001, meanRight_FS: -0.001 }],
  ['kick["02 Kick Out.wav"].align', { delay_ms: -0.31 }, {}],
  ['kick.clean', { lowCut: true, corner_Hz: 25 }, {}],
  ['kick.trim', { gain_dB: -1 }, {}],
  ['bass["05 Bass Amp.wav"].align', { delay_ms: -4.2, polarity: 'inverted' }, {}],
  ['bass.even', {}, {}],
  ['bass.centre', {}, { makeUp_dB: 1.5 }],
  ['bass.low.steady', { threshold_dBFS: -30 }, {}],
  ['bass.low.harmonics', {}, {}],
  ['bass.low.saturate', {}, {}],
  ['bass.high.widen', { sideToMid_dB: -6 }, {}],
  ['bass.high.onset', {}, {}],
  ['bass.high.saturate', {}, {}],
  ['bass.join', { low_dB: 0.5, high_dB: -0.5 }, {}],
  ['bass.trim', { gain_dB: 1 }, {}],
  ['bass.make-room', {}, { cutPerHit_dB: Array.from({ length: 64 }, () => 4) }],
  ['rest["07 Guitar.wav"].clean', { lowCut: true }, {}],
];

/** Every stage that there is, on and at work. */
export function busyDemoTreatment(sampleRate_Hz: number): Treatment {
  return AT_WORK.reduce((treatment, [place, settings, figures]) => {
    const { address } = parseAddress(place);
    const old = stageAt(treatment, address)!;
    const instance = { ...old, on: true, settings: { ...old.settings, ...settings }, figures };
    return withStage(treatment, address, instance);
  }, plainDemoTreatment(sampleRate_Hz));
}

/** Settings and switches that change under way, at samples off the grid of ticks too. */
export function demoChanges(sampleRate_Hz: number): SettingChange[] {
  const at = (time_s: number) => Math.round(time_s * sampleRate_Hz);
  return [
    { sample: at(0.801), address: 'bass.trim.gain_dB', value: -2 },
    { sample: at(1.3), address: 'bass.low.saturate.drive_dB', value: 14 },
    { sample: at(1.8), address: 'bass.centre.on', value: false },
    { sample: at(2.3), address: 'bass.low.harmonics.on', value: false },
    { sample: at(2.8), address: 'bass.centre.on', value: true },
    { sample: at(3.2), address: 'kick.clean.corner_Hz', value: 40 },
    { sample: at(3.6), address: 'bass.high.saturate.on', value: false },
  ];
}
