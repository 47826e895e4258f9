import assert from 'node:assert/strict';
import { test } from 'node:test';
import { knowledgeOf } from '../../tests/contracts/measurements-of.js';
import { measureSong } from '../measure/measurements.js';
import type { SongSound } from '../measure/song-sound.js';
import { monoSignal, type StereoSignal } from '../signal/stereo-signal.js';
import { valueOf } from '../units/reading.js';
import { listeningMatch, proveTreatment } from './prove-treatment.js';

const RATE_HZ = 48_000;
const FRAMES = 3 * RATE_HZ;

function tone(frequency_Hz: number, amplitude: number): StereoSignal {
  return monoSignal(
    Float64Array.from({ length: FRAMES }, (_, n) => amplitude * Math.sin((2 * Math.PI * frequency_Hz * n) / RATE_HZ)),
    RATE_HZ,
  );
}

function song(kick: StereoSignal | null, bass: StereoSignal | null, rest: StereoSignal | null): SongSound {
  return { sampleRate_Hz: RATE_HZ, frameCount: FRAMES, kick, bass, rest, tracks: { kick: [], bass: [], rest: [] } };
}

const source = song(null, tone(80, 0.2), tone(1000, 0.1));

test('a mix that is 3 dB lower is matched by +3 dB, and nothing is left apart', () => {
  const gain = 10 ** (-3 / 20);
  const { match_dB, leftApart_LU } = listeningMatch(source, song(null, tone(80, 0.2 * gain), tone(1000, 0.1 * gain)));
  assert.ok(Math.abs(valueOf(match_dB)! - 3) < 0.01, `${valueOf(match_dB)}`);
  assert.ok(Math.abs(valueOf(leftApart_LU)!) < 0.01);
});

test('the lows are told by their energy: a bass at twice the power reads +3.01 dB, and what it costs is harm', () => {
  const measured = measureSong(source, knowledgeOf({}));
  const louder = song(null, tone(80, 0.2 * Math.SQRT2), tone(1000, 0.1));
  const { lowsChange_dB, rows, harm } = proveTreatment(source, measured, louder);
  assert.ok(Math.abs(valueOf(lowsChange_dB)! - 3.01) < 0.01);
  assert.equal(rows.find(({ statistic }) => statistic.address === 'headroom.left_dB')!.verdict, 'worse-within');
  assert.deepEqual(
    harm.map(({ statistic }) => statistic.address),
    ['headroom.cost_dB'],
  );
});

test('a silent mix and one without stems: said, not guessed', () => {
  for (const other of [song(null, tone(80, 0), null), song(null, null, null)]) {
    const { match_dB, leftApart_LU } = listeningMatch(source, other);
    assert.equal(match_dB.kind, 'unmeasurable');
    assert.equal(leftApart_LU.kind, 'unmeasurable');
  }
});
