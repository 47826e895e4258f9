import assert from 'node:assert/strict';
import { test } from 'node:test';
import { timeLeft_s } from './time-left.js';

test('what is left takes as long a piece as what is done', () => {
  assert.equal(timeLeft_s(6000, 20, 50), 9);
  assert.equal(timeLeft_s(6000, 50, 50), 0);
});

test('nothing is told from too little, or where the total was passed', () => {
  assert.equal(timeLeft_s(6000, 2, 50), null);
  assert.equal(timeLeft_s(1000, 20, 50), null);
  assert.equal(timeLeft_s(6000, 51, 50), null);
});
