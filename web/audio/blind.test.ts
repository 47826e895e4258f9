import assert from 'node:assert/strict';
import { test } from 'node:test';
import { BlindCompare } from './blind-compare.js';
import { blindOrder } from './blind-order.js';
import { BlindRun } from './blind-run.js';
import type { Hearing } from './heard-mix.js';

const terms = { a: 'source', b: 'treated', conditions: 'low end, full range', match_dB: -1.5, trials: 5 };

test('order: a seed gives one order, seeds differ, and the coin is even', () => {
  assert.deepEqual(blindOrder(7, 16), blindOrder(7, 16));
  assert.notDeepEqual(blindOrder(7, 16), blindOrder(8, 16));
  const many = blindOrder(1, 10_000).filter((letter) => letter === 'A').length;
  assert.ok(Math.abs(many - 5000) < 200, `${many}`); // four deviations of 50
});

test('nothing of X or of the tally shows before the last answer, and then all of it', () => {
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

test('an abandoned compare tells how far it came and nothing of what was right', () => {
  const compare = new BlindCompare(terms, 3);
  compare.answer('A');
  compare.answer('B');
  compare.abandon();
  assert.deepEqual(compare.record, { ...terms, answered: 2, answers: [], right: null });
  compare.answer('A');
  assert.equal(compare.record!.answered, 2);
});

test('a run sends the same kind of switch whatever is played, with the part and the match as agreed', () => {
  const sent: Hearing[] = [];
  const run = new BlindRun(
    { hearBlind: (hearing) => void sent.push(hearing) },
    { solo: 'bass', match_dB: -1.5 },
    terms,
    3,
  );
  const order = blindOrder(3, 5);
  run.play('A');
  run.play('A');
  run.play('B');
  for (const letter of order) {
    run.play('X');
    run.answer(letter);
  }
  const sides = sent.map(({ side }) => side);
  const expected = order.map((letter) => (letter === 'A' ? 'source' : 'treated'));
  assert.deepEqual(sides, ['source', 'source', 'treated', ...expected]);
  for (const { solo, match_dB, difference } of sent)
    assert.deepEqual([solo, match_dB, difference], ['bass', -1.5, false]);
  assert.equal(run.record!.right, 5);
  assert.deepEqual(Object.keys(run), [], 'nothing of it can be read from outside');
});
