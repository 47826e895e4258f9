import assert from 'node:assert/strict';
import { test } from 'node:test';
import { readSession, writeSession } from '../session/session-file.js';
import { emptySession } from '../session/session-format.js';
import { printChoices, withPrintChoices } from './print-choices.js';
import type { PrintChoices } from './print-song.js';

const chosen: PrintChoices = {
  ...{ depth: '24', gain_dB: -2, roles: ['kick', 'bass'], singleStems: false, name: '{name} low end' },
};

test('the first print is as usual, and what is as usual is left out', () => {
  assert.deepEqual(printChoices(emptySession(), {}), { depth: null, gain_dB: 0 });
  const spelled = { roles: ['rest', 'bass', 'kick'], singleStems: true, name: '{name}' } as const;
  assert.deepEqual(printChoices(emptySession(), spelled), { depth: null, gain_dB: 0 });
});

test('the next print is as the last; what is said goes before it, one choice at a time', () => {
  const session = readSession(writeSession(withPrintChoices(emptySession(), chosen)));
  assert.deepEqual(printChoices(session, {}), chosen);
  assert.deepEqual(printChoices(session, { depth: null }), { ...chosen, depth: null });
  const { roles, singleStems, name } = { roles: ['kick', 'bass', 'rest'], singleStems: true, name: '{name}' } as const;
  assert.deepEqual(printChoices(session, { roles, singleStems, name }), { depth: '24', gain_dB: -2 });
  // and a print as usual is remembered as one
  assert.deepEqual(withPrintChoices(session, { depth: null, gain_dB: 0 }), emptySession());
});

test('a session from before prints were remembered prints as usual', () => {
  const { printing, ...older } = JSON.parse(writeSession(emptySession())) as Record<string, unknown>;
  assert.notEqual(printing, undefined);
  assert.deepEqual(printChoices(readSession(JSON.stringify(older)), {}), { depth: null, gain_dB: 0 });
});
