import assert from 'node:assert/strict';
import { test } from 'node:test';
import { writeSession } from '../../core/session/session-file.js';
import { emptySession, type Session } from '../../core/session/session-format.js';
import { undone } from './session-history.js';
import { takenUp } from './taken-up.js';

function left(reason: string): Session {
  return { ...emptySession(), decisions: [{ finding: 'rumble', action: 'leave', reason }] };
}

test('a new song begins empty, or with the file that lies with its stems', () => {
  assert.deepEqual(takenUp(null, null, null).session, emptySession());
  const file = left('the room');
  assert.deepEqual(takenUp(null, file, writeSession(file)).session, file);
});

test('what the browser kept goes on where the file is the one it was begun from or wrote', () => {
  const file = left('old');
  const kept = { text: writeSession(left('newer, not written yet')), beside: writeSession(file) };
  const history = takenUp(kept, file, writeSession(file));
  assert.equal(history.session.decisions[0]!.reason, 'newer, not written yet');
  assert.deepEqual(history.done, []);
  assert.equal(takenUp(kept, null, null).session.decisions[0]!.reason, 'newer, not written yet', 'the file is gone');
});

test('a file that somebody else wrote goes before it, and can be taken back', () => {
  const kept = { text: writeSession(left('here')), beside: writeSession(left('old')) };
  const file = left('on the command line');
  const history = takenUp(kept, file, writeSession(file));
  assert.equal(history.session.decisions[0]!.reason, 'on the command line');
  assert.equal(undone(history).session.decisions[0]!.reason, 'here');
});
