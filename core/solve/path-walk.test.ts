import assert from 'node:assert/strict';
import { test } from 'node:test';
import { measureSong } from '../measure/measurements.js';
import type { SongSound } from '../measure/song-sound.js';
import { monoSignal } from '../signal/stereo-signal.js';
import { defaultTreatment, parseAddress } from '../treatment/paths.js';
import { unmeasurable } from '../units/reading.js';
import { walkPath, type WalkQuestion } from './path-walk.js';
import { SolveWatch } from './solve-watch.js';
import type { StageRequest } from './stage-request.js';

const rate = 48_000;
const tone = (frequency_Hz: number, phase: number) =>
  Float64Array.from({ length: 4 * rate }, (_, n) => 0.2 * Math.sin(2 * Math.PI * (phase + (frequency_Hz * n) / rate)));
const bass = { left: tone(60, 0), right: tone(60, 0.3), sampleRate_Hz: rate };
const kick = monoSignal(tone(55, 0.1), rate);
const source: SongSound = {
  sampleRate_Hz: rate,
  frameCount: bass.left.length,
  kick,
  bass,
  rest: null,
  tracks: { kick: [{ file: 'Kick.wav', signal: kick }], bass: [{ file: 'Bass.wav', signal: bass }], rest: [] },
};
const none = unmeasurable('not needed here');
const known = { hits: [], notes: [], tempo_bpm: none, fundamental_Hz: none, decay_ms: none };
const request = (place: string): StageRequest => ({
  address: parseAddress(place).address,
  because: ['wide-lows'],
  wish: null,
  settings: {},
  given: new Set(),
  figures: {},
});
const question = (share: number, solved: WalkQuestion['solved']): WalkQuestion => ({
  song: { source, known, measured: measureSong(source, known) },
  base: defaultTreatment({
    sampleRate_Hz: rate,
    notes: [],
    hits: [],
    files: { kick: ['Kick.wav'], bass: ['Bass.wav'], rest: [] },
  }),
  requests: [request('bass.centre'), request('bass.trim')],
  amounts: new Map(),
  turnedDown: new Map(share < 1 ? [['bass.centre', { share, because: ['carry'] }]] : []),
  solved,
  watch: new SolveWatch(0),
});

test('a walk that remembers earlier ones finds the very treatment and sound of a fresh one', async () => {
  const solved: WalkQuestion['solved'] = new Map();
  for (const share of [1, 0.5, 1]) {
    const remembering = await walkPath(question(share, solved));
    const fresh = await walkPath(question(share, new Map()));
    assert.deepEqual(remembering.treatment, fresh.treatment);
    assert.deepEqual(remembering.bass, fresh.bass);
  }
  // both shares of centre, and trim behind each
  assert.equal(solved.size, 4);
  const amounts = [...solved.values()].map(({ settings }) => settings['amount_percent']).filter((a) => a !== undefined);
  assert.equal(new Set(amounts).size, 2);
});
