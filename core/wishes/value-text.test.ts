import assert from 'node:assert/strict';
import { test } from 'node:test';
import fc from 'fast-check';
import { formatValue, parseValue, type ValueContext } from './value-text.js';

const values: readonly (readonly [text: string, context: ValueContext, value: number])[] = [
  ['80', { unit: 'Hz' }, 80],
  ['1.2k', { unit: 'Hz' }, 1200],
  ['1,2 kHz', { unit: 'Hz' }, 1200],
  // equal-tempered, A4 = 440 Hz (ISO 16:1975), handbook values
  ['F#1', { unit: 'Hz' }, 46.2493],
  ['Gb1', { unit: 'Hz' }, 46.2493],
  ['A4', { unit: 'Hz' }, 440],
  ['e1', { unit: 'Hz' }, 41.2034],
  ['-3 dB', { unit: 'dB' }, -3],
  ['−3', { unit: 'dB' }, -3],
  ['+0.5', { unit: 'dB' }, 0.5],
  ['+0.5', { unit: 'dB', current: 2, relative: true }, 2.5],
  ['-0.5', { unit: 'dB', current: 2, relative: true }, 1.5],
  ['0.5', { unit: 'dB', current: 2, relative: true }, 0.5],
  ['12 ms', { unit: 'ms' }, 12],
  ['0.1 s', { unit: 'ms' }, 100],
  ['250ms', { unit: 's' }, 0.25],
  // a whole note at 120 bpm is 2 s
  ['1/16', { unit: 'ms', tempo_bpm: 120 }, 125],
  ['1/8.', { unit: 'ms', tempo_bpm: 120 }, 375],
  ['1/8t', { unit: 'ms', tempo_bpm: 120 }, 500 / 3],
  ['1/4', { unit: 's', tempo_bpm: 90 }, 2 / 3],
  ['60 %', { unit: '%' }, 60],
  ['1e3', { unit: '' }, 1000],
  ['.5', { unit: 'oct' }, 0.5],
];

for (const [text, context, value] of values) {
  test(`"${text}" in ${context.unit || 'plain numbers'} is ${value}`, () => {
    // half a last digit of the printed note table
    assert.ok(Math.abs(parseValue(text, context) - value) <= (/^[A-Ga-g][#b]?\d/.test(text) ? 5e-5 : 1e-9));
  });
}

test('what cannot be read is refused with an example', () => {
  for (const [text, unit] of [
    ['', 'Hz'],
    ['loud', 'dB'],
    ['3 dB', 'Hz'],
    ['3 Hz', 'dB'],
    ['F#1', 'dB'],
    ['H1', 'Hz'],
    ['1/0', 'ms'],
    ['1/16', 'dB'],
    ['1.2.3', 'ms'],
    ['3 4', 'ms'],
    ['1e999', ''],
    ['NaN', ''],
    ['0x10', ''],
  ] as const) {
    assert.throws(() => parseValue(text, { unit, tempo_bpm: 120 }), /Write it like/, `${text} ${unit}`);
  }
});

test('a note length needs a tempo', () => {
  assert.throws(() => parseValue('1/16', { unit: 'ms' }), /no steady tempo/);
  assert.throws(() => parseValue('1/16', { unit: 'ms', tempo_bpm: null }), /no steady tempo/);
});

test('value and text come back from each other', () => {
  const number = fc.integer({ min: -1e9, max: 1e9 }).map((whole) => whole / 1000);
  fc.assert(
    fc.property(number, fc.constantFrom('Hz', 'dB', 'ms', 's', '%', 'oct', 'LU', ''), (value, unit) => {
      assert.equal(parseValue(formatValue(value, unit), { unit }), value);
    }),
    { seed: 1 },
  );
});
