import assert from 'node:assert/strict';
import { test } from 'node:test';
import { defaultTreatment, parseAddress, stageAt, withStage } from '../core/treatment/paths.js';
import type { Treatment } from '../core/treatment/treatment.js';
import type { HeardPart } from '../protocol/heard-part.js';
import { joinedPieces, matchStretches } from './match-stretches.js';
import { partMatch } from './part-match.js';

const rate = 24_000;
const seconds = 36;
const frameCount = seconds * rate;
const sine = (frequency_Hz: number, level: number, on = (_s: number): boolean => true) =>
  Float32Array.from({ length: frameCount }, (_, n) =>
    on(n / rate) ? level * Math.sin((2 * Math.PI * frequency_Hz * n) / rate) : 0,
  );
const mono = (samples: Float32Array) => ({ left: samples, right: samples, sampleRate_Hz: rate });
const kick = mono(sine(60, 0.2, (s) => s % 0.5 < 0.15));
const bass = mono(sine(110, 0.1));
const rest = mono(sine(1000, 0.02));
const sound = {
  ...{ sampleRate_Hz: rate, frameCount, kick, bass, rest },
  tracks: { kick: [{ file: 'K.wav', signal: kick }], bass: [{ file: 'B.wav', signal: bass }], rest: [] },
};
const files = { kick: ['K.wav'], bass: ['B.wav'], rest: ['R.wav'] };
const plain = defaultTreatment({ sampleRate_Hz: rate, notes: [], hits: [], files });

function withGain(treatment: Treatment, stage: string, gain_dB: number): Treatment {
  const { address } = parseAddress(stage);
  return withStage(treatment, address, { ...stageAt(treatment, address)!, on: true, settings: { gain_dB } });
}

function matchOf(treatment: Treatment, part: HeardPart, whole: Parameters<typeof partMatch>[0]['whole'] = null) {
  const match = partMatch({ sound, treatment, part, whole });
  assert.ok(match.kind === 'match', `${part}: ${match.kind === 'match' ? '' : match.reason}`);
  return match;
}

test('a bass made 4 dB softer by hand: matched by 4 dB alone, by nothing for the kick, over the stretches it says', () => {
  const softer = withGain(plain, 'bass.trim', -4);
  const alone = matchOf(softer, 'bass');
  assert.ok(Math.abs(alone.match_dB - 4) < 0.01, `${alone.match_dB}`);
  assert.equal(alone.over_s, 24);
  assert.equal(matchOf(softer, 'kick').match_dB, 0);
  assert.equal(matchOf(softer, 'rest').match_dB, 0);
  const together = matchOf(softer, 'all').match_dB;
  assert.ok(together > 0.3 && together < 4, `${together}`);
});

test('with the sound of solving at hand the whole song is measured, and the stretches come to the same', () => {
  const softer = withGain(plain, 'bass.trim', -4);
  const scaled = mono(bass.left.map((v) => v * 10 ** (-4 / 20)));
  for (const part of ['all', 'low end', 'bass'] as const) {
    const whole = matchOf(softer, part, { kick, bass: scaled });
    assert.equal(whole.over_s, undefined);
    assert.ok(Math.abs(whole.match_dB - matchOf(softer, part).match_dB) < 0.1, part);
  }
});

test('a lane is compared with what the same split takes out of the untreated bass', () => {
  const softer = withGain(plain, 'bass.trim', -4);
  // what is done after the join changes neither lane, what is done before it changes both
  assert.ok(Math.abs(matchOf(softer, 'low lane').match_dB) < 0.01);
  assert.ok(Math.abs(matchOf(softer, 'bass').match_dB - 4) < 0.01);
});

test('what is not there cannot be matched and says so', () => {
  const without = { ...sound, kick: null };
  const match = partMatch({ sound: without, treatment: plain, part: 'kick', whole: null });
  assert.deepEqual(match, { kind: 'unmeasurable', reason: 'no kick among the stems' });
});

test('stretches: all of a short song; of a long one six pieces of 4 s where it plays', () => {
  const short = matchStretches([bass], 10 * rate, rate);
  assert.deepEqual(short, [{ from: 0, to: 10 * rate }]);
  const late = mono(sine(110, 0.1, (s) => s >= 8));
  const pieces = matchStretches([late], frameCount, rate);
  assert.equal(pieces.length, 6);
  for (const { from, to } of pieces) {
    assert.equal(to - from, 4 * rate);
    assert.ok(from >= 8 * rate && to <= frameCount);
  }
  assert.equal(new Set(pieces.map(({ from }) => from)).size, 6);
});

test('joined pieces begin and end at nothing', () => {
  const ones = mono(new Float32Array(2400).fill(1));
  const { left } = joinedPieces([ones, ones], rate);
  assert.ok(left[2399]! < 0.01 && left[2400]! < 0.01 && left[1200] === 1);
});
