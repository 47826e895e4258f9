import assert from 'node:assert/strict';
import { test } from 'node:test';
import { filteredBothWays } from '../dsp/biquad.js';
import { butterworthBandPass } from '../dsp/butterworth.js';
import { TICK } from '../dsp/stereo-unit.js';
import { defaultTreatment, parseAddress, stageAt, withStage } from '../treatment/paths.js';
import { RecursiveTurn } from '../treatment/recursive-turn.js';
import { renderSong } from './render-song.js';

// A kick and a bass note of its pitch, locked to it at a lag: the phase between them decides what they gain by summing.
const sampleRate_Hz = 48_000;
const hits_s = [0.25, 0.75, 1.25, 1.75, 2.25];
const frameCount = TICK * Math.ceil((2.9 * sampleRate_Hz) / TICK);

function placed(starts_s: readonly number[], length_s: number, sound: (t: number) => number): Float64Array {
  const out = new Float64Array(frameCount);
  for (const start_s of starts_s) {
    const from = Math.round(start_s * sampleRate_Hz);
    for (let n = 0; n < length_s * sampleRate_Hz && from + n < frameCount; n++)
      out[from + n]! += sound(n / sampleRate_Hz);
  }
  return out;
}

const kick = placed(hits_s, 0.5, (t) => {
  const cycles = 52 * t + 104 * 0.012 * (1 - Math.exp(-t / 0.012));
  return Math.sin(2 * Math.PI * cycles) * Math.exp(-t / 0.09) * Math.min(1, t / 0.001);
});

function bassAt(lag_ms: number): Float64Array {
  const note = (t: number) => [1, 2, 3].reduce((sum, h) => sum + Math.sin(2 * Math.PI * h * 52 * t) / h, 0);
  const starts_s = hits_s.map((hit_s) => hit_s + lag_ms / 1000);
  return placed(starts_s, 0.4, (t) => 10 ** (-6.02 / 20) * note(t) * Math.min(1, t / 0.003));
}

// Median over the hits of 10 lg(E(k + b) / (E(k) + E(b))), 30-150 Hz, zero phase, 0..150 ms.
function agreement_dB(kickSound: Float64Array, bassSound: Float64Array): number {
  const band = butterworthBandPass(4, 30, 150, sampleRate_Hz);
  const [k, b] = [kickSound, bassSound].map((sound) => filteredBothWays(sound, band, sampleRate_Hz / 2)) as [
    Float64Array,
    Float64Array,
  ];
  const perHit = hits_s.map((hit_s) => {
    const from = Math.round(hit_s * sampleRate_Hz);
    let together = 0;
    let apart = 0;
    for (let n = from; n < from + 0.15 * sampleRate_Hz; n++) {
      together += (k[n]! + b[n]!) ** 2;
      apart += k[n]! ** 2 + b[n]! ** 2;
    }
    return 10 * Math.log10(together / apart);
  });
  return perHit.sort((p, q) => p - q)[2]!;
}

function turned(sound: Float64Array): Float64Array {
  const unit = new RecursiveTurn(sampleRate_Hz);
  unit.setCorner(300, true);
  const out = sound.slice();
  for (let t = 0; t < out.length; t += TICK) {
    unit.process(out.subarray(t, t + TICK), new Float64Array(TICK), TICK);
    unit.flush();
  }
  return out;
}

const plain = defaultTreatment({ sampleRate_Hz, notes: [], hits: [], files: { kick: ['k'], bass: ['b'], rest: [] } });

function splitBy(phase: 'zero' | 'recursive') {
  const change = (treatment: typeof plain, place: string, settings: Record<string, string | number>) => {
    const { address } = parseAddress(place);
    const old = stageAt(treatment, address)!;
    return withStage(treatment, address, { ...old, on: true, settings: { ...old.settings, ...settings } });
  };
  return change(change(plain, 'bass.split', { phase }), 'bass.join', {});
}

// Measured for this project on a prototype: now, and with the bass turned by the all-pass of the split, the kick dry.
const tabled = [
  [0, 0.82, -0.51],
  [3, -2.15, -3.55],
  [9, -1.3, 0.01],
  [15, 2.03, 1.9],
] as const;

test('a recursive split costs a locked pair up to 1.4 dB where the kick stays dry, and nothing where the chain runs it', () => {
  for (const [lag_ms, now_dB, kickDry_dB] of tabled) {
    const bass = bassAt(lag_ms);
    const now = agreement_dB(kick, bass);
    assert.ok(Math.abs(now - now_dB) < 0.05, `now at ${lag_ms} ms: ${now}`);
    const dry = agreement_dB(kick, turned(bass));
    assert.ok(Math.abs(dry - kickDry_dB) < 0.05, `kick dry at ${lag_ms} ms: ${dry}`);
    const mono = (samples: Float64Array) => ({ left: samples, right: samples, sampleRate_Hz });
    const tracks = { kick: [{ file: 'k', signal: mono(kick) }], bass: [{ file: 'b', signal: mono(bass) }], rest: [] };
    for (const phase of ['zero', 'recursive'] as const) {
      const out = renderSong({ sampleRate_Hz, frameCount, rest: null, tracks }, splitBy(phase), {
        roles: ['kick', 'bass'],
      });
      const through = agreement_dB(out.kick!.left as Float64Array, out.bass!.left as Float64Array);
      assert.ok(Math.abs(through - now) < 0.03, `${phase} at ${lag_ms} ms: ${through} instead of ${now}`);
    }
  }
});
