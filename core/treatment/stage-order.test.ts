import assert from 'node:assert/strict';
import { test } from 'node:test';
import { defaultTreatment, PLACES } from './paths.js';
import { withOrders, type StageOrder } from './stage-order.js';
import { TreatmentChain } from './treatment-chain.js';

const plain = defaultTreatment({
  sampleRate_Hz: 48_000,
  notes: [],
  hits: [],
  files: { kick: ['Kick.wav'], bass: ['Bass.wav'], rest: [] },
});
const namesOf = (stages: readonly { stage: string }[]) => stages.map(({ stage }) => stage);
const ordered = (place: string, stages: string[]) => withOrders(plain, [{ place, stages }]);

test('the stages of a lane stand as they were put, and the chain takes them so', () => {
  const stages = [...PLACES.bass.low].reverse();
  const { treatment, remarks } = ordered('bass.low', stages);
  assert.deepEqual(namesOf(treatment.bass.lanes.low), stages);
  assert.deepEqual(treatment.bass.lanes.high, plain.bass.lanes.high);
  assert.deepEqual(remarks, []);
  assert.ok(new TreatmentChain(treatment, ['bass']).latencySamples > 0);
});

test('what is not named keeps its position; what is not there is left out and told', () => {
  const { treatment, remarks } = ordered('bass.low', ['saturate', 'reverb', 'steady', 'saturate']);
  assert.deepEqual(namesOf(treatment.bass.lanes.low), ['saturate', 'harmonics', 'steady']);
  assert.equal(remarks.length, 1);
  assert.match(remarks[0]!, /reverb/);
});

test('an order that may not be leaves the path as it is and says why', () => {
  const parted = [...PLACES.bass.bus].reverse();
  const cases: [StageOrder, RegExp][] = [
    [{ place: 'bass', stages: parted }, /split/],
    [{ place: 'drums', stages: ['clean'] }, /drums/],
    [{ place: 'kick.low', stages: ['steady'] }, /kick\.low/],
  ];
  for (const [order, said] of cases) {
    const { treatment, remarks } = withOrders(plain, [order]);
    assert.deepEqual(treatment, plain);
    assert.match(remarks.join(' '), said);
  }
});
