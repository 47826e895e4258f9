import assert from 'node:assert/strict';
import { test } from 'node:test';
import { draggedValue, steppedValue } from './drag-value.js';
import { sayValue } from './say-value.js';
import { typedValue } from './typed-value.js';
import { shareOf, valueAt, type ValueRange } from './value-range.js';

const CUT: ValueRange = { min: 0, max: 9, scale: 'linear' };
const CORNER: ValueRange = { min: 30, max: 3000, scale: 'log' };

test('the full width of a blank is a tenth of the range, with Shift a hundredth', () => {
  assert.equal(draggedValue(CUT, 3, 80, 80, false, 'dB'), 3.9);
  assert.equal(draggedValue(CUT, 3, 80, 80, true, 'dB'), 3.09);
  assert.equal(draggedValue(CUT, 3, -40, 80, false, 'dB'), 2.5); // 3 - 0.45, to the digit shown
});

test('a drag is held at the ends of the range', () => {
  assert.equal(draggedValue(CUT, 8.9, 800, 80, false, 'dB'), 9);
  assert.equal(draggedValue(CUT, 0.1, -800, 80, false, 'dB'), 0);
});

test('on a logarithmic scale equal lengths are equal ratios', () => {
  // two decades: a tenth of the range is a fifth of a decade, 10^0.2 = 1.585
  assert.equal(draggedValue(CORNER, 100, 80, 80, false, 'Hz'), 158);
  assert.ok(Math.abs(shareOf(CORNER, 300) - 0.5) < 1e-12);
  assert.ok(Math.abs(valueAt(CORNER, 0.5) - 300) < 1e-9);
});

test('arrows step a hundredth of the range, never less than the last digit shown; Home and End go to the ends', () => {
  assert.equal(steppedValue(CUT, 3, 'ArrowUp', false, 'dB'), 3.1);
  assert.equal(steppedValue(CUT, 3, 'PageDown', false, 'dB'), 2.1);
  assert.equal(steppedValue({ min: 0, max: 0.3, scale: 'linear' }, 0.1, 'ArrowUp', false, 'dB'), 0.2);
  assert.equal(steppedValue(CUT, 3, 'Home', false, 'dB'), 0);
  assert.equal(steppedValue(CUT, 3, 'End', false, 'dB'), 9);
  assert.equal(steppedValue(CUT, 3, 'a', false, 'dB'), null);
});

test('what is typed is read as it is said at a desk, and held to the range', () => {
  assert.deepEqual(typedValue('1.2k', CORNER, 'Hz', 100, 92), { value: 1200 });
  const note = typedValue('F#1', CORNER, 'Hz', 100, null);
  assert.ok('value' in note && Math.abs(note.value - 46.25) < 0.01); // ISO 16:1975, A4 = 440 Hz
  assert.deepEqual(typedValue('+0.5', CUT, 'dB', 3, null), { value: 3.5 });
  assert.deepEqual(typedValue('2 dB', CUT, 'dB', 3, null), { value: 2 });
  const time = typedValue('1/16', { min: 0, max: 1000, scale: 'linear' }, 'ms', 10, 120);
  assert.deepEqual(time, { value: 125 }); // 60 / 120 s a beat, a quarter of it
});

test('a range with negative values takes a sign as the sign of the value', () => {
  assert.deepEqual(typedValue('-12', { min: -60, max: 0, scale: 'linear' }, 'dB', -20, null), { value: -12 });
});

test('what cannot be read or lies outside says so and changes nothing', () => {
  const wrong = typedValue('loud', CUT, 'dB', 3, null);
  assert.ok('problem' in wrong && wrong.problem.includes('cannot be read'));
  const outside = typedValue('12', CUT, 'dB', 3, null);
  assert.ok('problem' in outside && outside.problem === 'It takes 0 to 9\u00a0dB.');
});

test('a number is said with a true minus, its unit behind a no-break space', () => {
  assert.equal(sayValue(-12.9, 'LU'), '\u221212.9\u00a0LU');
  assert.equal(sayValue(54.3, 'Hz'), '54.3\u00a0Hz');
  assert.equal(sayValue(1200, 'Hz'), '1200\u00a0Hz');
  assert.equal(sayValue(-0.001, 'dB'), '0\u00a0dB');
  assert.equal(sayValue(3.09, 'dB'), '3.09\u00a0dB'); // set finely
  assert.equal(sayValue(56.12310241546865, 'Hz'), '56.1\u00a0Hz'); // computed
});
