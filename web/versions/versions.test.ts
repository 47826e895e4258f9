import assert from 'node:assert/strict';
import { test } from 'node:test';
import { emptySession, type Revision, type Session } from '../../core/session/session-format.js';
import { readSession, writeSession } from '../../core/session/session-file.js';
import { defaultTreatment } from '../../core/treatment/paths.js';
import { newHistory, undone, withStep } from '../state/session-history.js';
import { compareVersions } from './compare-versions.js';
import { broughtBack, playableTreatment, revisionOf, withRevision } from './revision-of.js';
import { sayMatches } from './say-matches.js';
import { letterOf, versionNow, versionRows, whatChanged } from './version-rows.js';

const HITS = [{ time_s: 0.5, level_dBFS: -12 }];
const untreated = defaultTreatment({
  ...{ sampleRate_Hz: 48_000, notes: [], hits: HITS },
  files: { kick: ['Kick.wav'], bass: ['Bass.wav'], rest: [] },
});
const treated = {
  ...untreated,
  bass: { ...untreated.bass, stages: untreated.bass.stages.map((stage) => ({ ...stage, on: true })) },
};

function state(reason: string, treatment: Session['treatment'] = treated): Session {
  return { ...emptySession(), decisions: [{ finding: 'rumble', action: 'leave', reason }], treatment };
}

function named(session: Session, name: string, print: string | null = null): Session {
  return withRevision(
    session,
    revisionOf({ session, name, at: '2026-11-25T14:02:00Z', print, rows: null, match_dB: 0.4 }),
  );
}

test('a named state lies in the session file without the hits and notes, and plays as it did', () => {
  const read = readSession(writeSession(named(state('the room'), 'room')));
  const [revision] = read.revisions;
  assert.ok(revision !== undefined && !('hits' in revision.treatment!));
  assert.deepEqual(playableTreatment(revision, untreated), treated);
});

test('a treatment that followed other hits, or other files, is not played', () => {
  const revision = named(state('x'), 'x').revisions[0]!;
  assert.equal(playableTreatment(revision, { ...untreated, hits: [...HITS, { time_s: 1, level_dBFS: -12 }] }), null);
  const other = { ...untreated.kick, tracks: [{ file: 'Kick 2.wav', stages: [] }] };
  assert.equal(playableTreatment(revision, { ...untreated, kick: other }), null);
});

test('going back brings decisions and treatment, as one step; versions and prints stay', () => {
  const first = named(state('the room'), 'room');
  const changed = { ...first, ...{ decisions: [], treatment: null } };
  const back = withStep(newHistory(changed), 'go back', broughtBack(changed, first.revisions[0]!, untreated));
  assert.deepEqual(back.session.decisions, first.decisions);
  assert.deepEqual(back.session.treatment, treated);
  const again = named(back.session, 'again');
  const taken = undone({ ...back, session: again });
  assert.deepEqual(taken.session.decisions, []);
  assert.equal(taken.session.revisions.length, 2, 'undo takes no version away');
});

test('a print of a state that has a name keeps the name; another state is a version of its own', () => {
  const room = named(state('the room'), 'room');
  const printed = named(room, 'printed', 'v1');
  assert.deepEqual(
    printed.revisions.map(({ name, print }) => [name, print]),
    [['room', 'v1']],
  );
  const later = named({ ...printed, ...state('another'), revisions: printed.revisions }, 'printed', 'v2');
  assert.deepEqual(
    later.revisions.map(({ name, print }) => [name, print]),
    [
      ['room', 'v1'],
      ['printed', 'v2'],
    ],
  );
});

test('the list is lettered, newest first, and holds prints that nobody named here', () => {
  const rows = [{ statistic: 'clearance.p10_dB', before: -1, after: 2, verdict: 'better' }];
  const session: Session = {
    ...named(named(state('a'), 'one'), 'two', 'v2'),
    versions: [1, 2].map((number) => ({
      name: `v${number}`,
      key: 'k',
      files: [
        {
          path: `Keelson prints/v${number}/Bass.wav`,
          role: 'bass',
          kind: 'bus',
          files: ['Bass.wav'],
          start: 0,
          sha256: '0'.repeat(64),
        },
      ],
    })),
    proofs: [{ version: 'v1', rows }],
  };
  const list = versionRows(session);
  assert.deepEqual(
    list.map(({ mark, print, gained, files }) => [mark, print, gained, files.length]),
    [
      ['A', 'v2', 0, 1],
      ['v1', 'v1', 1, 1],
    ],
  );
  assert.equal(list[1]!.revision, null);
  assert.equal(letterOf(25) + letterOf(26) + letterOf(52), 'ZAABA');
});

test('the title block says which version stands', () => {
  assert.equal(versionNow(emptySession()), 'not named');
  const one = named(state('a'), 'one');
  assert.equal(versionNow(one), 'A, one');
  assert.equal(versionNow({ ...one, decisions: [] }), 'after A');
});

test('what changed is said against the version before', () => {
  const a = named(state('the room'), 'a').revisions[0]!;
  const b: Revision = {
    ...a,
    decisions: [{ finding: 'wide-lows', action: 'treat', reason: '' }],
    wishes: [{ statistic: 'clearance.share2dB', low: 0.9, high: null }],
  };
  assert.equal(whatChanged(null, a), 'rumble left: the room');
  assert.equal(whatChanged(a, b), 'wide lows treated; rumble open again; 1\u00a0wish changed');
  assert.equal(whatChanged(b, a), 'rumble left: the room; wide lows open again; 1\u00a0wish taken back');
  assert.equal(whatChanged(a, a), 'as the version before');
  assert.equal(whatChanged(a, { ...a, treatment: null }), 'stages switched by hand or solved anew');
});

test('two versions by number: what differs with its difference, the rest counted', () => {
  const row = (statistic: string, after: number | null) => ({ statistic, before: 0, after, verdict: 'same' });
  const one = [row('clearance.p10_dB', -1.72), row('clearance.share2dB', 0.68), row('headroom.cost_dB', 2.31)];
  const other = [row('clearance.p10_dB', 2.1), row('clearance.share2dB', 0.92), row('headroom.cost_dB', 2.34)];
  const { differ, same } = compareVersions(one, other);
  assert.deepEqual(
    differ.map(({ one, other, difference }) => [one, other, difference]),
    [
      ['\u22121.7\u00a0dB', '2.1\u00a0dB', '+3.8\u00a0dB'],
      ['68\u00a0%', '92\u00a0%', '+24\u00a0%'],
    ],
  );
  assert.equal(same, 1, '2.31 and 2.34 read 2.3');
  const near = compareVersions([row('headroom.cost_dB', 2.149)], [row('headroom.cost_dB', 2.151)]);
  assert.equal(near.same, 1, 'rounding alone is no difference');
  const gone = compareVersions(one, [row('clearance.p10_dB', null)]).differ[0]!;
  assert.deepEqual([gone.other, gone.difference], ['not known', '']);
});

test('how fair the ear compares is said', () => {
  assert.equal(sayMatches([0.4, -0.2]), 'Each as loud as the source: +0.4\u00a0dB and \u22120.2\u00a0dB.');
  assert.match(sayMatches([null, 0]), /^Not matched/);
});
