import assert from 'node:assert/strict';
import { test } from 'node:test';
import { sixtyPhonWeighting_dB } from '../../core/measure/equal-loudness.js';
import { integratedLoudness } from '../../core/measure/loudness.js';
import { monoSignal } from '../../core/signal/stereo-signal.js';
import { valueOf } from '../../core/units/reading.js';
import { describeStereoUnit } from '../../tests/contracts/stereo-unit-contract.js';
import {
  createStage,
  level_dB,
  note,
  peakAbove_dBFS,
  runStage,
  sine,
  stageInstance,
} from '../../tests/contracts/run-stage.js';
import { readPartials } from './harmonics-plan.js';
import { harmonics } from './harmonics.js';

const rate = 48_000;
const latency = harmonics.latencySamples(rate);

describeStereoUnit('harmonics', () => createStage(harmonics, { notes: [note(0.02, 0.15, 55)] }), {
  mixesChannels: true,
});

/** The stage's output less its input, the latency taken out. */
function added(input: Float64Array, setUp: Parameters<typeof createStage>[1]): Float64Array {
  const longer = new Float64Array(input.length + latency);
  longer.set(input);
  const out = runStage(createStage(harmonics, setUp), longer).left.subarray(latency, latency + input.length);
  return out.map((value, n) => value - input[n]!);
}

/** Complex amplitude of one frequency over frames from..to under a Hann window. */
function lineAt(signal: Float64Array, frequency_Hz: number, from: number, to: number) {
  let re = 0;
  let im = 0;
  let weight = 0;
  for (let n = from; n < to; n++) {
    const w = 0.5 - 0.5 * Math.cos((2 * Math.PI * (n - from)) / (to - from));
    re += 2 * w * signal[n]! * Math.cos((2 * Math.PI * frequency_Hz * n) / rate);
    im -= 2 * w * signal[n]! * Math.sin((2 * Math.PI * frequency_Hz * n) / rate);
    weight += w;
  }
  return { size: Math.hypot(re, im) / weight, phase: Math.atan2(im, re) / (2 * Math.PI) };
}

const cosine = (frequency_Hz: number, seconds: number, amplitude: number, phase_cycles = 0) =>
  sine(frequency_Hz, seconds, amplitude, rate, 0.25 + phase_cycles);

// cos t and orders 2..5 at L, slope s, signs - - + +: peak rise in closed form, by maximising the sum over one period.
test('peak rise with the signs - - + +', () => {
  for (const [level_dB, slope_dB, expected_dB] of [
    [-6, 3, 1.99],
    [-12, 3, 0.31],
    [-18, 3, 0.16],
    [-12, 6, 0.78],
  ] as const) {
    const input = cosine(55, 1.2, 0.5);
    const extra = added(input, { notes: [note(0.05, 1.15, 55)], settings: { level_dB, slope_dB } });
    let peak = 0;
    for (let n = 0.5 * rate; n < 0.9 * rate; n++) peak = Math.max(peak, Math.abs(input[n]! + extra[n]!));
    const rise_dB = 20 * Math.log10(peak / 0.5);
    assert.ok(Math.abs(rise_dB - expected_dB) <= 0.02, `${level_dB}, ${slope_dB}: ${rise_dB}`);
  }
});

test('orders 2 to 5 stand at their levels and signs; nothing else is made of a clean note', () => {
  const input = cosine(55, 1.2, 0.5);
  const extra = added(input, { notes: [note(0.05, 1.15, 55)], settings: { level_dB: -12, slope_dB: 3 } });
  let wanted = 0;
  [2, 3, 4, 5].forEach((order, i) => {
    const line = lineAt(extra, 55 * order, 0.3 * rate, 1.0 * rate);
    const expected = 0.5 * 10 ** ((-12 - 3 * i) / 20);
    assert.ok(Math.abs(20 * Math.log10(line.size / expected)) < 0.02, `order ${order}: ${line.size}, ${expected}`);
    const sign = Math.cos(2 * Math.PI * line.phase);
    assert.ok(sign * (i < 2 ? -1 : 1) > 0.9999, `order ${order}: sign ${sign}`);
    wanted += 0.5 * expected ** 2;
  });
  let all = 0;
  for (let n = 0.3 * rate; n < 1.0 * rate; n++) all += extra[n]! ** 2 / (0.7 * rate);
  assert.ok(Math.abs(all / wanted - 1) < 0.002, `power ${all}, of which wanted ${wanted}`);
});

