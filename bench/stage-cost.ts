import { renderSong, type RenderSource } from '../core/render/render-song.js';
import { renderStage } from '../core/render/render-stage.js';
import type { StereoSignal } from '../core/signal/stereo-signal.js';
import { defaultTreatment, formatAddress, stageAt, withStage } from '../core/treatment/paths.js';
import type { StageAddress, Treatment } from '../core/treatment/treatment.js';
import { SeededRandom } from '../core/units/seeded-random.js';
import { cpuTime_s } from './cpu-time.js';

const RATE_Hz = 48_000;
export const STAGE_SOUND_S = 30;
const NOTE_S = 0.5;

/** Processor seconds for 30 s of stereo at 48 kHz; `off_s` is what is left of the stage when it is off. */
export interface StageCost {
  readonly stage: string;
  readonly on_s: number;
  readonly off_s: number | null;
}

/** Every stage of the bass alone, then the whole path with every stage on, as it runs live. */
export async function stageCosts(): Promise<StageCost[]> {
  const treatment = everyStageOn();
  const sound = line();
  const { notes, hits } = treatment;
  const costs: StageCost[] = [];
  for (const address of addressesOf(treatment)) {
    const instance = stageAt(treatment, address)!;
    const seconds = (on: boolean): Promise<number> =>
      cpuTime_s(() =>
        renderStage(
          { ...instance, on },
          { signal: sound, firstSongSample: 0 },
          { sampleRate_Hz: RATE_Hz, notes, hits },
        ),
      );
    await seconds(true); // compiled before it is timed
    costs.push({ stage: formatAddress(address), on_s: await seconds(true), off_s: await seconds(false) });
  }
  const source: RenderSource = {
    sampleRate_Hz: RATE_Hz,
    frameCount: sound.left.length,
    rest: null,
    tracks: { kick: [{ file: 'Kick.wav', signal: sound }], bass: [{ file: 'Bass.wav', signal: sound }], rest: [] },
  };
  const whole = await cpuTime_s(() => renderSong(source, treatment, { roles: ['kick', 'bass'], blockFrames: 128 }));
  return [...costs, { stage: EVERY_STAGE, on_s: whole, off_s: null }];
}

export const EVERY_STAGE = 'every stage, blocks of 128';

function addressesOf({ bass }: Treatment): StageAddress[] {
  const address = (lane: 'low' | 'high' | null, track: string | null) => (instance: { stage: StageAddress['stage'] }) =>
    ({ role: 'bass', track, lane, stage: instance.stage }) as const;
  return [
    ...bass.tracks.flatMap(({ file, stages }) => stages.map(address(null, file))),
    ...bass.stages.map(address(null, null)),
    ...bass.lanes.low.map(address('low', null)),
    ...bass.lanes.high.map(address('high', null)),
  ].filter(({ stage }) => stage !== 'join');
}

/** Notes and hits twice a second, all stages on at their defaults, with figures that give each its work. */
function everyStageOn(): Treatment {
  const times = Array.from({ length: Math.floor(STAGE_SOUND_S / NOTE_S) }, (_, i) => i * NOTE_S);
  const notes = times.map((start_s) => ({
    start_s,
    end_s: start_s + 0.9 * NOTE_S,
    frequency_Hz: frequencyAt(start_s),
    level_dBFS: -12,
    harmonics_dB: [0, -6, -12, -18, -24, -30, -36, -42],
    fundamentalMissing: false,
    curve_Hz: null,
    curveStep_s: 0.01,
  }));
  const hits = times.map((time_s) => ({ time_s, level_dBFS: -12 }));
  const figures = {
    cutPerHit_dB: hits.map(() => 4),
    makeUp_dB: 1,
    existingPartials_dB: notes.flatMap(() => [-40, -40, -40, -40]),
    existingPhases_cycles: notes.flatMap(() => [0, 0, 0, 0]),
    leaveOut: notes.map(() => 0),
  };
  const files = { kick: ['Kick.wav'], bass: ['Bass.wav'], rest: [] };
  let treatment: Treatment = defaultTreatment({ sampleRate_Hz: RATE_Hz, notes, hits, files });
  for (const address of addressesOf(treatment)) {
    const old = stageAt(treatment, address)!;
    const delay = address.stage === 'align' ? { delay_ms: 1.3 } : {};
    treatment = withStage(treatment, address, {
      ...old,
      on: true,
      figures,
      settings: { ...old.settings, ...delay },
    });
  }
  return treatment;
}

function frequencyAt(time_s: number): number {
  return 41 + 3 * (Math.floor(time_s / NOTE_S) % 12);
}

/** A bass line of sines with a little noise, a little wider than mono. */
function line(): StereoSignal {
  const random = new SeededRandom(3);
  const left = new Float64Array(STAGE_SOUND_S * RATE_Hz);
  const right = new Float64Array(left.length);
  for (let n = 0; n < left.length; n++) {
    const tone = 0.3 * Math.sin((2 * Math.PI * frequencyAt(n / RATE_Hz) * n) / RATE_Hz);
    left[n] = tone + random.between(-0.05, 0.05);
    right[n] = tone + random.between(-0.05, 0.05);
  }
  return { left, right, sampleRate_Hz: RATE_Hz };
}
