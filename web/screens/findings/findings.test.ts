import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Faults } from '../../../core/findings/find-faults.js';
import type { Finding, FindingId, FindingPlace, Suggestion } from '../../../core/findings/finding.js';
import { EMPTY_PLACE } from '../../../core/findings/finding.js';
import type { Measurements } from '../../../core/measure/measurements.js';
import { unmeasurable } from '../../../core/units/reading.js';
import type { ProofRow } from '../../../core/proof/compare-measurements.js';
import type { Solution } from '../../../core/solve/solve-song.js';
import { statisticAt, STATISTICS } from '../../../core/wishes/statistics.js';
import { findingStanding } from './finding-standing.js';
import { hearingStretch } from './hearing-stretch.js';
import { measureRows, rulerRange } from './measure-rows.js';
import { costsInWords, mendingSteps, wishInWords } from './mending-steps.js';
import { rowsOfFindings } from './rows-of-findings.js';
import { splitFigures } from './split-figures.js';

const NOTHING: Suggestion = { stage: 'none', address: '', wish: '', settings: {}, expected: null };

function findingOf(id: FindingId, suggest: Partial<Suggestion> = {}, where: Partial<FindingPlace> = {}): Finding {
  return {
    id,
    severity: 1,
    sentence: '',
    where: { ...EMPTY_PLACE, ...where },
    evidence: {},
    suggest: { ...NOTHING, ...suggest },
    leaveItWhen: '',
  };
}

const even = { stage: 'even', address: 'bass.even' } as const;
const found = [
  findingOf('covered-kick', { stage: 'make-room', address: 'bass.make-room' }),
  findingOf('resonant-note', even),
  findingOf('uneven-notes', even),
];
const treated = [{ finding: 'resonant-note', action: 'treat', reason: '' }] as const;

test('a finding is open, treated, put off, or left with its reason', () => {
  const words = (action: 'treat' | 'leave' | 'later', reason = ''): string =>
    findingStanding(found, 0, [{ finding: 'covered-kick', action, reason }], null).words;
  assert.equal(findingStanding(found, 0, [], null).words, 'open');
  assert.equal(words('treat'), 'treated: make room');
  assert.equal(words('later'), 'put off');
  assert.equal(words('leave', 'keep the room'), 'left: \u201ckeep the room\u201d');
});

test('before solving, a finding at the same stage is expected to be mended; another stage says nothing', () => {
  assert.equal(findingStanding(found, 2, treated, null).words, 'expected to be mended with 2');
  assert.equal(findingStanding(found, 0, treated, null).kind, 'open');
});

test('after solving, a finding that is no longer found was mended with the treated one, one still found was not', () => {
  const after: Faults = { findings: [found[0]!], lookedForAndNotThere: [], unjudged: [] };
  assert.deepEqual(findingStanding(found, 2, treated, after), { kind: 'mended', words: 'mended with 2' });
  assert.equal(findingStanding(found, 0, treated, after).kind, 'open');
  assert.equal(findingStanding(found, 2, [], after).kind, 'open', 'with nothing treated nothing is thanked');
});

test('a finding is heard in the four bars that hold most of it', () => {
  const grid = { beat_s: 0.5, bar1_s: 1 };
  const places = { hits_s: [1, 21, 22.9, 24, 28, 28.9] };
  const stretch = hearingStretch(findingOf('covered-kick', {}, places), grid, 120)!;
  assert.ok(Math.abs(stretch[0] - 20.98) < 1e-9 && Math.abs(stretch[1] - 28.98) < 1e-9, 'bars 11 to 14');
  const twice = findingOf('covered-kick', {}, { hits_s: [11, 13, 51, 53] });
  assert.ok(Math.abs(hearingStretch(twice, grid, 120)![0] - 10.98) < 1e-9, 'the first of equals');
  assert.equal(hearingStretch(findingOf('rumble'), grid, 120), null);
  assert.deepEqual(hearingStretch(findingOf('wide-lows', {}, { times_s: [[2, 4]] }), null, 5), [0, 5]);
});

test('figures of a sentence are told from numbers in names', () => {
  const strong = (sentence: string): string[] =>
    splitFigures(sentence)
      .filter(({ figure }) => figure)
      .map(({ text }) => text);
  assert.deepEqual(strong('05 Bass Amp.wav runs 3.9\u00a0ms behind; they lose 2.6\u00a0dB at 40 to 200\u00a0Hz.'), [
    '3.9\u00a0ms',
    '2.6\u00a0dB',
    '40 to 200\u00a0Hz',
  ]);
  assert.deepEqual(strong('covered on 15 of 47\u00a0hits. 13 of the 15 fall on A1.'), ['15 of 47\u00a0hits']);
  assert.equal(
    splitFigures('A1 stands \u22124.9\u00a0dB off.')
      .map(({ text }) => text)
      .join(''),
    'A1 stands \u22124.9\u00a0dB off.',
  );
});

