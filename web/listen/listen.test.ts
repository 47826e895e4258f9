import assert from 'node:assert/strict';
import { test } from 'node:test';
import { BlindCompare, blindKey } from './blind-compare.js';
import { blindOrder } from './blind-order.js';
import { chanceOfAtLeast, guesserChances, sayMeaning, sayResult } from './guessing.js';
import { gainToApply_dB, sayMatch } from './say-match.js';

test('binomial chances are exact: 16 trials (NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.6.18, p = 1/2)', () => {
  const chances = guesserChances(16);
  assert.equal(chances[8], 12870 / 65536);
  assert.equal(chances[0], 1 / 65536);
  assert.equal(
    chances.reduce((a, b) => a + b),
    1,
  );
  assert.equal(chanceOfAtLeast(12, 16), 2517 / 65536); // 1820 + 560 + 120 + 16 + 1
  assert.equal(chanceOfAtLeast(0, 16), 1);
});

test('the result in words', () => {
  assert.equal(sayResult(12, 16), '12 of 16 right. Guessing alone does this well 1 time in 26.');
  assert.equal(sayResult(8, 16), '8 of 16 right. Guessing alone does this well 60 times in 100.');
  assert.match(sayMeaning(12, 16), /most likely hear/);
  assert.match(sayMeaning(11, 16), /not shown/);
});

test('order: a seed gives one order, seeds differ, and the coin is even', () => {
  assert.deepEqual(blindOrder(7, 16), blindOrder(7, 16));
  assert.notDeepEqual(blindOrder(7, 16), blindOrder(8, 16));
  const many = blindOrder(1, 10_000).filter((letter) => letter === 'A').length;
  assert.ok(Math.abs(many - 5000) < 200, `${many}`); // four deviations of 50
});

test('nothing of X or of the tally shows before the last answer, and then all of it', () => {
  const terms = { a: 'v2', b: 'v3', conditions: 'low end, full range', trials: 5 };
  const compare = new BlindCompare(terms, 3);
  const order = blindOrder(3, 5);
  for (let i = 0; i < 5; i++) {
    assert.equal(compare.record, null);
    assert.ok(
      !JSON.stringify(compare).includes(order.join('')) && !/order|said|seed/i.test(Object.keys(compare).join()),
    );
    assert.equal(compare.soundOf('X'), order[i]);
    compare.answer(i === 2 ? (order[i] === 'A' ? 'B' : 'A') : order[i]!);
  }
  compare.answer('A');
  assert.equal(compare.record!.right, 4);
  assert.deepEqual(
    compare.record!.answers.map(({ x }) => x),
    order,
  );
});

test('keys of the compare', () => {
  assert.deepEqual(blindKey('x'), { play: 'X' });
  assert.deepEqual(blindKey('ArrowRight'), { answer: 'B' });
  assert.equal(blindKey('Escape'), 'close');
  assert.equal(blindKey('s'), null);
});

test('the match in words: over 6 dB no level makes it fair', () => {
  const match = { kind: 'match', match_dB: 0.42, apart_LU: 0.03, by: 'BS.1770 loudness', fair: true } as const;
  assert.equal(sayMatch(match), 'Matched: treated +0.4\u00a0dB, 0.03\u00a0LU apart, by BS.1770 loudness.');
  assert.match(sayMatch({ ...match, match_dB: -7, fair: false }), /−7\.0\u00a0dB apart\. No level makes this fair/);
  assert.equal(gainToApply_dB(match), 0.42);
  assert.equal(gainToApply_dB({ kind: 'unmeasurable', reason: 'silent' }), 0);
});
