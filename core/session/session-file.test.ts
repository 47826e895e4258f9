import assert from 'node:assert/strict';
import { test } from 'node:test';
import { PlainError } from '../units/plain-error.js';
import { acceptedFindings, decided, withOrder, withSettings, withWishes } from './decisions.js';
import { emptySession, SESSION_VERSION, type Session } from './session-format.js';
import { readSession, writeSession } from './session-file.js';
import { SESSION_UPGRADERS, upgraded } from './session-upgraders.js';

const sha256 = '0123456789abcdef'.repeat(4);
const path = { tracks: [], stages: [], lanes: { low: [], high: [] } };
const full: Session = {
  ...emptySession(),
  stems: [{ path: '01 Kick In.wav', sha256, role: 'kick', because: 'the name says "kick"' }],
  monoStems_dB: -3,
  decisions: [{ finding: 'wide-lows', action: 'leave', reason: 'the chorus wants it' }],
  wishes: [{ statistic: 'clearance.share2dB', low: 0.9, high: null }],
  settings: [{ address: 'bass.make-room.cut_dB', value: 3 }],
  orders: [{ place: 'bass.low', stages: ['saturate', 'steady'] }],
  treatment: {
    format: 'keelson-treatment',
    version: 1,
    sampleRate_Hz: 48_000,
    notes: [
      {
        start_s: 0.5,
        end_s: 1,
        frequency_Hz: 41.2034,
        level_dBFS: -18,
        harmonics_dB: [0, -3.5, -120],
        fundamentalMissing: false,
        curve_Hz: null,
        curveStep_s: 0,
      },
    ],
    hits: [{ time_s: 0.5, level_dBFS: -12 }],
    kick: {
      ...path,
      tracks: [
        {
          file: '01 Kick In.wav',
          stages: [
            {
              stage: 'clean',
              on: true,
              settings: { corner_Hz: 25, kind: 'steep', dc: true },
              figures: { mean_FS: [0.01, 0] },
            },
          ],
        },
      ],
    },
    bass: path,
    rest: path,
  },
  versions: [
    {
      name: 'v1',
      key: sha256,
      files: [{ path: 'Keelson prints/v1/Kick.wav', role: 'kick', kind: 'bus', files: ['Kick.wav'], start: 0, sha256 }],
    },
  ],
  proofs: [
    { version: 'v1', rows: [{ statistic: 'clearance.p10_dB', before: 0.5, after: null, verdict: 'not-compared' }] },
  ],
};

const refused = (text: string, pattern: RegExp) =>
  assert.throws(
    () => readSession(text),
    (error) => error instanceof PlainError && pattern.test(error.message) && /left as it is/.test(error.message),
    text.slice(0, 80),
  );

test('a session comes back from its text, and the same session is the same text', () => {
  for (const session of [emptySession(), full]) {
    const text = writeSession(session);
    assert.ok(text.endsWith('}\n'));
    assert.deepEqual(readSession(text), session);
    assert.equal(writeSession(readSession(text)), text);
  }
});

test('a session from before stages could be put in another order has no orders', () => {
  const { orders, ...older } = JSON.parse(writeSession(full)) as Record<string, unknown>;
  assert.equal((orders as unknown[]).length, 1);
  assert.deepEqual(readSession(JSON.stringify(older)), { ...full, orders: [] });
});

test('the last order of a place counts', () => {
  const again = withOrder(full, { place: 'bass.low', stages: ['steady', 'saturate'] });
  const both = withOrder(again, { place: 'bass.high', stages: ['onset', 'widen'] });
  assert.deepEqual(
    both.orders.map(({ place, stages }) => [place, ...stages]),
    [
      ['bass.low', 'steady', 'saturate'],
      ['bass.high', 'onset', 'widen'],
    ],
  );
});

test('the order of keys does not depend on how the session was made', () => {
  const backwards = Object.fromEntries(Object.entries(full).reverse()) as unknown as Session;
  assert.equal(writeSession(backwards), writeSession(full));
});

test('numbers keep every bit', () => {
  const level_dBFS = -18.000000000000004;
  const session = { ...full, treatment: { ...full.treatment!, hits: [{ time_s: 1 / 3, level_dBFS }] } };
  assert.deepEqual(readSession(writeSession(session)).treatment!.hits, [{ time_s: 1 / 3, level_dBFS }]);
});

test('a byte order mark before the text is no fault', () => {
  assert.deepEqual(readSession(`\uFEFF${writeSession(full)}`), full);
});

test('a broken file is refused, with the place, and never mended in silence', () => {
  refused('', /not valid JSON/);
  refused(writeSession(full).slice(0, -20), /not valid JSON/);
  refused('[]', /not a session/);
  refused('null', /not a session/);
  refused('{}', /not a session/);
  refused('{"format":"other","version":1}', /not a session/);
  refused('{"format":"keelson-session","version":0}', /not a session/);
  refused('{"format":"keelson-session","version":1}', /At stems/);
  const change = (part: object) => JSON.stringify({ ...full, ...part });
  refused(change({ stems: [{ ...full.stems[0], role: 'drums' }] }), /At stems\.0\.role/);
  refused(change({ stems: [{ ...full.stems[0], sha256: 'abc' }] }), /At stems\.0\.sha256/);
  refused(change({ decisions: [{ finding: 'rumble', action: 'mend', reason: '' }] }), /At decisions\.0\.action/);
  refused(change({ surprise: 1 }), /surprise/);
});

test('a file of a newer version is refused and left alone', () => {
  refused(JSON.stringify({ ...full, version: SESSION_VERSION + 1 }), /newer version/);
});

test('there is one upgrader for each step between versions, and they run in order', () => {
  assert.equal(SESSION_UPGRADERS.length, SESSION_VERSION - 1);
  const steps = [
    (old: Record<string, unknown>) => ({ ...old, trail: 'a' }),
    (old: Record<string, unknown>) => ({ ...old, trail: `${String(old['trail'])}b` }),
  ];
  assert.deepEqual(upgraded({ version: 1 }, 1, steps), { version: 3, trail: 'ab' });
  assert.deepEqual(upgraded({ version: 2, trail: '' }, 2, steps), { version: 3, trail: 'b' });
});

test('a session that is none is not written', () => {
  const wrong = { ...full, stems: [{ ...full.stems[0]!, sha256: 'x' }] };
  assert.throws(() => writeSession(wrong));
});

test('the last word on a finding counts, and a name goes before all', () => {
  const found = ['rumble', 'wide-lows', 'covered-kick'];
  const first = decided(full, { accept: 'all', leave: [{ finding: 'rumble', reason: 'the room' }] }, found);
  // left earlier with a reason, so `all` does not take it
  assert.deepEqual(acceptedFindings(first), ['covered-kick']);
  const second = decided(first, { accept: ['wide-lows'], later: ['covered-kick'] }, found);
  assert.deepEqual(second.decisions, [
    { finding: 'wide-lows', action: 'treat', reason: '' },
    { finding: 'rumble', action: 'leave', reason: 'the room' },
    { finding: 'covered-kick', action: 'later', reason: '' },
  ]);
  assert.deepEqual(full.decisions.length, 1, 'the old session is not changed');
});

test('a wish and a setting take the place of earlier ones on the same thing', () => {
  const wishes = [
    { statistic: 'clearance.share2dB', low: 0.8, high: null },
    { statistic: 'evenness.spread_dB', low: null, high: 6 },
  ];
  assert.deepEqual(withWishes(full, wishes).wishes, wishes);
  const settings = [{ address: 'bass.make-room.cut_dB', value: 4 }];
  assert.deepEqual(withSettings(full, settings).settings, settings);
});
