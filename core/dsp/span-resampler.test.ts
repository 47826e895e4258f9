import assert from 'node:assert/strict';
import { test } from 'node:test';
import { SeededRandom } from '../units/seeded-random.js';
import { resampledChannel } from './resampler.js';
import { SpanResampler } from './span-resampler.js';

const random = new SeededRandom(4);
const sound = Float32Array.from({ length: 4000 }, () => random.normal());

/** The input over a span, 0 beyond its ends. */
function over(span: { readonly from: number; readonly to: number }): Float32Array {
  return Float32Array.from({ length: span.to - span.from }, (_, n) => sound[span.from + n] ?? 0);
}

for (const [from_Hz, to_Hz] of [
  [44_100, 48_000],
  [96_000, 48_000],
  [48_000, 44_100],
  [44_101, 48_000],
] as const) {
  test(`${from_Hz} to ${to_Hz} Hz: every stretch equals the whole, to the last bit`, () => {
    const whole = resampledChannel(sound, from_Hz, to_Hz);
    const spans = new SpanResampler(from_Hz, to_Hz);
    assert.equal(spans.lengthOf(sound.length), whole.length);
    for (const [first, count] of [
      [0, 200],
      [199, 1],
      [777, 501],
      [whole.length - 300, 300],
    ] as const) {
      const part = spans.outputs(over(spans.spanOf(first, count)), first, count);
      assert.deepEqual(part, whole.slice(first, first + count));
    }
  });
}

test('rates that are no whole numbers are refused', () => {
  assert.throws(() => new SpanResampler(44_100.5, 48_000), RangeError);
});
