import assert from 'node:assert/strict';
import { test } from 'node:test';
import { PlainError } from './plain-error.js';

test('a plain error says what, why and what to do', () => {
  const error = new PlainError('Kick.wav', 'It is empty.', 'Export it again.');
  assert.ok(error instanceof Error);
  assert.deepEqual([error.subject, error.reason, error.remedy], ['Kick.wav', 'It is empty.', 'Export it again.']);
  assert.equal(error.message, 'Kick.wav: It is empty. Export it again.');
});
