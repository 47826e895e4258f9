import assert from 'node:assert/strict';
import { test } from 'node:test';
import { EMPTY_PLACE, type Finding, type FindingId } from '../../core/findings/finding.js';
import type { PartName } from '../../core/measure/measure-parts.js';
import { unmeasurable } from '../../core/units/reading.js';
import type { InspectTold, OpenedSong } from '../../protocol/inspect-told.js';
import { placeOfChosen, songOf, withTold, type SongSoFar } from './song-so-far.js';

const opened = { name: 'Ballast', sampleRate_Hz: 48_000, frameCount: 100 } as OpenedSong;
const known = {
  what: 'known',
  known: { hits: [], notes: [] },
  lows: { bands_Hz: [] },
  untreated: {},
} as unknown as InspectTold;
const silent = unmeasurable('the song is silent');

function finding(id: FindingId, severity: number): Finding {
  const suggest = { stage: 'none', address: '', wish: '', settings: {}, expected: null } as const;
  return {
    id,
    severity,
    sentence: `${id} costs ${severity}`,
    where: EMPTY_PLACE,
    evidence: {},
    suggest,
    leaveItWhen: '',
  };
}

const [rumble, wide, covered] = [finding('rumble', 0.2), finding('wide-lows', 1), finding('covered-kick', 2)];

function measured(name: PartName, findings: readonly Finding[], measuring: readonly PartName[]): InspectTold {
  const faults = { findings: [...findings], lookedForAndNotThere: [], unjudged: [] };
  return { what: 'measured', parts: { [name]: silent }, faults, measuring };
}

function after(...told: InspectTold[]): SongSoFar {
  return told.reduce<SongSoFar | null>(withTold, null)!;
}

const early = [
  { what: 'opened', song: opened, begins: true } as const,
  measured('centre', [wide], ['headroom', 'clearance']),
];

test('there is a song to show once hits and notes are known; what is missing says that it is still measured', () => {
  assert.equal(songOf(after(...early)), null);
  const song = songOf(after(...early, known))!;
  assert.deepEqual(song.measured.centre, silent);
  assert.match((song.measured.clearance as { reason: string }).reason, /still being measured/);
  assert.deepEqual(song.measuring, ['headroom', 'clearance']);
});

test('findings keep their places while more are found, and stand by what they cost at the end', () => {
  const more = [...early, known, measured('headroom', [wide, rumble], ['clearance'])];
  const soFar = after(...more);
  assert.deepEqual(soFar.faults.findings, [wide, rumble]);
  const later = after(...more, measured('evenness', [covered, wide, rumble], ['clearance']));
  assert.deepEqual(later.faults.findings, [wide, rumble, covered]);
  const all = after(...more, measured('clearance', [covered, wide, rumble], []));
  assert.deepEqual(all.faults.findings, [covered, wide, rumble]);
  assert.equal(placeOfChosen(soFar.faults.findings, 1, all.faults.findings), 2);
  assert.equal(placeOfChosen([], 0, all.faults.findings), 0);
});

test('as more is read the song is told anew, and what was found of its kick and bass stands', () => {
  const whole = { ...opened, frameCount: 200 };
  const soFar = after(...early, known, { what: 'opened', song: whole, begins: false });
  assert.equal(songOf(soFar)!.frameCount, 200);
  assert.deepEqual(soFar.faults.findings, [wide]);
  assert.notEqual(soFar.known, null);
});

test('a song that is opened again begins anew; what is told of none is let fall', () => {
  assert.equal(withTold(null, known), null);
  const again = after(...early, known, { what: 'opened', song: opened, begins: true });
  assert.deepEqual([again.known, again.faults.findings], [null, []]);
});
