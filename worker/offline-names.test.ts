import assert from 'node:assert/strict';
import { test } from 'node:test';
import { isThePage, nameInScope } from './offline-names.js';

const SCOPE = 'https://a.example/bench/';

test('files are named from the folder of the page', () => {
  assert.equal(nameInScope(`${SCOPE}assets/index-1a.js?x#y`, SCOPE), 'assets/index-1a.js');
  assert.equal(nameInScope(SCOPE, SCOPE), '');
});

test('the page is known by its folder and by its name, a file beside it is not', () => {
  assert.ok(isThePage(SCOPE, SCOPE));
  assert.ok(isThePage(`${SCOPE}?from=home`, SCOPE));
  assert.ok(isThePage(`${SCOPE}index.html`, SCOPE));
  assert.ok(!isThePage(`${SCOPE}icon.svg`, SCOPE));
});
