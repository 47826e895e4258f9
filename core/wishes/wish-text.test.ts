import assert from 'node:assert/strict';
import { test } from 'node:test';
import fc from 'fast-check';
import { STATISTICS } from './statistics.js';
import { formatWish, met, parseWish, parseWishAssignment, shortfall } from './wish-text.js';

const texts: readonly (readonly [text: string, low: number | null, high: number | null])[] = [
  ['>= 90', 90, null],
  ['>=90', 90, null],
  ['≥ -3.5', -3.5, null],
  ['<= 1', null, 1],
  ['≤ .5', null, 0.5],
  ['3..5', 3, 5],
  ['-14..', -14, null],
  ['..2', null, 2],
  ['-6 .. -3', -6, -3],
  ['−6..+1', -6, 1],
  [' 1.5..2 dB ', 1.5, 2],
  ['<= 1 db', null, 1],
];

for (const [text, low, high] of texts) {
  test(`"${text}" wants ${low} to ${high}`, () => {
    assert.deepEqual(parseWish('centre.foldDownLoss_dB', text), { statistic: 'centre.foldDownLoss_dB', low, high });
  });
}

test('shares are 0 to 1 in data, per cent or not', () => {
  const wanted = { statistic: 'clearance.share2dB', low: 0.9, high: null };
  assert.deepEqual(parseWish('clearance.share2dB', '>= 90 %'), wanted);
  assert.deepEqual(parseWish('clearance.share2dB', '>= 0.9'), wanted);
  assert.equal(formatWish(wanted), '>= 90 %');
});

test('what is no wish is refused with an example', () => {
  for (const text of [
    '',
    '..',
    'loud',
    '5',
    '> 3',
    '>= ',
    '3..x',
    '3...5',
    '>= 3 apples',
    '5..3',
    '>= 3 Hz',
    '1,5..2',
    '>= Infinity',
  ]) {
    assert.throws(() => parseWish('centre.foldDownLoss_dB', text), /Write >= 90 %/, text);
  }
  assert.throws(() => parseWish('centre.foldDownLoss_dB', '>= 3 Hz'), /is in dB, not in Hz/);
});

test('an assignment names its figure', () => {
  assert.deepEqual(parseWishAssignment('clearance.share2dB=>= 90 %'), {
    statistic: 'clearance.share2dB',
    low: 0.9,
    high: null,
  });
  assert.deepEqual(parseWishAssignment('steady.loudNoteReduction_dB = 3..5'), {
    statistic: 'steady.loudNoteReduction_dB',
    low: 3,
    high: 5,
  });
  for (const text of ['clearance', '>= 90 %', '=3..5', 'clearance=3..5', 'a b.c=3..5']) {
    assert.throws(() => parseWishAssignment(text), /--wish clearance.share2dB=">= 90 %"/, text);
  }
});

test('met and missing', () => {
  const wish = parseWish('x.y_dB', '3..5');
  assert.deepEqual(
    [2.5, 3, 4, 5, 6.25].map((value) => shortfall(wish, value)),
    [0.5, 0, 0, 0, 1.25],
  );
  assert.deepEqual(
    [2.5, 3, 5, 6].map((value) => met(wish, value)),
    [false, true, true, false],
  );
  // 0.1 + 0.2 is 0.30000000000000004: a limit is not missed by how numbers are stored
  assert.ok(met(parseWish('x.y_dB', '<= 0.3'), 0.1 + 0.2));
  assert.ok(!met(parseWish('x.y_dB', '<= 0.3'), 0.300001));
  assert.ok(!met(wish, NaN));
});

test('text and wish come back from each other', () => {
  const limit = fc.integer({ min: -99999, max: 99999 }).map((number) => number / 100);
  const address = fc.constantFrom('steady.loudNoteReduction_dB', ...STATISTICS.map((statistic) => statistic.address));
  fc.assert(
    fc.property(address, limit, limit, fc.constantFrom('low', 'high', 'both'), (statistic, a, b, which) => {
      const wish = {
        statistic,
        low: which === 'high' ? null : Math.min(a, b),
        high: which === 'low' ? null : Math.max(a, b),
      };
      const again = parseWish(statistic, formatWish(wish));
      for (const side of ['low', 'high'] as const) {
        if (wish[side] === null) assert.equal(again[side], null);
        else assert.ok(Math.abs(again[side]! - wish[side]) < 1e-9 * Math.max(1, Math.abs(wish[side])));
      }
    }),
    { seed: 1 },
  );
});
