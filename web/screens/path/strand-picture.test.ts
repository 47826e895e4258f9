import assert from 'node:assert/strict';
import { test } from 'node:test';
import { defaultTreatment, parseAddress, stageAt, withStage } from '../../../core/treatment/paths.js';
import type { Treatment } from '../../../core/treatment/treatment.js';
import { movedInLane, pathOfRole, stagesInOrder } from './path-stages.js';
import { acrossAt, coursePath, partOf } from './strand-course.js';
import { strandPicture } from './strand-picture.js';

const FILES = { kick: ['In.wav', 'Out.wav'], bass: ['DI.wav', 'Amp.wav'], rest: ['Keys.wav'] };
const LYING = { length: 1400, depth: 390, upright: false };
const UPRIGHT = { length: 1500, depth: 140, upright: true };

function song(...on: string[]): Treatment {
  let treatment = defaultTreatment({ sampleRate_Hz: 48000, notes: [], hits: [], files: FILES });
  for (const text of on) {
    const { address } = parseAddress(text);
    treatment = withStage(treatment, address, { ...stageAt(treatment, address)!, on: true });
  }
  return treatment;
}

test('every stage of kick and bass has a frame across its strands, within the paper, lying or upright', () => {
  const treatment = song();
  const expected = stagesInOrder(treatment).filter(({ address }) => address.role !== 'rest');
  for (const room of [LYING, UPRIGHT]) {
    const { frames } = strandPicture(treatment, room);
    assert.deepEqual(new Set(frames.map(({ stage }) => stage.key)), new Set(expected.map(({ key }) => key)));
    for (const { along, across, half } of frames) {
      assert.ok(along > 0 && along < room.length);
      assert.ok(across - half > 0 && across + half < room.depth);
    }
  }
});

test('frames of one lane stand in the order of the signal', () => {
  const { frames } = strandPicture(song('bass.low.steady'), LYING);
  const low = frames.filter(({ stage }) => stage.address.lane === 'low').map(({ along }) => along);
  assert.deepEqual(
    low,
    [...low].sort((a, b) => a - b),
  );
  const bus = frames.filter(
    ({ stage }) => stage.address.lane === null && stage.address.track === null && stage.address.role === 'bass',
  );
  const places = bus.map(({ along }) => along);
  assert.deepEqual(
    places,
    [...places].sort((a, b) => a - b),
  );
});

test('upright, no two frames share a place, since all words stand in one column', () => {
  const { frames } = strandPicture(song('bass.low.steady', 'bass.high.widen'), UPRIGHT);
  const places = frames.map(({ along }) => along).sort((a, b) => a - b);
  for (let i = 1; i < places.length; i++) assert.ok(places[i]! - places[i - 1]! > 12);
});

test('a stage that is off changes no strand; one that is on changes only what it does', () => {
  const strokes = (treatment: Treatment) => strandPicture(treatment, LYING).strokes;
  const plain = strokes(song());
  assert.equal(strokes(song('bass.low.harmonics')).length, plain.length + 4); // fine strands grow
  assert.equal(strokes(song('bass.low.saturate')).length, plain.length + 4); // the low lane's own four thicken
  const room = strokes(song('bass.make-room'));
  assert.equal(room.filter(({ dash }) => dash !== undefined).length, 4); // hits reach up, dotted
  assert.equal(plain.filter(({ dash }) => dash !== undefined).length, 0);
});

test('what opens the stage that makes room is drawn: known hits one by one, the kick as one line, nothing where it stands still', () => {
  const kickStrokes = (way: string, room: typeof LYING) => {
    const on = song('bass.make-room');
    const { address } = parseAddress('bass.make-room');
    const instance = stageAt(on, address)!;
    const picture = strandPicture(
      withStage(on, address, { ...instance, settings: { ...instance.settings, way } }),
      room,
    );
    const strands = strandPicture(song(), room).strokes.filter(({ ink }) => ink === 'kick').length;
    const own = picture.strokes.filter(({ ink, fill }) => ink === 'kick' || fill === 'kick').slice(strands);
    const words = picture.names.filter(({ ink, axis }) => ink === 'kick' && axis).map(({ text }) => text);
    return { own, words };
  };
  for (const room of [LYING, UPRIGHT]) {
    const ahead = kickStrokes('ahead', room);
    assert.deepEqual(
      ahead.own.map(({ dash }) => dash !== undefined),
      [true, true, true, true],
    );
    const keyed = kickStrokes('keyed', room);
    assert.deepEqual(
      keyed.own.map(({ fill }) => fill ?? 'line'),
      ['line', 'kick', 'paper'],
    );
    assert.deepEqual(kickStrokes('static', room).own, []);
    const words = room.upright ? [] : ['known hits', 'kick as key', undefined];
    assert.deepEqual(
      [ahead, keyed, kickStrokes('static', room)].map((one) => one.words[0]).slice(0, words.length),
      words,
    );
  }
});

test('steady draws its lane together and widen parts it, behind the frame', () => {
  const halfAt = (on: string, behind: string) =>
    strandPicture(song(on), LYING).frames.find(({ stage }) => stage.key === behind)!.half - 9;
  assert.ok(halfAt('bass.low.steady', 'bass.low.saturate') < halfAt('bass.clean', 'bass.low.saturate'));
  assert.ok(halfAt('bass.high.widen', 'bass.high.saturate') > halfAt('bass.clean', 'bass.high.saturate'));
});

test('a song without kick draws the bass alone', () => {
  const treatment = defaultTreatment({ sampleRate_Hz: 48000, notes: [], hits: [], files: { ...FILES, kick: [] } });
  const { strokes, regions } = strandPicture(treatment, LYING);
  assert.ok(strokes.every(({ ink }) => ink === 'bass'));
  assert.ok(regions.every(({ solo }) => solo !== 'kick'));
});

test('a course runs level through its knots and can be cut', () => {
  const knots = [
    { along: 0, across: 10 },
    { along: 100, across: 10 },
    { along: 200, across: 30 },
  ];
  assert.equal(coursePath(knots, false), 'M0 10L100 10C150 10 150 30 200 30');
  assert.equal(coursePath(knots, true), 'M10 0L10 100C10 150 30 150 30 200');
  assert.equal(acrossAt(knots, 150), 20); // half way of a symmetric bend
  assert.deepEqual(partOf(knots, 50, 150), [
    { along: 50, across: 10 },
    { along: 100, across: 10 },
    { along: 150, across: 20 },
  ]);
});

test('a stage changes places with its neighbour in the lane, not beyond the end', () => {
  const { low } = pathOfRole(song(), 'bass');
  const keys = low.map(({ key }) => key);
  assert.deepEqual(movedInLane(low, keys[0]!, 1), [keys[1], keys[0], ...keys.slice(2)]);
  assert.equal(movedInLane(low, keys[0]!, -1), null);
  assert.equal(movedInLane(low, keys[keys.length - 1]!, 1), null);
});
