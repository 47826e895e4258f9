import assert from 'node:assert/strict';
import { test } from 'node:test';
import { foundBy, measurementsOf, noteOf } from '../../tests/contracts/measurements-of.js';
import { prepareCarry } from '../measure/carry.js';
import { monoSignal, type StereoSignal } from '../signal/stereo-signal.js';
import { lostOnSmallSpeakers } from './lost-on-small-speakers.js';

const RATE = 16000;
const NOTES = Array.from({ length: 6 }, (_, i) => noteOf(0.4 * i, 0.4 * i + 0.38, 55));

function tones(parts: readonly (readonly [number, number])[]): StereoSignal {
  const samples = Float64Array.from({ length: 2.4 * RATE }, (_, n) =>
    parts.reduce((sum, [f, amplitude]) => sum + amplitude * Math.sin((2 * Math.PI * f * n) / RATE), 0),
  );
  for (let n = 0; n < 1600; n++) samples[n]! *= n / 1600;
  return monoSignal(samples, RATE);
}

/** A sub at 55 Hz whose harmonics 2 to 5 begin at a level, 3 dB less each. */
function measuredBass(harmonics_dB: number) {
  const parts = [2, 3, 4, 5].map((h) => [55 * h, 0.1 * 10 ** ((harmonics_dB - 3 * (h - 2)) / 20)] as const);
  const carry = prepareCarry(tones([[1000, 0.05]]), NOTES, RATE).measure(tones([[55, 0.1], ...parts]));
  return measurementsOf({ carry });
}

test('a sub is lost on the laptop, and is not once its harmonics are there', () => {
  const [sub] = foundBy(lostOnSmallSpeakers, measuredBass(-60));
  assert.ok(sub && sub.severity > 0.9);
  assert.match(
    sub.sentence,
    /^On a laptop the bass falls \d\d\.\d\u00a0LU further than the song does; two harmonics in a row are heard on 0\u00a0% of the notes\.$/,
  );
  assert.equal(sub.suggest.address, 'bass.low.harmonics');
  assert.equal(sub.suggest.wish, 'carry.laptop_LU >= -14');
  assert.equal(sub.where.notes.length, 6);
  const [middling] = foundBy(lostOnSmallSpeakers, measuredBass(-20));
  assert.ok(middling && middling.severity < sub.severity);
  assert.deepEqual(foundBy(lostOnSmallSpeakers, measuredBass(-12)), []);
});

test('a bass that carries by one harmonic alone is found by what is heard', () => {
  const carry = prepareCarry(tones([[1000, 0.05]]), NOTES, RATE).measure(
    tones([
      [55, 0.1],
      [275, 0.08],
    ]),
  );
  const [found] = foundBy(lostOnSmallSpeakers, measurementsOf({ carry }));
  assert.match(found!.sentence, /^On a laptop two harmonics in a row are heard on 0\u00a0% of the notes\.$/);
  assert.equal(found!.suggest.wish, 'carry.heardHarmonicsShare >= 80 %');
});

test('without a bass it is not judged', () => {
  assert.deepEqual(foundBy(lostOnSmallSpeakers, measurementsOf({})), []);
  assert.equal(lostOnSmallSpeakers.unjudged(measurementsOf({})), 'not part of this test');
});
