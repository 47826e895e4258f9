import assert from 'node:assert/strict';
import { test } from 'node:test';
import { knownSmallSong } from '../../tests/songs/known-small-song.js';
import { measureSong } from '../measure/measurements.js';
import type { SongSound } from '../measure/song-sound.js';
import { compareMeasurements, harmOf } from '../proof/compare-measurements.js';
import { renderSong } from '../render/render-song.js';
import { defaultTreatment, formatAddress, parseAddress, stageAt } from '../treatment/paths.js';
import { walkPath } from './path-walk.js';
import { treatedSound } from './solve-round.js';
import { solveSong, type SolveQuestion } from './solve-song.js';
import { SolveWatch } from './solve-watch.js';
import { stageRequests } from './stage-requests.js';

const { source, known, measured } = knownSmallSong(0.5);
const base = defaultTreatment({
  sampleRate_Hz: 48_000,
  notes: known.notes,
  hits: known.hits,
  files: { kick: ['Kick.wav'], bass: ['Bass.wav'], rest: [] },
});

function question(settings: Record<string, number | string>): SolveQuestion {
  const requests = stageRequests({ accepted: [], wishes: [], settings: new Map(Object.entries(settings)) });
  return { song: { source, known, measured }, base, requests };
}

/** A wide static cut where small loudspeakers hear the bass: it carries less by more than its tolerance. */
const HARSH = {
  'bass.make-room.way': 'static',
  'bass.make-room.cut_dB': 9,
  'bass.make-room.frequency_Hz': 200,
  'bass.make-room.width_oct': 3,
};

function harmIn(sound: SongSound): string[] {
  return harmOf(compareMeasurements(measured, measureSong(sound, known))).map(({ statistic }) => statistic.address);
}

test('a stage that harms is turned down until nothing is worse by more than its tolerance, and it is told', async () => {
  const harsh = question(HARSH);
  const unchecked = await walkPath({
    ...harsh,
    amounts: new Map(),
    turnedDown: new Map(),
    solved: new Map(),
    watch: new SolveWatch(0),
  });
  assert.ok(harmIn(treatedSound(source, unchecked)).length > 0, 'the cut as it was asked does harm');
  const solution = await solveSong(harsh);
  assert.deepEqual(solution.harm, []);
  const rendered = renderSong({ ...source, rest: null }, solution.treatment, { roles: ['kick', 'bass'] });
  assert.deepEqual(harmIn({ ...source, kick: rendered.kick, bass: rendered.bass }), []);
  const room = solution.stages.find(({ address }) => formatAddress(address) === 'bass.make-room')!;
  assert.ok(room.strength < 1);
  assert.ok(room.strength > 0 || !room.solution.on);
});

test('the walk and the engine agree: what was solved is what is rendered', async () => {
  const solution = await solveSong(question({ 'bass.low.saturate.drive_dB': 4, 'bass.trim.gain_dB': -1 }));
  const rendered = renderSong({ ...source, rest: null }, solution.treatment, { roles: ['kick', 'bass'] });
  let furthest = 0;
  rendered.bass!.left.forEach((x, n) => (furthest = Math.max(furthest, Math.abs(x - solution.walk.bass!.left[n]!))));
  // the walk keeps its sound as Float32: half a step at full scale is 6e-8, a few stages one behind another
  assert.ok(furthest < 1e-6, `${furthest}`);
  assert.equal(stageAt(solution.treatment, parseAddress('bass.split').address)!.on, true);
});

test('the same question gives the same treatment', async () => {
  const once = await solveSong(question({ 'bass.high.onset.gain_dB': 2 }));
  const again = await solveSong(question({ 'bass.high.onset.gain_dB': 2 }));
  assert.deepEqual(again.treatment, once.treatment);
});

test('a wish that holds at its stage is held at the end of the path as well, or it is told', async () => {
  const wishes = [
    { statistic: 'evenness.spread_dB', low: null, high: 0.5 },
    { statistic: 'clearance.share2dB', low: 1, high: null },
  ];
  const requests = stageRequests({ accepted: [], wishes, settings: new Map() });
  const { stages, rows } = await solveSong({ ...question({}), requests });
  for (const { statistic, low, high } of wishes) {
    const after = rows.find((row) => row.statistic.address === statistic)!.after;
    const reached =
      after.kind === 'figure' && (low === null || after.value >= low) && (high === null || after.value <= high);
    const stage = stages.find(({ request }) => (request.asked ?? request.wish)?.statistic === statistic)!;
    assert.ok(reached || stage.solution.met === false || stage.solution.remark !== null, statistic);
  }
});
