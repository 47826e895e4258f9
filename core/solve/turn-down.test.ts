import assert from 'node:assert/strict';
import { test } from 'node:test';
import { knownSmallSong } from '../../tests/songs/known-small-song.js';
import { measureSong } from '../measure/measurements.js';
import { compareMeasurements, harmOf } from '../proof/compare-measurements.js';
import { renderSong } from '../render/render-song.js';
import { defaultTreatment } from '../treatment/paths.js';
import { SolveWatch } from './solve-watch.js';
import { tryWhole, type Rounds, type Trial } from './solve-round.js';
import { stageRequests } from './stage-requests.js';
import { withHarmTurnedDown } from './turn-down.js';

const { source, known, measured } = knownSmallSong(0.5);

/** A wide static cut where small loudspeakers hear the bass: it carries less by more than its tolerance. */
const requests = stageRequests({
  accepted: [],
  wishes: [],
  settings: new Map<string, number | string>([
    ['bass.make-room.way', 'static'],
    ['bass.make-room.cut_dB', 9],
    ['bass.make-room.frequency_Hz', 200],
    ['bass.make-room.width_oct', 3],
  ]),
});

function roundsToldTo(listener: (what: string) => void): Rounds {
  const { notes, hits } = known;
  const files = { kick: ['Kick.wav'], bass: ['Bass.wav'], rest: [] };
  const base = defaultTreatment({ sampleRate_Hz: 48_000, notes, hits, files });
  return { song: { source, known, measured }, base, watch: new SolveWatch(0, listener), solved: new Map() };
}

const first = await tryWhole(
  roundsToldTo(() => undefined),
  { requests, amounts: new Map(), turnedDown: new Map() },
);
const shareOf = ({ walk }: Trial): number => walk.stages[0]!.strength;

test('the largest share that does no harm is found in few walks, and what got worse with more is named', async () => {
  let measuredWhole = 0;
  const rounds = roundsToldTo((what) => (measuredWhole += what === 'measuring the treated song' ? 1 : 0));
  assert.ok(first.harm.length > 0, 'the cut as it was asked does harm');
  const trial = await withHarmTurnedDown(rounds, first);
  assert.ok(measuredWhole <= 2, `${measuredWhole} walks were measured whole`);
  const share = shareOf(trial);
  assert.ok(share > 0 && share < 1);
  const { kick, bass } = renderSong({ ...source, rest: null }, trial.walk.treatment, { roles: ['kick', 'bass'] });
  assert.deepEqual(harmOf(compareMeasurements(measured, measureSong({ ...source, kick, bass }, known))), []);
  const { remark } = trial.walk.stages[0]!.solution;
  for (const { statistic } of first.harm) assert.ok(remark!.includes(statistic.name.split(',')[0]!), remark!);
  // little is given away: the worst of the harmed figures uses most of its tolerance
  const used = first.harm.map(({ statistic }) => {
    const { change } = trial.rows.find((row) => row.statistic === statistic)!;
    return (statistic.better === 'higher' ? -change! : change!) / statistic.worseBy!;
  });
  assert.ok(Math.max(...used) >= 0.6 && Math.max(...used) <= 1, `${used.join(', ')} of the tolerance`);
});

test('where no share is harmless the stages are switched off, and it says for what', async () => {
  // a fold-down loss under nothing cannot be kept, however little is done
  const centre = measured.centre as Extract<typeof measured.centre, { kind: 'measured' }>;
  const better = { ...measured, centre: { ...centre, foldDownLoss_dB: { kind: 'figure' as const, value: -1 } } };
  const rounds = roundsToldTo(() => undefined);
  const last = await withHarmTurnedDown({ ...rounds, song: { source, known, measured: better } }, first);
  assert.equal(shareOf(last), 0);
  assert.match(last.walk.stages[0]!.solution.remark!, /^Off: with it, .*carry on a laptop/);
});
