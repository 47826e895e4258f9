import assert from 'node:assert/strict';
import { test } from 'node:test';
import { defaultTreatment, parseAddress, stageAt, withStage } from '../treatment/paths.js';
import { renderLaneExcerpt } from './render-lane-excerpt.js';
import { renderLane } from './render-tap.js';

const rate = 24_000;
const samples = Float32Array.from(
  { length: 4 * rate },
  (_, n) =>
    0.2 * Math.sin((2 * Math.PI * 55 * n) / rate) +
    0.1 * Math.sin((2 * Math.PI * 700 * n) / rate) * (n > 2 * rate ? 1 : 0.5),
);
const bass = { left: samples, right: samples, sampleRate_Hz: rate };
const source = {
  sampleRate_Hz: rate,
  frameCount: samples.length,
  rest: null,
  tracks: { kick: [], bass: [{ file: 'B.wav', signal: bass }], rest: [] },
};
const plain = defaultTreatment({
  ...{ sampleRate_Hz: rate, notes: [], hits: [] },
  files: { kick: [], bass: ['B.wav'], rest: [] },
});
const { address } = parseAddress('bass.low.saturate');
const driven = withStage(plain, address, { ...stageAt(plain, address)!, on: true });

test('an excerpt of a lane is that stretch of the whole lane, in either lane, at any place', () => {
  for (const lane of ['low', 'high'] as const) {
    const whole = renderLane(source, driven, 'bass', lane);
    for (const from of [0, 1.5 * rate + 77]) {
      const to = from + rate;
      const part = renderLaneExcerpt(source, driven, lane, { from, to, preRoll: rate });
      let apart = 0;
      let loudest = 0;
      for (let n = 0; n < rate; n++) {
        apart = Math.max(apart, Math.abs(part.left[n]! - whole.left[from + n]!));
        loudest = Math.max(loudest, Math.abs(whole.left[from + n]!));
      }
      assert.ok(loudest > 0.02, `${lane} is not silent`);
      // what rings longer than a second of pre-roll is far under -100 dB
      assert.ok(apart < 1e-6, `${lane} from ${from}: ${apart}`);
    }
  }
});
