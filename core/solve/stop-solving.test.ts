import assert from 'node:assert/strict';
import { test } from 'node:test';
import { knownSmallSong } from '../../tests/songs/known-small-song.js';
import { measureSong } from '../measure/measurements.js';
import { defaultTreatment, formatAddress, parseAddress, stageAt } from '../treatment/paths.js';
import { treatedSound } from './solve-round.js';
import { solveSong, type Solution, type SolveQuestion } from './solve-song.js';
import type { SolveProgress } from './solve-watch.js';
import { stageRequests } from './stage-requests.js';

const { source, known, measured } = knownSmallSong(0.1);
const { laptop_LU } = measured.carry as Extract<typeof measured.carry, { kind: 'measured' }>;
assert.ok(laptop_LU.kind === 'figure');

/** Harmonics are searched for between a stage that has nothing to search and one that comes after. */
const requests = stageRequests({
  accepted: [],
  wishes: [{ statistic: 'carry.laptop_LU', low: laptop_LU.value + 4, high: null }],
  settings: new Map<string, number | string>([
    ['bass.clean.lowCut', 'on'],
    ['bass.make-room.cut_dB', 2],
    ['bass.make-room.way', 'static'],
  ]),
});
const base = defaultTreatment({
  sampleRate_Hz: 48_000,
  notes: known.notes,
  hits: known.hits,
  files: { kick: ['Kick.wav'], bass: ['Bass.wav'], rest: [] },
});
const question: SolveQuestion = { song: { source, known, measured }, base, requests };
const HARMONICS = 'bass.low.harmonics';
const ROOM = 'bass.make-room';

/** Solves, and says stop as soon as `when` holds; what was told on the way is kept. */
async function stoppedWhen(when: (solving: SolveProgress, what: string) => boolean) {
  const told: SolveProgress[] = [];
  let stop = false;
  const solution = await solveSong({
    ...question,
    progress: (what, _done, _total, solving) => {
      told.push(solving);
      stop ||= when(solving, what);
    },
    checkpoint: () => Promise.resolve(stop ? 'stop' : 'go on'),
  });
  return { solution, told };
}

function stageOf(solution: Solution, address: string) {
  return solution.stages.find((stage) => formatAddress(stage.address) === address)!.solution;
}

const whole = await solveSong(question);

test('a host that looks in and never stops gets what solving alone gives', async () => {
  const { solution, told } = await stoppedWhen(() => false);
  assert.deepEqual(solution, whole);
  assert.equal(solution.stopped, null);
  assert.deepEqual(
    [...new Set(told.map(({ stage }) => stage))].filter((stage) => stage !== null).sort(),
    requests.map(({ address }) => formatAddress(address)).sort(),
  );
  for (const { renders, aboutRenders } of told) assert.ok(renders <= aboutRenders);
  assert.equal(told[told.length - 1]!.renders, solution.renders);
});

test('stopped in a search: the best of what was tried is kept, what comes after stays off, and it is measured and told', async () => {
  let trials = 0;
  const { solution } = await stoppedWhen(({ stage, best }) => stage === HARMONICS && best !== null && ++trials === 2);
  const harmonics = stageOf(solution, HARMONICS);
  const all = stageOf(whole, HARMONICS).trials;
  assert.ok(all.length > 2, 'the search goes on where nobody stops it');
  assert.deepEqual(harmonics.trials, all.slice(0, 2));
  const best = [...harmonics.trials].sort((a, b) => b.result - a.result)[0]!;
  assert.equal(harmonics.settings['level_dB'], best.amount);
  assert.equal(harmonics.on, true);
  assert.deepEqual(stageOf(solution, 'bass.clean').settings, stageOf(whole, 'bass.clean').settings);
  const room = stageOf(solution, ROOM);
  assert.deepEqual(
    [room.on, room.met, stageAt(solution.treatment, parseAddress(ROOM).address)!.on],
    [false, null, false],
  );
  assert.match(room.remark!, /stopped/);
  assert.equal(
    stageOf(solution, 'bass.trim').on,
    stageOf(whole, 'bass.trim').on,
    'trim holds the lows of what is kept',
  );
  const figure = best.result.toFixed(1).replace('-', '\u2212');
  assert.match(
    solution.stopped!,
    new RegExp(`^Stopped\\. The best of \\d+ renders is kept: ${figure} LU, carry on a laptop\\.$`),
  );
  assert.deepEqual(solution.after, measureSong(treatedSound(source, solution.walk), known));
});

test('stopped at once: nothing is on, and it says so', async () => {
  const { solution } = await stoppedWhen(() => true);
  assert.ok(solution.stages.every((stage) => !stage.solution.on));
  assert.match(solution.stopped!, /every stage is off/);
});

test('stopped while the song is measured: the walk that was measured stands', async () => {
  const { solution } = await stoppedWhen((_, what) => what === 'measuring the treated song');
  assert.deepEqual(stageOf(solution, HARMONICS).trials, stageOf(whole, HARMONICS).trials);
  assert.match(solution.stopped!, /^Stopped/);
});
