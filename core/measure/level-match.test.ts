import assert from 'node:assert/strict';
import { test } from 'node:test';
import { SeededRandom } from '../units/seeded-random.js';
import { levelMatch } from './level-match.js';

const sampleRate_Hz = 48_000;
const random = new SeededRandom(4);
const noise = Float64Array.from({ length: 3 * sampleRate_Hz }, () => random.between(-0.1, 0.1));
const stereo = (samples: Float64Array) => ({ left: samples, right: samples, sampleRate_Hz });
const scaled = (samples: Float64Array, level_dB: number) => samples.map((v) => v * 10 ** (level_dB / 20));
const tone = (frequency_Hz: number, level_dB: number) =>
  scaled(
    Float64Array.from(noise, (_, n) => Math.sin((2 * Math.PI * frequency_Hz * n) / sampleRate_Hz)),
    level_dB,
  );

const matchOf = (a: Float64Array, b: Float64Array, scope: 'whole mix' | 'part') => {
  const match = levelMatch(stereo(a), stereo(b), scope);
  assert.ok(match.kind === 'match');
  return match;
};

test('the same sound 4 dB softer is matched by 4 dB, by either road; beyond 6 dB no level is fair', () => {
  for (const scope of ['whole mix', 'part'] as const) {
    const match = matchOf(noise, scaled(noise, -4), scope);
    assert.ok(Math.abs(match.match_dB - 4) < 0.01, `${scope}: ${match.match_dB}`);
    assert.ok(match.fair && match.apart_LU < 0.01);
    assert.equal(matchOf(noise, scaled(noise, 6.5), scope).fair, false);
  }
});

test('lows alone are matched as they are heard: 40 Hz needs far more than 100 Hz does', () => {
  const part = matchOf(tone(100, -20), tone(40, -20), 'part').match_dB;
  const whole = matchOf(tone(100, -20), tone(40, -20), 'whole mix').match_dB;
  // The 60-phon contour of ISO 226 rises by about 15 dB from 100 Hz to 40 Hz (from memory), where
  // BS.1770's weighting puts them some 4 dB apart.
  assert.ok(part > 8 && part < 20, `${part}`);
  assert.ok(whole < 6, `${whole}`);
});

test('silence cannot be matched and says so', () => {
  const silence = new Float64Array(noise.length);
  assert.equal(levelMatch(stereo(noise), stereo(silence), 'part').kind, 'unmeasurable');
  assert.equal(levelMatch(stereo(noise), stereo(silence), 'whole mix').kind, 'unmeasurable');
});
