import assert from 'node:assert/strict';
import { test } from 'node:test';
import { monoSignal } from '../signal/stereo-signal.js';
import { valueOf } from '../units/reading.js';
import { stemLowsOf } from './stem-lows.js';

const RATE = 48000;
const sine = (f: number, amplitude: number, offset = 0) =>
  Float64Array.from({ length: 10 * RATE }, (_, n) => offset + amplitude * Math.sin((2 * Math.PI * f * n) / RATE));
const close = (value: number | null, expected: number, tolerance: number) =>
  assert.ok(value !== null && Math.abs(value - expected) < tolerance, `${value}, expected ${expected}`);

test('a mean and infrasonic and low tones read their own level, channels summed', () => {
  const left = sine(10, 0.01, 0.003);
  const low = sine(60, 0.1);
  const loudHigh = sine(990, 0.5); // would fold on the lows if it were not filtered out
  left.forEach((_, n) => (left[n]! += low[n]! + loudHigh[n]!));
  const lows = stemLowsOf('bass', { file: 'Bass.wav', signal: { left, right: sine(60, 0.1), sampleRate_Hz: RATE } });
  close(valueOf(lows.dc_dBFS), 20 * Math.log10(0.003), 0.01);
  close(lows.meanLeft_FS, 0.003, 1e-6);
  close(lows.meanRight_FS, 0, 1e-6);
  close(valueOf(lows.infrasonic_dBFS), 10 * Math.log10(0.01 ** 2 / 2), 0.1);
  close(valueOf(lows.lows_dBFS), 10 * Math.log10(0.1 ** 2), 0.05);
  const strongest = lows.bands_dBFS.indexOf(Math.max(...lows.bands_dBFS.map((level) => level ?? -999)));
  close(lows.bands_Hz[strongest]!, 60, 2);
});

test('a mono stem counts in both channels, at any rate', () => {
  const samples = Float64Array.from({ length: 5 * 44100 }, (_, n) => 0.1 * Math.sin((2 * Math.PI * 80 * n) / 44100));
  const lows = stemLowsOf('rest', { file: 'Room.wav', signal: monoSignal(samples, 44100) });
  close(valueOf(lows.lows_dBFS), -20, 0.05);
  assert.ok(valueOf(lows.infrasonic_dBFS)! < -55);
});

test('silence has no levels', () => {
  const lows = stemLowsOf('kick', { file: 'Kick.wav', signal: monoSignal(new Float64Array(RATE), RATE) });
  assert.equal(lows.dc_dBFS.kind, 'unmeasurable');
  assert.equal(lows.infrasonic_dBFS.kind, 'unmeasurable');
  assert.ok(lows.bands_dBFS.every((level) => level === null));
});
