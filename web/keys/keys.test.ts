import assert from 'node:assert/strict';
import { test } from 'node:test';
import { isHeldByFocus, isTyped, type Focused } from './held-by-focus.js';
import { KEY_ACTIONS, KEY_TABLE } from './key-table.js';
import { actionOf, changedKey, isChangeable, KEYS_AT_FIRST, keyOf, readKeptKeys, type KeptKeys } from './kept-keys.js';
import { isCharacterKey, pressedKey, type KeyPress } from './pressed-key.js';

function press(key: string, held: Partial<KeyPress> = {}): string | null {
  return pressedKey({ key, ctrlKey: false, metaKey: false, altKey: false, shiftKey: false, ...held });
}

test('no key has two meanings', () => {
  const keys = KEY_ACTIONS.map((action) => KEY_TABLE[action].key);
  assert.equal(new Set(keys).size, keys.length);
});

test('a key is written alike however it is pressed', () => {
  assert.equal(press('s'), 'S');
  assert.equal(press('S', { shiftKey: true }), 'Shift S');
  assert.equal(press('S'), 'S', 'caps lock is not Shift');
  assert.equal(press('?', { shiftKey: true }), '?');
  assert.equal(press(' '), 'Space');
  assert.equal(press('z', { metaKey: true, shiftKey: true }), 'Ctrl Shift Z');
  assert.equal(press('Enter', { ctrlKey: true }), 'Ctrl Enter');
  assert.equal(press('Escape'), 'Esc');
  assert.equal(press('='), '+', 'plus without Shift');
});

test('brackets that need Alt on a layout act; letters and arrows with Alt stay the browser’s', () => {
  assert.equal(press('[', { altKey: true }), '[');
  assert.equal(press('{', { ctrlKey: true, altKey: true, getModifierState: (name) => name === 'AltGraph' }), '{');
  assert.equal(press('s', { altKey: true }), null);
  assert.equal(press('ArrowLeft', { altKey: true }), null);
  assert.equal(press('Shift', { shiftKey: true }), null);
});

test('single signs are turned off all at once; the others go on', () => {
  const off: KeptKeys = { ...KEYS_AT_FIRST, signsAct: false };
  for (const action of KEY_ACTIONS) assert.equal(keyOf(off, action) === null, isChangeable(action), action);
  assert.equal(actionOf(off, 'S'), null);
  assert.equal(actionOf(off, '1'), null);
  assert.equal(actionOf(off, 'Space'), 'play');
  assert.equal(actionOf(off, 'Ctrl Z'), 'undo');
  assert.equal(actionOf(KEYS_AT_FIRST, 'Ctrl Y'), 'redo');
});

test('a key is changed, turned off, and put back', () => {
  const moved = changedKey(KEYS_AT_FIRST, 'swap', 'J');
  assert.ok(!('refusal' in moved));
  assert.equal(actionOf(moved, 'J'), 'swap');
  assert.equal(actionOf(moved, 'S'), null);
  const off = changedKey(moved, 'swap', null);
  assert.ok(!('refusal' in off));
  assert.equal(keyOf(off, 'swap'), null);
  const back = changedKey(off, 'swap', 'S');
  assert.deepEqual(back, KEYS_AT_FIRST);
});

test('a key that is taken is refused in a sentence that says by what, also while all are off', () => {
  for (const kept of [KEYS_AT_FIRST, { ...KEYS_AT_FIRST, signsAct: false }]) {
    const refused = changedKey(kept, 'swap', 'T');
    assert.ok('refusal' in refused);
    assert.match(refused.refusal, /^T does this already: treat\./);
  }
  for (const key of ['Ctrl P', 'Space', 'Tab', 'F5', 'Esc', 'ArrowLeft']) {
    assert.ok('refusal' in changedKey(KEYS_AT_FIRST, 'swap', key), key);
  }
});

test('what was kept is read again; what does not fit is let fall', () => {
  const kept: KeptKeys = { signsAct: false, changed: { swap: 'J', treat: null } };
  assert.deepEqual(readKeptKeys(JSON.stringify(kept)), kept);
  assert.deepEqual(readKeptKeys('{"changed":{"gone":"J","undo":"U","swap":3}}'), KEYS_AT_FIRST);
  assert.deepEqual(readKeptKeys('not json'), KEYS_AT_FIRST);
  assert.deepEqual(readKeptKeys(null), KEYS_AT_FIRST);
});

const NONE: Focused = { tag: 'DIV', type: '', role: null, editable: false };

test('no key acts while text is typed, and what has the focus keeps its own keys', () => {
  const text = { ...NONE, tag: 'INPUT', type: 'text' };
  assert.ok(isTyped(text) && isTyped({ ...NONE, editable: true }) && isTyped({ ...NONE, tag: 'TEXTAREA' }));
  for (const key of ['S', 'Ctrl Z', 'Space', '?']) assert.ok(isHeldByFocus(text, key), key);
  assert.ok(!isHeldByFocus(text, 'Esc'));
  const gain = { ...NONE, tag: 'INPUT', type: 'range' };
  assert.ok(!isHeldByFocus(gain, 'S') && !isHeldByFocus(gain, 'Space'));
  const button = { ...NONE, tag: 'BUTTON' };
  assert.ok(isHeldByFocus(button, 'Space') && isHeldByFocus(button, 'Enter'));
  assert.ok(!isHeldByFocus(button, 'S') && !isHeldByFocus(button, 'Ctrl Enter'));
  const list = { ...NONE, tag: 'SELECT' };
  assert.ok(isHeldByFocus(list, 'S') && !isHeldByFocus(list, 'Ctrl Z'));
  const blank = { ...NONE, role: 'slider' };
  assert.ok(isHeldByFocus(blank, '3') && isHeldByFocus(blank, '-') && !isHeldByFocus(blank, 'S'));
  assert.ok(!isHeldByFocus(NONE, 'Space'));
});

test('the keys that WCAG 2.1.4 speaks of are single printable signs', () => {
  assert.deepEqual(['S', 'Shift P', '?', '1', '[', 'Space', 'Esc', 'Ctrl Z', 'F5', 'Enter'].map(isCharacterKey), [
    true,
    true,
    true,
    true,
    true,
    false,
    false,
    false,
    false,
    false,
  ]);
});
