import assert from 'node:assert/strict';
import { test } from 'node:test';
import { emptySession } from '../../core/session/session-format.js';
import { defaultTreatment, parseAddress, stageAt } from '../../core/treatment/paths.js';
import { withOrders } from '../../core/treatment/stage-order.js';
import { decideEdit, orderEdit, releaseEdit, settingEdit, wishEdit } from './session-edits.js';
import { newHistory, redone, undone, withStep, type SessionHistory } from './session-history.js';

const plain = defaultTreatment({
  ...{ sampleRate_Hz: 48_000, notes: [], hits: [] },
  files: { kick: [], bass: ['Bass.wav'], rest: [] },
});

function after(history: SessionHistory, edit: ReturnType<typeof decideEdit>): SessionHistory {
  return withStep(history, edit.name, edit.apply(history.session));
}

test('edits are named in words and taken back one by one', () => {
  let history = newHistory(emptySession());
  history = after(history, decideEdit('covered-kick', 'treat', ''));
  history = after(history, wishEdit({ statistic: 'clearance.share2dB', low: 0.9, high: null }));
  history = after(history, settingEdit(plain, 'bass.make-room.cut_dB', 3));
  assert.deepEqual(
    history.done.map(({ name }) => name),
    ['treat covered kick', 'wish hits at least 2 dB clear >= 90 %', 'make room, cut to 3\u00a0dB'],
  );
  history = undone(history);
  assert.deepEqual(history.session.settings, []);
  assert.equal(history.session.wishes.length, 1);
  history = undone(undone(history));
  assert.deepEqual(history.session, emptySession());
  assert.equal(undone(history), history);
  history = redone(redone(redone(history)));
  assert.deepEqual(history.session.settings, [{ address: 'bass.make-room.cut_dB', value: 3 }]);
  assert.equal(redone(history), history);
});

test('a new edit drops what was taken back; an edit that changes nothing is no step', () => {
  const treated = after(newHistory(emptySession()), decideEdit('rumble', 'treat', ''));
  assert.equal(after(treated, decideEdit('rumble', 'treat', '')), treated);
  const left = after(undone(treated), decideEdit('rumble', 'leave', 'the room'));
  assert.deepEqual(left.undone, []);
  assert.deepEqual(left.session.decisions, [{ finding: 'rumble', action: 'leave', reason: 'the room' }]);
});

test('another order of a lane stands at once, is kept for the next solve, and is taken back with the edit', () => {
  const low = plain.bass.lanes.low.map(({ stage }) => stage);
  const turned = [...low].reverse();
  const history = after(
    newHistory(emptySession()),
    orderEdit(
      plain,
      turned.map((stage) => `bass.low.${stage}`),
    ),
  );
  assert.deepEqual(
    history.session.treatment!.bass.lanes.low.map(({ stage }) => stage),
    turned,
  );
  assert.deepEqual(history.session.orders, [{ place: 'bass.low', stages: turned }]);
  assert.deepEqual(withOrders(plain, history.session.orders).treatment, history.session.treatment);
  assert.deepEqual(undone(history).session.orders, []);
});

test('prints are facts: undo keeps versions and proofs', () => {
  const treated = after(newHistory(emptySession()), decideEdit('rumble', 'treat', ''));
  const versions = [{ name: 'v1', key: 'k', files: [] }];
  const back = undone({ ...treated, session: { ...treated.session, versions } });
  assert.deepEqual(back.session.versions, versions);
  assert.deepEqual(back.session.decisions, []);
});

test('a setting by hand stands at once and is kept for the next solve; given back, it stands as it was found', () => {
  const address = 'bass.make-room.cut_dB';
  const cut = ({ session }: SessionHistory) =>
    stageAt(session.treatment!, parseAddress(address).address)!.settings['cut_dB'];
  const byHand = after(newHistory(emptySession()), settingEdit(plain, address, 3));
  assert.equal(cut(byHand), 3);
  const back = after(byHand, releaseEdit(byHand.session.treatment!, address, 4.5));
  assert.equal(back.done.at(-1)!.name, 'make room, cut back to 4.5\u00a0dB');
  assert.equal(cut(back), 4.5);
  assert.deepEqual(back.session.settings, []);
  assert.equal(cut(undone(back)), 3);
  assert.equal(undone(undone(back)).session.treatment, null);
});
