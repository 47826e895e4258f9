import assert from 'node:assert/strict';
import { test } from 'node:test';
import { inspectSchema } from './inspect-format.js';

const none = { value: null, reason: 'there is no bass' };
const sample = {
  song: {
    name: 'Alder',
    sampleRate_Hz: 48_000,
    duration_s: 31.5,
    tempo_bpm: none,
    stems: [
      {
        file: '01 Kick In.wav',
        role: 'kick',
        because: 'the name says "kick"',
        channels: 1,
        bitDepth: '24',
        sampleRate_Hz: 48_000,
        duration_s: 31.5,
        faults: [{ id: 'declared-length', sentence: 'The header promises more than there is.' }],
      },
    ],
  },
  kick: { hits: [{ time_s: 0.5, level_dBFS: -12, clearance_dB: 3.1 }], fundamental_Hz: 52, decay_ms: 180 },
  bass: {
    notes: [
      {
        start_s: 0.5,
        end_s: 1,
        frequency_Hz: 41.3,
        midi: 28,
        name: 'E1',
        cents: 4,
        level_dBFS: -18,
        harmonics_dB: [0, -4],
      },
    ],
  },
  measures: {
    clearance: {
      p10_dB: { value: 1.2, low: 0.4, high: 2 },
      median_dB: { value: 3 },
      share2dB: { value: 0.8 },
      contested_Hz: none,
    },
    agreement: { median_dB: none, p10_dB: none },
    centre: { foldDownLoss_dB: { value: 0.2 } },
    evenness: { spread_dB: none, asHeard_dB: none },
    carry: { laptop_LU: none, phone_LU: none, heardHarmonicsShare: none },
    headroom: { cost_dB: { value: 3 }, left_dB: { value: 1 }, integrated_LUFS: { value: -14 } },
  },
  findings: [
    {
      id: 'covered-kick',
      severity: 1.4,
      sentence: 'The bass covers the kick on 4 of 20 hits.',
      where: { files: [], hits_s: [0.5], notes: [{ name: 'E1', start_s: 0.5 }], bands_Hz: [52], times_s: [[0.4, 0.7]] },
      evidence: { covered: 4 },
      suggest: {
        stage: 'make-room',
        wish: 'clearance.share2dB >= 90 %',
        expected: { value: 0.9, unit: '%', basis: 'estimate' },
      },
      leaveItWhen: 'The bass is meant to lead.',
    },
  ],
  lookedForAndNotThere: ['rumble'],
};

test('the object of inspect fits its published form', () => {
  assert.equal(inspectSchema.safeParse(sample).error, undefined);
});

test('more keys are welcome', () => {
  assert.ok(inspectSchema.safeParse({ ...sample, more: 1, song: { ...sample.song, remarks: [] } }).success);
});

const broken: readonly (readonly [what: string, change: (object: typeof sample) => unknown])[] = [
  ['a missing measure', ({ measures: { carry: _, ...measures }, ...rest }) => ({ ...rest, measures })],
  ['a missing key', ({ lookedForAndNotThere: _, ...rest }) => rest],
  ['a reading without a reason', (object) => ({ ...object, kick: { ...object.kick, decay_ms: { value: null } } })],
  ['a bare null', (object) => ({ ...object, kick: { ...object.kick, decay_ms: null } })],
  [
    'an unknown role',
    (object) => ({ ...object, song: { ...object.song, stems: [{ ...object.song.stems[0], role: 'drums' }] } }),
  ],
  ['a severity beyond 3', (object) => ({ ...object, findings: [{ ...object.findings[0], severity: 3.5 }] })],
  ['cents beyond a half', (object) => ({ ...object, bass: { notes: [{ ...object.bass.notes[0], cents: 60 }] } })],
];

for (const [what, change] of broken) {
  test(`refused: ${what}`, () => {
    assert.equal(inspectSchema.safeParse(change(sample)).success, false);
  });
}
