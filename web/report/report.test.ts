import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { ProofRow, Verdict } from '../../core/proof/compare-measurements.js';
import { defaultTreatment, parseAddress, stageAt, withStage } from '../../core/treatment/paths.js';
import { STAGES } from '../../core/treatment/stage-registry.js';
import type { SettingValue, Treatment } from '../../core/treatment/treatment.js';
import { figure, unmeasurable } from '../../core/units/reading.js';
import { statisticAt } from '../../core/wishes/statistics.js';
import { ledgerRoom } from './ledger-room.js';
import { qOfWidth, recallRows, rowsOnPage, type RecallRow } from './recall-rows.js';
import { reportSentences, type ReportSentence } from './report-sentences.js';

const PLAIN = defaultTreatment({
  sampleRate_Hz: 48000,
  notes: [],
  hits: [],
  files: { kick: ['k.wav'], bass: ['b.wav', 'amp.wav'], rest: ['r.wav'] },
});

function on(treatment: Treatment, text: string, settings: Record<string, SettingValue> = {}): Treatment {
  const { address } = parseAddress(text);
  const old = stageAt(treatment, address)!;
  return withStage(treatment, address, { ...old, on: true, settings: { ...old.settings, ...settings } });
}

test('the recall has a row for each stage that is on, in the order of the path, and none for the others', () => {
  assert.deepEqual(recallRows(PLAIN), []);
  const rows = recallRows(on(on(PLAIN, 'bass.make-room'), 'bass.low.steady'));
  assert.deepEqual(
    rows.map(({ number, stage }) => [number, stage]),
    [
      [1, 'split'],
      [2, 'steady'],
      [3, 'make room'],
    ],
  );
});

test('the same stage set alike at several places is one row; set otherwise it has its own', () => {
  const alike = on(on(PLAIN, 'bass["b.wav"].clean'), 'bass["amp.wav"].clean');
  assert.deepEqual(
    recallRows(alike).map(({ place }) => place),
    ['b.wav, amp.wav'],
  );
  const otherwise = on(alike, 'bass["amp.wav"].clean', { dc: false });
  assert.equal(recallRows(otherwise).length, 2);
});

test('every declared setting of every stage stands in its row', () => {
  for (const { id, settings } of STAGES) {
    const place = ['bass', 'bass.low', 'bass.high'].find(
      (at) => stageAt(PLAIN, parseAddress(`${at}.${id}`).address) !== null,
    )!;
    const row = recallRows(on(PLAIN, `${place}.${id}`)).find(({ keys }) => keys.includes(`${place}.${id}`))!;
    for (const { name, key } of settings) if (key !== 'delay_ms') assert.ok(row.set.includes(name), `${id}: ${name}`);
  }
});

test('settings are said so that any desk takes them: samples beside milliseconds, Q beside octaves, ratio to one', () => {
  const shifted = on(PLAIN, 'bass["amp.wav"].align', { delay_ms: -3.9 });
  assert.match(recallRows(shifted)[0]!.set, /^3\.9\u00a0ms earlier \(187\.2 samples\)/); // 3.9 ms at 48 kHz
  assert.match(recallRows(on(PLAIN, 'bass.make-room'))[0]!.set, /width 1\u00a0oct \(Q\u00a01\.41\)/);
  assert.match(recallRows(on(PLAIN, 'bass.low.steady'))[1]!.set, /ratio 3:1/);
});

test('Q of a width in octaves is that of the cookbook: one octave is 1.414, two thirds of an octave 2.145', () => {
  // R. Bristow-Johnson, Audio EQ Cookbook: 1/Q = 2 sinh(ln(2)/2 w), analogue
  assert.ok(Math.abs(qOfWidth(1) - Math.SQRT2) < 1e-12);
  assert.ok(Math.abs(qOfWidth(2 / 3) - 1 / (2 * Math.sinh((Math.LN2 / 2) * (2 / 3)))) < 1e-12);
});

const read = (sentence: ReportSentence): string =>
  sentence.map((part) => (typeof part === 'string' ? part : part.strong)).join('');

function row(address: string, before: number, after: number, verdict: Verdict): ProofRow {
  return {
    statistic: statisticAt(address)!,
    before: figure(before),
    after: figure(after),
    change: after - before,
    verdict,
  };
}

const NO_HITS = { clearance: unmeasurable('no kick') } as Parameters<typeof reportSentences>[0]['before'];

test('the report says gains and, as plainly, what it cost', () => {
  const rows = [row('carry.laptop_LU', -20, -14, 'better'), row('headroom.cost_dB', 2, 2.6, 'worse-within')];
  const sentences = reportSentences({ before: NO_HITS, after: NO_HITS, rows }).map(read);
  assert.deepEqual(sentences, [
    'The bass: it comes through a laptop 6\u00a0LU stronger against the song.',
    'What it cost: the lows cost more peak level, by 0.6\u00a0dB. If you miss what was there, say so, and it comes back.',
  ]);
});

test('many costs: those beyond their tolerance first, four are said, the others counted', () => {
  const within = ['centre.foldDownLoss_dB', 'evenness.spread_dB', 'carry.phone_LU', 'headroom.cost_dB'];
  const rows = [
    ...within.map((address) => row(address, 1, 2, 'worse-within')),
    row('clearance.p10_dB', 3, 1, 'harm'),
    row('agreement.median_dB', 0, -3, 'harm'),
  ];
  const [cost] = reportSentences({ before: NO_HITS, after: NO_HITS, rows }).map(read);
  assert.match(cost!, /^What it cost: the most covered hits sink further, by 2\u00a0dB; kick and bass add up less/);
  assert.match(cost!, /; and 2 more, under Lost\. If you miss/);
});

test('the ledger of the report has as many rows as its sentences leave room for', () => {
  const line = ['x'.repeat(60)];
  assert.equal(ledgerRoom('Ballast: the low end', [line, line, line]), 7);
  assert.equal(ledgerRoom('Ballast: the low end', [[{ strong: 'x'.repeat(700) }]]), 5);
  assert.equal(ledgerRoom('B'.repeat(100), [['x'.repeat(700)]]), 2);
});

test('where nothing reads worse the report says just that', () => {
  const sentences = reportSentences({
    before: NO_HITS,
    after: NO_HITS,
    rows: [row('carry.laptop_LU', -14, -14, 'same')],
  });
  assert.deepEqual(sentences.map(read), [
    'It cost nothing that the six measures show. If you miss what was there, say so, and it comes back.',
  ]);
});

test('a page takes the rows it has room for; all of a usual song, not all of many tracks with long names', () => {
  const row = (number: number, place: string): RecallRow => ({
    ...{ number, place, keys: [`${number}`], stage: 'align', measured: '', undoWhen: '' },
    set: '5.125 ms earlier (246 samples), polarity as it came',
  });
  const few = Array.from({ length: 13 }, (_, i) => row(i + 1, 'whole bass'));
  assert.deepEqual(rowsOnPage(few), few);
  const name = 'Bass cabinet with the ribbon microphone at the edge, take 3, edited.wav';
  const many = Array.from({ length: 40 }, (_, i) => row(i + 1, name));
  const page = rowsOnPage(many);
  assert.ok(page.length >= 8 && page.length < 20, `${page.length}`);
});
