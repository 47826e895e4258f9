import assert from 'node:assert/strict';
import { test } from 'node:test';
import fc from 'fast-check';
import type { Finding } from '../../core/findings/finding.js';
import { EMPTY_PLACE } from '../../core/findings/finding.js';
import type { Stem } from '../../core/song/song.js';
import { STATISTICS } from '../../core/wishes/statistics.js';
import { figure, unmeasurable } from '../../core/units/reading.js';
import { changeText, intervalText, numberText, readingText, valueText } from './figure-text.js';
import { findingsText } from './findings-text.js';
import { proofText } from './measures-text.js';
import { songText } from './song-text.js';
import { formatTable, wrapText } from './table.js';

test('numbers: true minus, fixed digits, never minus nothing', () => {
  assert.equal(numberText(-1.25, 1), '−1.3');
  assert.equal(numberText(-0.04, 1), '0.0');
  assert.equal(numberText(3, 2), '3.00');
  assert.equal(valueText(0.9, '%', 0), '90 %');
  assert.equal(valueText(-14.02, 'LUFS', 1), '−14.0 LUFS');
  assert.equal(changeText(1.5, 'dB', 1), '+1.5 dB');
  assert.equal(changeText(-1.5, 'dB', 1), '−1.5 dB');
  assert.equal(changeText(0.01, 'dB', 1), '0.0 dB');
});

test('a figure with its interval, or a dash', () => {
  assert.equal(readingText(figure(2.04), 'dB', 1), '2.0 dB');
  assert.equal(readingText(unmeasurable('no bass'), 'dB', 1), '–');
  assert.equal(intervalText(figure(2, { low: -0.5, high: 3 }), 'dB', 1), '−0.5 to 3.0');
  assert.equal(intervalText(figure(0.9, { low: 0.8, high: 1 }), '%', 0), '80 to 100');
  assert.equal(intervalText(figure(2), 'dB', 1), '');
});

test('a table by hand', () => {
  const text = formatTable(
    [{ title: 'file' }, { title: 'dB', align: 'right' }],
    [
      ['Kick.wav', '1.5'],
      ['Bässe.wav', '−12.0'],
    ],
    80,
  );
  assert.equal(text, ['file          dB', 'Kick.wav     1.5', 'Bässe.wav  −12.0', ''].join('\n'));
});

test('a table keeps within its width by wrapping its widest words, and loses none', () => {
  const words = fc.array(fc.string({ unit: fc.constantFrom('a', 'b', 'é', ' '), maxLength: 60 }), {
    minLength: 3,
    maxLength: 3,
  });
  fc.assert(
    fc.property(fc.array(words, { maxLength: 5 }), fc.integer({ min: 60, max: 120 }), (rows, width) => {
      const columns = [{ title: 'one' }, { title: 'two' }, { title: 'three', align: 'left' as const }];
      const text = formatTable(columns, rows, width);
      for (const line of text.split('\n')) assert.ok([...line].length <= width, `${line.length} > ${width}`);
      const letters = (all: string) =>
        [...all]
          .filter((letter) => letter !== ' ' && letter !== '\n')
          .sort()
          .join('');
      assert.equal(letters(text), letters(['one', 'two', 'three', ...rows.flat()].join('')));
    }),
    { seed: 1 },
  );
});

test('lines break between words, and a long word within', () => {
  assert.deepEqual(wrapText('the low end of a song', 8), ['the low', 'end of a', 'song']);
  assert.deepEqual(wrapText('abcdefghij kl', 4), ['abcd', 'efgh', 'ij', 'kl']);
  assert.deepEqual(wrapText('', 4), ['']);
});

const stem: Stem = {
  file: '01 Kick In.wav',
  role: 'kick',
  because: 'the name says "kick"',
  confidence: 0.95,
  channels: 1,
  bitDepth: '24',
  sampleRate_Hz: 48_000,
  frameCount: 48_000,
  duration_s: 1,
  start_samples: 0,
  faults: [{ id: 'silent-side', sentence: 'One side is silent.' }],
};

test('the stems with role, reason and faults', () => {
  const text = songText([stem], 120);
  assert.match(text, /^01 Kick In\.wav +kick +the name says "kick" +1 +24 +48000 +1\.0$/m);
  assert.match(text, /^01 Kick In\.wav: One side is silent\.$/m);
});

const finding: Finding = {
  id: 'covered-kick',
  severity: 1.44,
  sentence: 'The bass covers the kick on 4 of 20 hits.',
  where: EMPTY_PLACE,
  evidence: {},
  suggest: {
    stage: 'make-room',
    address: 'bass.make-room',
    wish: 'clearance.share2dB >= 90 %',
    settings: {},
    expected: { value: 92, unit: '%', basis: 'estimate' },
  },
  leaveItWhen: 'The bass is meant to lead.',
};

test('a finding says what, what would mend it, and when to leave it', () => {
  const text = findingsText(
    {
      findings: [finding],
      lookedForAndNotThere: ['rumble'],
      unjudged: [{ id: 'uneven-notes', reason: 'too few notes' }],
    },
    100,
  );
  assert.equal(
    text,
    [
      'covered-kick  (severity 1.4 of 3)',
      '  The bass covers the kick on 4 of 20 hits.',
      '  Would mend it: bass.make-room, wanted clearance.share2dB >= 90 %, expected 92 % (an estimate).',
      '  Leave it when: The bass is meant to lead.',
      '',
      'Looked for and not there: rumble.',
      'Not judged: uneven-notes (too few notes).',
      '',
    ].join('\n'),
  );
});

test('a clean song is told so, and a fault that nothing here mends offers nothing', () => {
  assert.match(
    findingsText({ findings: [], lookedForAndNotThere: ['rumble'], unjudged: [] }, 80),
    /^Nothing to mend\./,
  );
  const none = { ...finding, suggest: { ...finding.suggest, stage: 'none' as const } };
  assert.doesNotMatch(findingsText({ findings: [none], lookedForAndNotThere: [], unjudged: [] }, 80), /Would mend/);
});

test('a proof shows harm as plainly as gain', () => {
  const [clearance] = STATISTICS;
  const row = { statistic: clearance!, before: figure(0.5), after: figure(-1), change: -1.5, verdict: 'harm' as const };
  const lost = { ...row, after: unmeasurable('no bass'), change: null, verdict: 'not-compared' as const };
  const text = proofText([row, lost], 120);
  assert.match(text, /0\.5 dB +−1\.0 dB +−1\.5 dB +WORSE$/m);
  assert.match(text, /0\.5 dB +– +– +not compared$/m);
});
