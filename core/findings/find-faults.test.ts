import assert from 'node:assert/strict';
import { test } from 'node:test';
import { measurementsOf } from '../../tests/contracts/measurements-of.js';
import type { Stem } from '../song/song.js';
import { findFaults, findFaultsSoFar } from './find-faults.js';
import type { FindingDeclaration } from './finding-declaration.js';
import { FINDINGS } from './finding-registry.js';
import { EMPTY_PLACE, type Finding, type FindingId } from './finding.js';
import { sayCount, sayFigure, sayShare } from './say-figure.js';
import { severityOf } from './severity.js';

const stem: Stem = {
  file: 'Bass.wav',
  role: 'bass',
  because: 'its name says bass',
  confidence: 1,
  channels: 1,
  bitDepth: '24',
  sampleRate_Hz: 48000,
  frameCount: 1,
  duration_s: 1,
  start_samples: 0,
  faults: [],
};

function declared(id: FindingId, severities: readonly number[], reason: string | null): FindingDeclaration {
  const found = severities.map((severity): Finding => ({
    id,
    severity,
    sentence: '',
    where: EMPTY_PLACE,
    evidence: {},
    suggest: { stage: 'none', address: '', wish: '', settings: {}, expected: null },
    leaveItWhen: '',
  }));
  return {
    id,
    name: id,
    help: '',
    leaveItWhen: '',
    companions: [],
    reads: [],
    find: () => found,
    unjudged: () => reason,
  };
}

test('findings come by severity; what was not found and what could not be judged are kept apart', () => {
  const declarations = [
    declared('rumble', [0.5, 2], null),
    declared('wide-lows', [1], 'found all the same'),
    declared('dc-offset', [], null),
    declared('covered-kick', [], 'too few hits'),
  ];
  const { findings, lookedForAndNotThere, unjudged } = findFaults(measurementsOf({}), [], declarations);
  assert.deepEqual(
    findings.map(({ id, severity }) => [id, severity]),
    [
      ['rumble', 2],
      ['wide-lows', 1],
      ['rumble', 0.5],
    ],
  );
  assert.deepEqual(lookedForAndNotThere, ['dc-offset']);
  assert.deepEqual(unjudged, [{ id: 'covered-kick', reason: 'too few hits' }]);
});

test('on some parts only what can be judged by them is looked for; a declaration sees only what it says it reads', () => {
  const seen: string[][] = [];
  const early = { ...declared('rumble', [], null), reads: ['stemLows'] as const };
  const late = declared('covered-kick', [1], null);
  const looking: FindingDeclaration[] = [
    { ...early, find: (measured) => (seen.push(Object.keys(measured)), []) },
    { ...late, reads: ['stemLows', 'clearance'] },
  ];
  const { stemLows, clearance } = measurementsOf({});
  const some = findFaultsSoFar({ stemLows }, [], looking);
  assert.deepEqual([some.findings.length, some.lookedForAndNotThere], [0, ['rumble']]);
  const more = findFaultsSoFar({ stemLows, clearance }, [], looking);
  assert.deepEqual(
    more.findings.map(({ id }) => id),
    ['covered-kick'],
  );
  assert.deepEqual(seen, [['stemLows'], ['stemLows']]);
});

test('faults of files become findings of their own kind', () => {
  const clipped = { id: 'clipped-source', sentence: 'Bass.wav is clipped in 12 places.' };
  const short = { id: 'declared-length', sentence: 'Bass.wav ends before its declared length.' };
  const { findings } = findFaults(measurementsOf({}), [{ ...stem, faults: [clipped, short] }, stem]);
  assert.deepEqual(findings.map(({ id, sentence }) => [id, sentence]).sort(), [
    ['clipped-source', clipped.sentence],
    ['file-fault', short.sentence],
  ]);
  assert.deepEqual(findings[0]!.where.files, ['Bass.wav']);
});

test('every finding is declared once, with help, a reason to leave it, and companions that exist', () => {
  const ids = FINDINGS.map(({ id }) => id);
  assert.equal(new Set(ids).size, ids.length);
  for (const { help, leaveItWhen, name } of FINDINGS) assert.ok(help.length > 40 && leaveItWhen.length > 20 && name);
});

test('severity is 0 at the tolerance, counts tolerances beyond, and stops at 3', () => {
  assert.equal(severityOf(0, 6), 0);
  assert.equal(severityOf(-2, 6), 0);
  assert.equal(severityOf(9, 6), 1.5);
  assert.equal(severityOf(100, 6), 3);
});

test('figures carry a true minus and a no-break space', () => {
  assert.equal(sayFigure(-17.24, 'LU'), '\u221217.2\u00a0LU');
  assert.equal(sayFigure(-0.04, 'dB'), '0.0\u00a0dB');
  assert.equal(sayShare(0.314), '31\u00a0%');
  assert.equal(sayCount(1, 'note'), '1\u00a0note');
});
