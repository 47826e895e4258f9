import assert from 'node:assert/strict';
import { test } from 'node:test';
import { placed, songRate, startTimes } from './conform.js';

test('a stem that fits comes back as the same arrays; a late one gets silence before', () => {
  const left = Float32Array.of(1, 2, 3);
  const stem = { left, right: left, sampleRate_Hz: 48_000 };
  assert.equal(placed(stem, 0, 3), stem);
  const late = placed(stem, 2, 6);
  assert.deepEqual([...late.left], [0, 0, 1, 2, 3, 0]);
  assert.equal(late.left, late.right, 'mono stays mono');
  assert.deepEqual([...placed(stem, 1, 3, 0.5).left], [0, 0.5, 1], 'gain, and the end cut at the song');
});

test('the rate of most stems is the song rate, a tie goes to the higher', () => {
  assert.equal(songRate([44_100, 48_000, 44_100]), 44_100);
  assert.equal(songRate([44_100, 48_000]), 48_000);
});

// EBU Tech 3285: the time reference counts samples since midnight at the file's own rate; 01:00:00 at 48 kHz is 172 800 000.
test('time references are told from one another across rates', () => {
  const { start_samples, mixed } = startTimes([
    { timeReference_samples: 172_800_000, sampleRate_Hz: 48_000 },
    { timeReference_samples: 158_760_000 + 44_100, sampleRate_Hz: 44_100 },
  ]);
  assert.deepEqual(start_samples, [0, 44_100]);
  assert.equal(mixed, false);
});

test('where only some files say when they start, all are taken at 0 and the mixture is told', () => {
  const said = { timeReference_samples: 172_800_000, sampleRate_Hz: 48_000 };
  const silent = { timeReference_samples: null, sampleRate_Hz: 48_000 };
  assert.deepEqual(startTimes([said, silent]), { start_samples: [0, 0], mixed: true });
  assert.deepEqual(startTimes([silent, silent]), { start_samples: [0, 0], mixed: false });
});