test('the harmonics are locked to the note played: a list 50 cents off moves them by less than 0.2 cent', () => {
  const played_Hz = 55;
  for (const cents of [-50, 0, 50]) {
    const list = [note(0.05, 2.9, played_Hz * 2 ** (cents / 1200))];
    const extra = added(cosine(played_Hz, 3, 0.5), { notes: list });
    for (const order of [2, 3]) {
      const early = lineAt(extra, order * played_Hz, 0.4 * rate, 1.4 * rate).phase;
      const late = lineAt(extra, order * played_Hz, 1.6 * rate, 2.6 * rate).phase;
      const turn = late - early - Math.round(late - early); // cycles in 1.2 s
      const off_cents = 1200 * Math.log2(1 + turn / 1.2 / (order * played_Hz));
      assert.ok(Math.abs(off_cents) < 0.2, `list ${cents} cents, order ${order}: ${off_cents} cents`);
    }
  }
});

test('a slide with its curve is followed', () => {
  const curve_Hz = Array.from({ length: 101 }, (_, i) => 50 + 0.2 * i); // 50 to 70 Hz in 1 s
  const phase = (t: number) => 50 * t + 10 * t * t;
  const input = Float64Array.from({ length: rate }, (_, n) => 0.5 * Math.cos(2 * Math.PI * phase(n / rate)));
  const slide = { ...note(0, 1, 60), curve_Hz, curveStep_s: 0.01 };
  const extra = added(input, { notes: [slide], settings: { orders: '2-3', level_dB: -12, slope_dB: 3 } });
  let error = 0;
  let power = 0;
  for (let n = 0.2 * rate; n < 0.8 * rate; n++) {
    const angle = 2 * Math.PI * phase(n / rate);
    const wish = -0.5 * (10 ** (-12 / 20) * Math.cos(2 * angle) + 10 ** (-15 / 20) * Math.cos(3 * angle));
    error += (extra[n]! - wish) ** 2;
    power += wish ** 2;
  }
  assert.ok(10 * Math.log10(error / power) < -50, `${10 * Math.log10(error / power)} dB`);
});

test('it fills up and does not add: a partial that is there is brought to the target in its own phase', () => {
  const rich = cosine(55, 1.2, 0.5);
  cosine(110, 1.2, 0.5 * 10 ** (-16 / 20), 0.2).forEach((value, n) => (rich[n]! += value));
  cosine(165, 1.2, 0.5 * 10 ** (-5 / 20), 0.1).forEach((value, n) => (rich[n]! += value));
  const notes = [note(0.05, 1.15, 55)];
  const figures = readPartials({ left: rich, right: rich, sampleRate_Hz: rate }, notes);
  assert.ok(Math.abs(figures.existingPartials_dB[0]! + 16) < 0.05, `${figures.existingPartials_dB[0]!}`);
  assert.ok(Math.abs(figures.existingPartials_dB[1]! + 5) < 0.05, `${figures.existingPartials_dB[1]!}`);
  assert.ok(Math.abs(figures.existingPhases_cycles[0]! - 0.2) < 0.003, `${figures.existingPhases_cycles[0]!}`);
  assert.equal(figures.leaveOut[0], 0);
  const extra = added(rich, { notes, figures: { ...figures }, settings: { level_dB: -10, slope_dB: 3 } });
  const out = rich.map((value, n) => value + extra[n]!);
  const level = (order: number) =>
    20 * Math.log10(lineAt(out, 55 * order, 0.3 * rate, rate).size / lineAt(out, 55, 0.3 * rate, rate).size);
  for (const [order, expected_dB] of [
    [2, -10],
    [3, -5],
    [4, -16],
    [5, -19],
  ] as const) {
    assert.ok(Math.abs(level(order) - expected_dB) < 0.1, `order ${order}: ${level(order)}`);
  }
});

test('a note without its fundamental, and orders under 80 Hz, are left out', () => {
  const upper = cosine(110, 1.2, 0.5);
  cosine(165, 1.2, 0.3).forEach((value, n) => (upper[n]! += value));
  const notes = [note(0.05, 1.15, 55)];
  assert.equal(readPartials({ left: upper, right: upper, sampleRate_Hz: rate }, notes).leaveOut[0], 1);
  const missing = [{ ...notes[0]!, fundamentalMissing: true }];
  assert.ok(added(cosine(55, 1.2, 0.5), { notes: missing }).every((value) => value === 0));
  assert.ok(added(cosine(55, 1.2, 0.5), { notes, figures: { leaveOut: [1] } }).every((value) => value === 0));
  const low = added(cosine(36, 1.2, 0.5), { notes: [note(0.05, 1.15, 36)] });
  assert.ok(lineAt(low, 72, 0.3 * rate, rate).size < 1e-4, 'order 2 of 36 Hz is 72 Hz');
  assert.ok(lineAt(low, 108, 0.3 * rate, rate).size > 0.03);
});

