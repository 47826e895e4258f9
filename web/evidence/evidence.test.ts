import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { EvidenceValue, Finding, FindingId } from '../../core/findings/finding.js';
import { FINDINGS } from '../../core/findings/finding-registry.js';
import type { HitClearance } from '../../core/measure/clearance.js';
import type { EvennessNote } from '../../core/measure/evenness.js';
import type { Measurements } from '../../core/measure/measurements.js';
import { unmeasurable } from '../../core/units/reading.js';
import { evidenceOf } from './evidence-registry.js';
import { fitGroups, groupByNote } from './hits-by-note.js';
import { pitchesHeard } from './heard-harmonics.js';
import { groupByPitch } from './notes-by-pitch.js';
import { levelTicks, plotArea } from './plot-area.js';
import { nearestPlace, placeByKey } from './read-places.js';
import { splitKey } from './split-key.js';

const none = unmeasurable('not part of this test');

const unmeasured: Measurements = {
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

function findingWith(id: string, evidence: Record<string, EvidenceValue>): Finding {
  return {
    id: id as FindingId,
    severity: 1,
    sentence: 'Something stands off by 3.0\u00a0dB.',
    where: { files: ['Amp.wav'], hits_s: [], notes: [], bands_Hz: [100, 126], times_s: [] },
    evidence,
    suggest: { stage: 'none', address: '', wish: '', settings: {}, expected: null },
    leaveItWhen: 'it is wanted.',
  };
}

const panelsOf = (finding: Finding) => evidenceOf({ finding, measured: unmeasured, after: null });

test('a finding that no figure is made for shows all its evidence, figures and lists', () => {
  const panels = panelsOf(
    findingWith('a-finding-of-tomorrow', {
      tail_ms: 412,
      wanted: null,
      bandDecay_ms: [400, 300],
      bands_Hz: [50, 63],
      names: ['low', 'high'],
    }),
  );
  assert.deepEqual(panels[0]!.table.rows, [
    ['tail', '412', 'ms'],
    ['wanted', 'not measured', ''],
  ]);
  assert.deepEqual(
    panels[1]!.table.columns.map(({ name }) => name),
    ['band decay, ms', 'bands, Hz', 'names'],
  );
  assert.deepEqual(panels[1]!.table.rows, [
    ['400', '50', 'low'],
    ['300', '63', 'high'],
  ]);
  assert.equal(panels[1]!.draw(500, 230).places!.length, 2);
});

test('every declared finding is shown in some way from the least evidence, none with an empty column', () => {
  for (const { id } of FINDINGS) {
    const panels = panelsOf(findingWith(id, { level_dB: -3 }));
    assert.ok(panels.length > 0, id);
    for (const panel of panels) assert.ok(panel.table.rows.length > 0 && panel.draw(360, 230).strokes.length >= 0, id);
  }
});

test('the table of the sum against parts says what is lost in each band, and the figure draws both lines', () => {
  const [panel] = panelsOf(
    findingWith('misaligned-mics', {
      role: 'bass',
      reference: 'Direct.wav',
      file: 'Amp.wav',
      delay_ms: 3.9,
      nudge_ms: 0,
      polarity: 1,
      bands_Hz: [63, 100, 126],
      sumNow_dB: [2, -2.5, null],
      sumAligned_dB: [2.5, 2.2, 2],
    }),
  );
  assert.deepEqual(panel!.table.rows, [
    ['63\u00a0Hz', '+2.0\u00a0dB', '+2.5\u00a0dB', '0.5\u00a0dB'],
    ['100\u00a0Hz', '\u22122.5\u00a0dB', '+2.2\u00a0dB', '4.7\u00a0dB'],
  ]);
  const drawing = panel!.draw(600, 230);
  assert.ok(drawing.labels.some(({ text, ink }) => ink === 'wanted' && text === 'put right: 3.9\u00a0ms earlier'));
  assert.ok(drawing.strokes.some(({ ink, dash }) => ink === 'wanted' && dash !== undefined));
  assert.ok(drawing.strokes.some(({ ink, hatch }) => ink === 'bass' && hatch === true));
});

test('losses hang downward from 0 and the tolerance lies above the bands that pass it', () => {
  const [panel] = panelsOf(
    findingWith('wide-lows', {
      part: 'bass',
      tolerance_dB: 1,
      monoFrequency_Hz: 120,
      bands_Hz: [50, 63, 80],
      bandLoss_dB: [0.2, 3, null],
      bandCorrelation: [0.9, -0.1, null],
    }),
  );
  assert.deepEqual(panel!.table.rows, [
    ['50\u00a0Hz', '0.20\u00a0dB', '0.90'],
    ['63\u00a0Hz', '3.00\u00a0dB', '\u22120.10'],
  ]);
  const ends = panel!.draw(500, 230).strokes.find(({ width }) => width === 2.6)!;
  const [small, large] = [...ends.path.matchAll(/M[\d.]+ ([\d.]+)H/g)].map(([, y]) => Number(y));
  assert.ok(large! > small!, 'the larger loss hangs lower on the paper');
});

test('hits are grouped by the pitch under them, best first, ghosts and silent ones left out', () => {
  const hit = (clearance_dB: number | null, note: number | null, ghost = false): HitClearance => ({
    time_s: 1,
    level_dBFS: -10,
    clearance_dB,
    ghost,
    covered: false,
    unopposed: false,
    note,
    energyRatio_dB: null,
    overBassAndRest_dB: null,
    overRest_dB: null,
  });
  const notes = [{ frequency_Hz: 55 }, { frequency_Hz: 41.2 }, { frequency_Hz: 55.3 }];
  const groups = groupByNote([hit(1, 0), hit(5, 2), hit(9, 1), hit(-2, 0, true), hit(null, 0), hit(24, null)], notes);
  assert.deepEqual(
    groups.map(({ name, covered, hits }) => [name, covered, hits.map(({ clearance_dB }) => clearance_dB)]),
    [
      ['E1', 0, [9]],
      ['A1', 1, [5, 1]],
      ['no note', 0, [24]],
    ],
  );
});

test('groups of hits keep inside their room, each as wide as its words; those that cannot are left to the table', () => {
  const sum = (widths: readonly number[], gap: number): number =>
    widths.reduce((total, width) => total + width, 0) + gap * (widths.length - 1);
  const counts = [44, 29, 89, 37, 12];
  for (const room of [200, 300, 600]) {
    const widths = fitGroups(counts, room, 10);
    assert.ok(sum(widths, 10) <= room && widths.every((width) => width >= 30), `${room} px`);
  }
  assert.deepEqual(fitGroups([2, 3], 600, 22), [30, 30]);
  assert.equal(
    fitGroups(
      Array.from({ length: 30 }, () => 4),
      300,
      10,
    ).length,
    7,
  );
});

test('notes are grouped by pitch, the line is their level less their deviation', () => {
  const note = (midi: number, level_dBFS: number | null, deviation_dB: number | null): EvennessNote => ({
    start_s: 0,
    end_s: 1,
    frequency_Hz: 50,
    midi,
    name: `n${midi}`,
    level_dBFS,
    deviation_dB,
    asHeard_dB: null,
    counted: true,
  });
  const groups = groupByPitch([note(33, -15, 4), note(28, -20, 0), note(33, -13, 6), note(33, -99, null)]);
  assert.deepEqual(
    groups.map(({ midi, line_dBFS, median_dBFS, notes }) => [midi, line_dBFS, median_dBFS, notes.length]),
    [
      [28, -20, -20, 1],
      [33, -19, -14, 2],
    ],
  );
});

test('harmonics: the share of the notes of a pitch that is heard, and the run of its middle note', () => {
  const pitches = pitchesHeard(
    ['A1', 'E1', 'A1', 'A1', 'E1'],
    [55, 41.2, 55, 55, 41.2],
    ['-xx', '---', '--x', null, '-x-'],
    [2, 0, 1, null, 1],
  );
  assert.deepEqual(
    pitches.map(({ name, notes, shares, inARow }) => [name, notes, shares, inARow]),
    [
      ['E1', 2, [0, 0.5, 0], 1],
      ['A1', 2, [0, 0.5, 1], 2],
    ],
  );
});

test('figures on an upright scale are round and lie on it', () => {
  const area = plotArea(600, 0, 230, { from: 0, to: 1, least: -7.3, most: 15.2 });
  const ticks = levelTicks(area);
  assert.ok(ticks.includes(0) && ticks.every((tick) => tick % 1 === 0 && tick >= -7.3 && tick <= 15.2));
  assert.ok(area.y(5) < area.y(0), 'more stands higher');
  const losses = plotArea(600, 0, 230, { from: 20, to: 500, log: true, least: 0, most: 4, downward: true });
  assert.ok(losses.y(3) > losses.y(0), 'losses hang');
  assert.ok(Math.abs(losses.x(100) - (losses.x(20) + losses.x(500)) / 2) < 1e-6, 'equal ratios are equal steps');
});

test('pointer and arrows read the same places', () => {
  const places = [10, 20, 30].map((x) => ({ x, top: 0, bottom: 50, says: String(x) }));
  assert.equal(nearestPlace(places, 23, 10)!.says, '20');
  assert.equal(nearestPlace([], 1, 1), null);
  const rows = [
    { x: 10, top: 0, bottom: 10, says: 'upper' },
    { x: 10, top: 20, bottom: 30, says: 'lower' },
  ];
  assert.equal(nearestPlace(rows, 14, 24)!.says, 'lower');
  assert.equal(placeByKey(places, null, 'ArrowRight', false)!.says, '10');
  assert.equal(placeByKey(places, places[2]!, 'ArrowRight', false)!.says, '30');
  assert.equal(placeByKey(places, places[2]!, 'Escape', false), null);
  assert.equal(placeByKey(places, places[2]!, 'Tab', false), undefined);
});

test('a key is split into its words and its unit', () => {
  assert.deepEqual(splitKey('hitClearance_dB'), { name: 'hit clearance', unit: 'dB' });
  assert.deepEqual(splitKey('lineSlope_dB_per_oct'), { name: 'line slope', unit: 'dB/oct' });
  assert.deepEqual(splitKey('part'), { name: 'part', unit: '' });
});
