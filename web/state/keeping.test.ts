import assert from 'node:assert/strict';
import { mock, test } from 'node:test';
import { Autosave, AUTOSAVE_ms } from './autosave.js';
import { refusalOf, sayKeeping } from './keeping.js';

test('where the session is kept nothing is said; where it is not, why and what to do', () => {
  assert.equal(sayKeeping({ browser: 'kept', folder: 'none' }), null);
  assert.equal(sayKeeping({ browser: 'kept', folder: 'written' }), null);
  assert.equal(sayKeeping({ browser: 'full', folder: 'written' }), null);
  assert.match(sayKeeping({ browser: 'kept', folder: 'refused' })!, /this browser only/);
  assert.match(sayKeeping({ browser: 'full', folder: 'none' })!, /not kept here: the browser’s storage is full/);
  assert.match(sayKeeping({ browser: 'closed', folder: 'refused' })!, /keeps nothing.*Save it as a file/);
});

test('a full store is told from a closed one', () => {
  assert.equal(refusalOf(new DOMException('', 'QuotaExceededError')), 'full');
  assert.equal(refusalOf(new DOMException('', 'SecurityError')), 'closed');
  assert.equal(refusalOf('whatever'), 'closed');
});

test('changes without a pause are saved within the second, not when they end', () => {
  mock.timers.enable({ apis: ['setTimeout'] });
  let saves = 0;
  const autosave = new Autosave(() => Promise.resolve(void (saves += 1)));
  for (let at_ms = 0; at_ms < 1000; at_ms += 100) {
    autosave.soon();
    mock.timers.tick(100);
  }
  assert.equal(saves, Math.floor(1000 / AUTOSAVE_ms), 'one for each stretch of the delay');
  assert.ok(AUTOSAVE_ms <= 500, 'the delay leaves half a second for the write');
  mock.timers.reset();
});

test('what waits is saved at once when asked, once, and nothing where nothing waits', async () => {
  mock.timers.enable({ apis: ['setTimeout'] });
  let saves = 0;
  const autosave = new Autosave(() => Promise.resolve(void (saves += 1)));
  await autosave.now();
  assert.equal(saves, 0);
  autosave.soon();
  await autosave.now();
  mock.timers.tick(10_000);
  assert.equal(saves, 1);
  autosave.soon();
  autosave.drop();
  mock.timers.tick(10_000);
  assert.equal(saves, 1);
  mock.timers.reset();
});