// Gains for equal loudness, measured for this project with an independent prototype: BS.1770-5 weighting, no weighting, and
// the 60-phon contour of ISO 226:2023.
test('what is added weighs differently on each scale: K -0.81, unweighted -0.46, 60 phon -6.56 dB', () => {
  const plain = sine(55, 3, 0.3);
  const extra = added(plain, { notes: [note(-0.2, 3.2, 55)], settings: { level_dB: -12, slope_dB: 3, orders: '2-4' } });
  const from = 0.2 * rate;
  const cut = (signal: Float64Array) => signal.slice(from, 2.8 * rate);
  const treated = plain.map((value, n) => value + extra[n]!);
  const loudness = (signal: Float64Array) => valueOf(integratedLoudness(monoSignal(cut(signal), rate)))!;
  const k_dB = loudness(plain) - loudness(treated);
  assert.ok(Math.abs(k_dB + 0.81) <= 0.02, `K ${k_dB}`);
  const flat_dB = level_dB(plain, from, 2.8 * rate) - level_dB(treated, from, 2.8 * rate);
  assert.ok(Math.abs(flat_dB + 0.46) <= 0.02, `unweighted ${flat_dB}`);
  const weighted = [1, 2, 3, 4].map((k) => {
    const line = lineAt(treated, 55 * k, from, 2.8 * rate).size;
    return line * line * 10 ** (sixtyPhonWeighting_dB(55 * k) / 10);
  });
  const phon_dB = 10 * Math.log10(weighted[0]! / weighted.reduce((a, b) => a + b, 0));
  assert.ok(Math.abs(phon_dB + 6.56) <= 0.05, `60 phon ${phon_dB}`);
});

test('note changes do not click: what is added stays 45 dB under itself above 2.5 kHz', () => {
  const input = new Float64Array(2 * rate);
  const pitches = [41.2034, 55, 48.9994, 61.7354];
  const notes = pitches.map((frequency_Hz, i) => note(0.1 + 0.4 * i, 0.1 + 0.4 * (i + 1), frequency_Hz));
  notes.forEach((each) => {
    const tone = sine(each.frequency_Hz, 0.4, 0.4);
    input.set(
      tone.map((value, n) => value * Math.exp(-n / 20_000)),
      Math.round(each.start_s * rate),
    );
  });
  const extra = added(input, { notes, settings: { level_dB: -12 } });
  let power = 0;
  for (const value of extra) power += value * value;
  const rms_dB = 10 * Math.log10(power / (1.6 * rate));
  const click_dB = peakAbove_dBFS(extra, 2500) - rms_dB;
  assert.ok(click_dB < -45, `${click_dB} dB re rms`);
});

test('off is the input to the bit; changes fade; a seek with pre-roll gives the same sound', () => {
  const input = cosine(55, 1, 0.5);
  const notes = [note(0.1, 0.9, 55)];
  const off = runStage(createStage(harmonics, { notes, on: false }), input).left;
  assert.deepEqual(off.subarray(latency, input.length), input.subarray(0, input.length - latency));
  const unit = createStage(harmonics, { notes, on: false });
  const out = runStage(unit, input, input, (frames) => {
    if (frames === 128 * 100) unit.configure(stageInstance(harmonics, { settings: { level_dB: -12 } }), false);
    if (frames === 128 * 200) unit.configure(stageInstance(harmonics, { on: false }), false);
  }).left;
  let bend = 0;
  for (let n = latency + 2; n < input.length; n++)
    bend = Math.max(bend, Math.abs(out[n]! - 2 * out[n - 1]! + out[n - 2]!));
  assert.ok(bend < 2e-4, `${bend}`);
  assert.deepEqual(out.subarray(128 * 210, input.length), input.subarray(128 * 210 - latency, input.length - latency));

  const whole = runStage(createStage(harmonics, { notes }), input).left;
  const seeked = createStage(harmonics, { notes });
  const from = 128 * 60;
  seeked.seek(from);
  const part = runStage(seeked, input.subarray(from)).left;
  const settled = 2 * latency + 256;
  assert.deepEqual(part.subarray(settled, input.length - from), whole.subarray(from + settled, input.length));
});
