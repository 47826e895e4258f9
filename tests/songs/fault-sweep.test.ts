import assert from 'node:assert/strict';
import { test } from 'node:test';
import { findFaults } from '../../core/findings/find-faults.js';
import { FINDINGS } from '../../core/findings/finding-registry.js';
import type { FindingId } from '../../core/findings/finding.js';
import { measureSong } from '../../core/measure/measurements.js';
import { soulSong } from './clean-songs.js';
import {
  injectCancellingLows,
  injectCoveredKick,
  injectDcOffset,
  injectLostOnSmallSpeakers,
  injectMisalignedMics,
  injectNoHeadroom,
  injectResonantNote,
  injectRumble,
  injectUnevenNotes,
  injectWideLows,
} from './injected-faults.js';
import { knownTruth } from './known-truth.js';
import type { TestSong } from './song-of-parts.js';

interface Sweep {
  readonly finding: FindingId;
  readonly inject: (amount: number) => TestSong;
  /** Amounts on the sound side of the tolerance. */
  readonly below: readonly number[];
  /** Amounts beyond it. */
  readonly above: readonly number[];
}

/** Five bars are enough for every count that a finding asks for. */
const song = soulSong(5);
const D2 = 38;
const C2 = 36;

const SWEEPS: readonly Sweep[] = [
  { finding: 'covered-kick', inject: (dB) => injectCoveredKick(song, dB), below: [3], above: [13] },
  {
    finding: 'cancelling-lows',
    inject: (share) => injectCancellingLows(song, share),
    below: [0.05],
    above: [0.5],
  },
  { finding: 'misaligned-mics', inject: (ms) => injectMisalignedMics(song, ms), below: [0.2], above: [3] },
  { finding: 'misaligned-mics', inject: (ms) => injectMisalignedMics(song, ms, -1), below: [], above: [0] },
  { finding: 'wide-lows', inject: (amount) => injectWideLows(song, amount), below: [0.4], above: [0.7] },
  { finding: 'uneven-notes', inject: (dB) => injectUnevenNotes(song, dB), below: [4], above: [10] },
  { finding: 'resonant-note', inject: (dB) => injectResonantNote(song, dB, D2), below: [2], above: [5] },
  { finding: 'resonant-note', inject: (dB) => injectResonantNote(song, -dB, C2), below: [2], above: [4.5] },
  {
    finding: 'lost-on-small-speakers',
    inject: (Hz) => injectLostOnSmallSpeakers(song, Hz),
    below: [500],
    above: [100],
  },
  { finding: 'rumble', inject: (dB) => injectRumble(song, dB), below: [-62], above: [-42] },
  { finding: 'dc-offset', inject: (dB) => injectDcOffset(song, dB), below: [-50], above: [-41] },
  { finding: 'no-headroom', inject: (dB) => injectNoHeadroom(song, dB), below: [1], above: [6] },
];

function findingsOf(faulty: TestSong): FindingId[] {
  const { findings } = findFaults(measureSong(faulty.sound, knownTruth(faulty)), []);
  return [...new Set(findings.map(({ id }) => id))];
}

/** Companions are declared on either side. */
function mayComeWith(finding: FindingId, other: FindingId): boolean {
  const companionsOf = (id: FindingId) => FINDINGS.find((declaration) => declaration.id === id)?.companions ?? [];
  return other === finding || companionsOf(finding).includes(other) || companionsOf(other).includes(finding);
}

for (const { finding, inject, below, above } of SWEEPS) {
  for (const amount of below) {
    test(`${finding} is not found at ${amount}, and nothing else is`, () => {
      assert.deepEqual(findingsOf(inject(amount)), []);
    });
  }
  for (const amount of above) {
    test(`${finding} is found at ${amount}, with none but its companions`, () => {
      const found = findingsOf(inject(amount));
      assert.ok(found.includes(finding), `found only: ${found.join(', ') || 'nothing'}`);
      const strangers = found.filter((other) => !mayComeWith(finding, other));
      assert.deepEqual(strangers, []);
    });
  }
}
