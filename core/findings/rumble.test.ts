import assert from 'node:assert/strict';
import { test } from 'node:test';
import { foundBy, knowledgeOf, measurementsOf, noteOf } from '../../tests/contracts/measurements-of.js';
import { stemLowsOf } from '../measure/stem-lows.js';
import { monoSignal } from '../signal/stereo-signal.js';
import { dcOffset } from './dc-offset.js';
import { rumble } from './rumble.js';

const RATE = 8000;

function measuredFile(role: 'bass' | 'rest', rumble_FS: number, mean_FS = 0, low_FS = 0.1) {
  const samples = Float64Array.from({ length: 4 * RATE }, (_, n) => {
    const t = (2 * Math.PI * n) / RATE;
    return mean_FS + low_FS * Math.sin(80 * t) + rumble_FS * Math.sin(10 * t);
  });
  return measurementsOf({
    known: knowledgeOf({ notes: [noteOf(0, 1, 30.87), noteOf(1, 2, 55)] }),
    stemLows: [stemLowsOf(role, { file: 'Room "B".wav', signal: monoSignal(samples, RATE) })],
  });
}

test('rumble is found within 6 dB of the lows and not below', () => {
  assert.deepEqual(foundBy(rumble, measuredFile('rest', 0.045)), []); // 6.9 dB under
  const [near] = foundBy(rumble, measuredFile('rest', 0.056)); // 5.0 dB under
  assert.match(
    near!.sentence,
    /^At 5 to 20\u00a0Hz Room "B"\.wav is only 5\.0\u00a0dB below its own lows, and no note is there\.$/,
  );
  assert.ok(Math.abs(near!.severity - 1 / 6) < 0.02);
  const [over] = foundBy(rumble, measuredFile('rest', 0.2));
  assert.match(over!.sentence, /is 6\.0\u00a0dB above its own lows/);
  assert.ok(over!.severity > 1.9);
  assert.equal(over!.suggest.address, 'rest["Room \\"B\\".wav"].clean');
});

test('rumble too quiet to matter is left alone', () => {
  assert.deepEqual(foundBy(rumble, measuredFile('rest', 0.003, 0, 0.003)), []); // -50.5 dBFS, channels summed
  assert.equal(foundBy(rumble, measuredFile('rest', 0.0035, 0, 0.0035)).length, 1); // -49.1 dBFS
});

test('the low cut stays under half the lowest note, and its effect is the Butterworth response', () => {
  const [found] = foundBy(rumble, measuredFile('bass', 0.2));
  assert.equal(found!.suggest.address, 'bass.clean');
  assert.ok(Math.abs(Number(found!.suggest.settings['corner_Hz']) - 15.435) < 1e-9);
  const left_dB = -10 * Math.log10(1 + (15.435 / 10) ** 4);
  assert.ok(Math.abs(found!.suggest.expected!.value - (20 * Math.log10(0.2) + left_dB)) < 0.4);
});

test('a DC offset is found above -45 dBFS and not below', () => {
  assert.deepEqual(foundBy(dcOffset, measuredFile('bass', 0, 0.0054)), []); // -45.4 dBFS
  const [found] = foundBy(dcOffset, measuredFile('bass', 0, -0.01));
  assert.match(found!.sentence, /^Room "B"\.wav stands off zero by \u221240\.0\u00a0dBFS/);
  assert.ok(Math.abs(found!.severity - (10 ** (5 / 20) - 1)) < 0.01);
  assert.deepEqual(found!.suggest.settings, { dc: true });
  assert.deepEqual(foundBy(rumble, measuredFile('bass', 0, -0.01)), []);
});
