import assert from 'node:assert/strict';
import { test } from 'node:test';
import fc from 'fast-check';
import { text_to_utf8, utf8_to_text } from './utf8-text.js';

// Node's own coder is the reference: WHATWG Encoding Standard, UTF-8.
test('any text comes out as the reference writes it, and back', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'binary' }), (text) => {
      const bytes = text_to_utf8(text);
      assert.deepEqual(bytes, new TextEncoder().encode(text));
      assert.equal(utf8_to_text(bytes), new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes));
    }),
    { seed: 3, numRuns: 500 },
  );
});

test('bytes that are no UTF-8 become the replacement character and nothing is lost after them', () => {
  assert.equal(utf8_to_text(Uint8Array.of(0x61, 0xff, 0x62)), 'a\uFFFDb');
  assert.equal(utf8_to_text(Uint8Array.of(0xc3)), '\uFFFD');
  assert.equal(utf8_to_text(Uint8Array.of(0xed, 0xa0, 0x80, 0x61)).endsWith('a'), true, 'a surrogate');
});