test('a wish reads as a phrase, shares as per cent', () => {
  assert.equal(
    wishInWords(findingOf('covered-kick', { wish: 'clearance.share2dB >= 90 %' })),
    'hits at least 2 dB clear: 90\u00a0% or more',
  );
  assert.equal(
    wishInWords(findingOf('uneven-notes', { wish: 'evenness.spread_dB <= 3' })),
    'spread of note levels: 3.0\u00a0dB or less',
  );
  assert.equal(wishInWords(findingOf('rumble')), '');
});

test('what would mend it names the stage, its measured settings and what is expected; a solution takes its place', () => {
  const align = findingOf('misaligned-mics', {
    stage: 'align',
    address: 'bass["Amp.wav"].align',
    settings: { delay_ms: -5.1, polarity: 'normal' },
    expected: { value: 4.2, unit: 'dB', basis: 'estimate' },
  });
  assert.deepEqual(mendingSteps(align, null), [
    { stage: 'Align', does: 'delay \u22125.1\u00a0ms, polarity: normal', gives: '4.2\u00a0dB', basis: 'estimated' },
  ]);
  assert.deepEqual(mendingSteps(findingOf('no-headroom'), null), []);
});

test('once solved, the rendered figures of the stage stand there, shares as per cent; what got worse is the cost', () => {
  const finding = findingOf('covered-kick', {
    stage: 'make-room',
    address: 'bass.make-room',
    wish: 'clearance.share2dB >= 90 %',
    expected: { value: 98, unit: '%', basis: 'estimate' },
  });
  const stage = (on: boolean) => ({
    address: { role: 'bass', track: null, lane: null, stage: 'make-room' },
    solution: { on, settings: {}, now: 0.66, reached: 0.918 },
  });
  const stagesOf = (on: boolean) => ({ stages: [stage(on)] }) as unknown as Pick<Solution, 'stages'>;
  const [solved] = mendingSteps(finding, stagesOf(true));
  assert.deepEqual([solved!.gives, solved!.basis], ['66 \u2192 92\u00a0%', 'rendered']);
  assert.equal(mendingSteps(finding, stagesOf(false))[0]!.basis, 'estimated', 'a stage left off changes nothing');
  const row = (verdict: ProofRow['verdict'], address: string, change: number) =>
    ({ statistic: statisticAt(address)!, verdict, change }) as ProofRow;
  assert.deepEqual(
    costsInWords([
      row('better', 'clearance.p10_dB', 2),
      row('worse-within', 'carry.laptop_LU', -0.2),
      row('harm', 'headroom.cost_dB', 1.4),
    ]),
    ['what the lows cost in peak level +1.4\u00a0dB', 'carry on a laptop \u22120.2\u00a0LU'],
  );
});

test('every measure with a headline has a row; what was not measured says why', () => {
  const none = unmeasurable('no bass among the stems');
  const measured: Measurements = {
    known: { hits: [], notes: [], tempo_bpm: none, fundamental_Hz: none, decay_ms: none },
    clearance: none,
    agreement: none,
    trackAlignments: [],
    centre: none,
    evenness: none,
    carry: none,
    headroom: none,
    stemLows: [],
  };
  const rows = measureRows(measured, null);
  assert.deepEqual(
    rows.map(({ id }) => id),
    STATISTICS.filter(({ headline }) => headline).map(({ measure }) => measure),
  );
  assert.ok(rows.every(({ reason, value }) => reason === 'no bass among the stems' && value === null));
  assert.equal(rows.find(({ id }) => id === 'clearance')!.toleranceShown, '+2 or more');
  assert.equal(rows.find(({ id }) => id === 'centre')!.toleranceShown, '1 or less');
});

test('a ruler holds its readings and keeps its tolerance in the middle', () => {
  const row = { ...measureRowsRow(), tolerance: 2, value: -9, treated: 3 };
  const [from, to] = rulerRange(row);
  assert.equal((from + to) / 2, 2);
  assert.ok(from < -9 && to > 3);
});

function measureRowsRow() {
  return {
    address: 'clearance.p10_dB',
    id: 'clearance' as const,
    name: 'Clearance',
    means: '',
    shown: '',
    unit: 'dB',
    reason: null,
    second: '',
    treatedShown: '',
    better: 'higher' as const,
    toleranceShown: '',
  };
}

test('the rows of the strip name the chosen finding where it lies there, else the costliest', () => {
  const findings = [
    findingOf('rumble'),
    findingOf('covered-kick', {}, { hits_s: [1], notes: [{ name: 'A1', start_s: 1 }] }),
    findingOf('resonant-note', {}, { notes: [{ name: 'A1', start_s: 1 }] }),
    findingOf('uneven-notes', {}, { notes: [{ name: 'D2', start_s: 2 }] }),
  ];
  assert.deepEqual(rowsOfFindings(findings, 0), { clearance: 1, notes: 2 });
  assert.deepEqual(rowsOfFindings(findings, 3), { clearance: 1, notes: 3 });
});
