import assert from 'node:assert/strict';
import { test } from 'node:test';
import fc from 'fast-check';
import type { HitClearance } from '../../core/measure/clearance.js';
import type { LowsTrack } from '../../core/measure/lows-track.js';
import type { Knowledge } from '../../core/measure/song-sound.js';
import { penData } from '../marks/path-pen.js';
import { midi_to_frequency } from '../../core/units/notes.js';
import { figure, unmeasurable } from '../../core/units/reading.js';
import { barAt, beatGrid, clockText, positionText, stretchText } from './beat-grid.js';
import { barStep } from './bars-row.js';
import { clearanceRow, clearanceScale } from './clearance-row.js';
import { levelStrokes, lowsRow, without } from './lows-row.js';
import { mergeColumns } from './merge-columns.js';
import { pitch_y, staffOf } from './notes-row.js';
import { keptOnPaper, placeLabels } from './place-labels.js';
import { firstAtOrAfter, inSight } from './strip-frame.js';
import { stripAction } from './strip-keys.js';
import { stripLayout } from './strip-rows.js';
import { nextStep_s } from './strip-steps.js';
import { staffLines } from './string-staff.js';
import { heldInside, lengthOf, moved, showing, time_of, x_of, zoomed } from './strip-view.js';

const hitAt = (time_s: number, clearance_dB: number | null): HitClearance => ({
  time_s,
  level_dBFS: -12,
  clearance_dB,
  ghost: false,
  covered: clearance_dB !== null && clearance_dB < 2,
  unopposed: false,
  note: null,
  energyRatio_dB: null,
  overBassAndRest_dB: null,
  overRest_dB: null,
});

const known = (tempo_bpm: number | null, hits_s: readonly number[], starts_s: readonly number[] = []): Knowledge => ({
  hits: hits_s.map((time_s) => ({ time_s, level_dBFS: -12 })),
  notes: starts_s.map((start_s) => ({
    start_s,
    end_s: start_s + 0.3,
    frequency_Hz: 55,
    level_dBFS: -15,
    harmonics_dB: [],
    fundamentalMissing: false,
    curve_Hz: null,
    curveStep_s: 0.01,
  })),
  tempo_bpm: tempo_bpm === null ? unmeasurable('too few events') : figure(tempo_bpm),
  fundamental_Hz: unmeasurable('none'),
  decay_ms: unmeasurable('none'),
});

test('a view always lies inside the song and is never closer than it may be', () => {
  fc.assert(
    fc.property(
      fc.double({ min: -50, max: 400, noNaN: true }),
      fc.double({ min: 0.01, max: 500, noNaN: true }),
      fc.double({ min: 0.5, max: 360, noNaN: true }),
      (from_s, length, duration_s) => {
        const view = heldInside({ from_s, to_s: from_s + length }, duration_s);
        assert.ok(view.from_s >= 0 && view.to_s <= duration_s + 1e-9);
        assert.ok(lengthOf(view) >= Math.min(2, duration_s) - 1e-9);
      },
    ),
  );
});

test('zooming keeps the time under the pointer where it is', () => {
  const view = zoomed({ from_s: 40, to_s: 60 }, 0.5, 45, 300);
  assert.equal(lengthOf(view), 10);
  assert.equal(x_of(view, 1000, 45), 250);
  assert.equal(time_of(view, 1000, 250), 45);
});

test('moving stops at both ends; a place in sight is not moved to', () => {
  assert.deepEqual(moved({ from_s: 5, to_s: 15 }, -20, 100), { from_s: 0, to_s: 10 });
  assert.deepEqual(moved({ from_s: 80, to_s: 90 }, 50, 100), { from_s: 90, to_s: 100 });
  const view = { from_s: 20, to_s: 30 };
  assert.equal(showing(view, 25, 100), view);
  assert.deepEqual(showing(view, 60, 100), { from_s: 57.5, to_s: 67.5 });
});

test('bars are counted from where hits and notes meet, also where more hits fall off the beat', () => {
  // kick on 1, the and of 1 and the and of 3, bass on 1: at 120 bpm a bar lasts 2 s
  const bars = [0, 1, 2, 3, 4, 5];
  const hits = bars.flatMap((bar) => [0.4 + 2 * bar, 0.65 + 2 * bar, 1.65 + 2 * bar]);
  const grid = beatGrid(
    known(
      120,
      hits,
      bars.map((bar) => 0.4 + 2 * bar),
    ),
  )!;
  assert.ok(Math.abs(grid.bar1_s - 0.4) < 1e-6, `bar 1 at ${grid.bar1_s}`);
  assert.equal(barAt(grid, 0.4), 1);
  assert.equal(barAt(grid, 2.39), 1);
  assert.equal(barAt(grid, 2.4), 2);
  assert.equal(positionText(grid, 4.9), '3.2.00');
  assert.equal(stretchText(grid, 2.4, 6.4), 'bars 2 to 3');
  assert.equal(stretchText(null, 2.4, 66.4), '0:02.4 to 1:06.4');
  assert.equal(beatGrid(known(null, hits)), null);
});

test('a hit weighs twice a note: a bass that is busier off the beat does not move the bars', () => {
  const bars = [0, 1, 2, 3];
  const busy = bars.flatMap((bar) => [0.75 + 2 * bar, 1.25 + 2 * bar]);
  const grid = beatGrid(
    known(
      120,
      bars.map((bar) => 2 * bar),
      busy,
    ),
  )!;
  assert.ok(Math.abs(grid.bar1_s) < 1e-6, `bar 1 at ${grid.bar1_s}`);
});

test('the clock says minutes, seconds and tenths', () => {
  assert.equal(clockText(83.46), '1:23.5');
  assert.equal(clockText(59.96), '1:00.0');
});

test('numbers on the ruler stand 44 px apart or more, every 1, 2, 4 or 8 bars', () => {
  assert.equal(barStep(150), 1);
  assert.equal(barStep(20), 4);
  assert.ok(barStep(3) * 3 >= 44);
});

test('merging keeps the least and most of every column, and loses none', () => {
  fc.assert(
    fc.property(
      fc.array(fc.tuple(fc.double({ min: 0, max: 300, noNaN: true }), fc.double({ min: -24, max: 24, noNaN: true }))),
      (points) => {
        const columns = mergeColumns(points, 3);
        assert.equal(
          columns.reduce((sum, { count }) => sum + count, 0),
          points.length,
        );
        for (const [x, value] of points) {
          const column = columns.find((at) => Math.floor(at.x / 3) === Math.floor(x / 3))!;
          assert.ok(column.least <= value && column.most >= value);
        }
      },
    ),
  );
});

test('under 4 px a beat the hits become least-to-most strokes: no rings, solid over 2 dB, dashed under it', () => {
  const hits = [hitAt(10, 9), hitAt(10.001, -3)];
  const frame = { view: { from_s: 0, to_s: 100 }, width: 700, top: 0, height: 70, beat_s: 0.5 };
  const merged = clearanceRow(hits, frame, { most_dB: 10, least_dB: -4 });
  const solid = merged.strokes.find(({ ink, dash }) => ink === 'kick' && dash === undefined)!;
  const dashed = merged.strokes.find(({ dash }) => dash !== undefined)!;
  assert.equal(penData(solid.pen!), 'M70.5 5V40', 'from +9 down to +2 at 5 px a dB');
  assert.equal(penData(dashed.pen!), 'M70.5 40V66', 'from +2 down to -3 and the width of an end');
  const single = clearanceRow(hits, { ...frame, width: 800 }, { most_dB: 10, least_dB: -4 });
  assert.ok(single.strokes.some(({ fill }) => fill === 'paper'));
});

test('hits that would stand closer than 3 px are merged too, however wide a beat is', () => {
  const scale = { most_dB: 10, least_dB: -4 };
  const frame = { view: { from_s: 0, to_s: 10 }, width: 100, top: 0, height: 70, beat_s: 0.5 };
  const rings = (count: number): boolean =>
    clearanceRow(
      Array.from({ length: count }, (_, i) => hitAt((10 * i) / count, 1)),
      frame,
      scale,
    ).strokes.some(({ fill }) => fill === 'paper');
  assert.equal(rings(33), true);
  assert.equal(rings(34), false);
});

test('the scale of the row holds three hits of four and never less than 8 up and 4 down', () => {
  assert.deepEqual(clearanceScale([hitAt(0, 1), hitAt(1, 2)]), { most_dB: 8, least_dB: -4 });
  const deep = clearanceScale([-9.5, 3, 4, 20, 23].map((level, i) => hitAt(i, level)));
  assert.deepEqual(deep, { most_dB: 16, least_dB: -10 });
  assert.deepEqual(clearanceScale([hitAt(0, null)]), { most_dB: 8, least_dB: -5 });
});

test('the staff follows the lowest note: four strings, a tuned-down one, five strings, octaves of a synth', () => {
  const names = (midi: number) => staffLines([midi_to_frequency(midi), 110]).map(({ name }) => name);
  assert.deepEqual(names(28), ['E1', 'A1', 'D2', 'G2']);
  assert.deepEqual(names(26), ['D1', 'A1', 'D2', 'G2']);
  assert.deepEqual(names(23), ['B0', 'E1', 'A1', 'D2', 'G2']);
  assert.deepEqual(names(21), ['A0', 'A1', 'A2', 'A3']);
});

test('equal intervals are equal steps on the staff', () => {
  const staff = staffOf(known(null, [], [0]).notes, []);
  const frame = { view: { from_s: 0, to_s: 10 }, width: 100, top: 0, height: 90, beat_s: 0.5 };
  const steps = staff.lines.map(({ frequency_Hz }) => pitch_y(frame, staff, frequency_Hz));
  assert.ok(Math.abs(steps[0]! - steps[1]! - (steps[1]! - steps[2]!)) < 1e-9);
  assert.ok(steps[0]! > steps[1]!, 'higher notes stand higher');
});

test('of labels that run into each other the first stays; one that leaves the paper changes sides', () => {
  const label = (x: number, text: string) => ({ x, y: 10, text, ink: 'ink' as const });
  assert.deepEqual(
    placeLabels([label(0, '+10.0'), label(20, '−3'), label(60, '−4')]).map(({ text }) => text),
    ['+10.0', '−4'],
  );
  assert.deepEqual(keptOnPaper(label(107, '+11.1'), 100, 120), { ...label(93, '+11.1'), anchor: 'end' });
});

test('bass levels: three strokes within 6 dB of the loudest, none from 24 dB under it', () => {
  assert.deepEqual(
    [-10, -16, -16.1, -22.1, -34.1, -120].map((level) => levelStrokes(level, -10)),
    [3, 3, 2, 1, 0, 0],
  );
  assert.deepEqual(
    without(0, 100, [
      [-5, 10],
      [40, 60],
      [99.5, 120],
    ]),
    [
      [10, 40],
      [60, 99.5],
    ],
  );
});

test('what the lows do: levels for the bass, uprights where the kick is clear and the levels give way, a crossed frame where not', () => {
  const step_s = 0.02;
  const lows: LowsTrack = {
    bands_Hz: [50, 63, 80],
    step_s,
    bass_dBFS: [-10, -20, -60].map((level) => new Float32Array(100).fill(level)),
    loudestBass_dBFS: -10,
    hitKick_dBFS: [[-8, -8, -40]],
    hitBass_dBFS: [[-10, -5, -60]],
  };
  const frame = { view: { from_s: 0, to_s: 2 }, width: 200, top: 0, height: 60, beat_s: 0.5 };
  const drawn = lowsRow({ ...lows, bands_Hz: [40, ...lows.bands_Hz, 100].slice(1, 4) }, [hitAt(0.5, 3)], frame, 5);
  const [, bass, clear, crossed, crossing, frames] = drawn.strokes.map(({ pen }) => penData(pen!));
  assert.match(bass!, /^M0 58H50M0 55.5H50M0 53H50M65 58H200/, 'three strokes that give way from 0.5 to 0.65 s');
  assert.match(bass!, /M0 38H200M0 35.5H200$/, 'two strokes 10 dB down, through the hit; none 50 dB down');
  assert.match(clear!, /^M51 42V59/);
  assert.equal(frames, 'M50 22H65M50 39H65M50 22V39M65 22V39');
  assert.ok(crossed!.length > 0 && crossing!.length > 0);
});

test('what may be in sight is found by halving, long notes that began before included', () => {
  const times = [0, 1, 2, 3, 4, 5].map((time_s) => ({ time_s }));
  assert.equal(
    firstAtOrAfter(times, ({ time_s }) => time_s, 2),
    2,
  );
  assert.equal(
    firstAtOrAfter(times, ({ time_s }) => time_s, 9),
    6,
  );
  assert.deepEqual(
    inSight(times, ({ time_s }) => time_s, { from_s: 3, to_s: 4 }, 1).map(({ time_s }) => time_s),
    [2, 3, 4],
  );
});

test('brackets step to the hit before and after, never to the one that is stood on', () => {
  const times = [1, 2, 3];
  assert.equal(nextStep_s(times, 2, 1), 3);
  assert.equal(nextStep_s(times, 2, -1), 1);
  assert.equal(nextStep_s(times, 3, 1), null);
  assert.equal(nextStep_s(times, 0.5, -1), null);
});

test('keys that are not the strip’s keep their work', () => {
  assert.equal(stripAction('Tab', false), null);
  assert.equal(stripAction('s', false), null);
  assert.deepEqual(stripAction('ArrowRight', true), { kind: 'move', by: 'bar', direction: 1 });
});

test('a low window gets close rows with three bands; a phone has no margins', () => {
  assert.equal(stripLayout(['bars', 'clearance'], 1440, 900).bandsShown, 5);
  const low = stripLayout(['bars', 'clearance', 'notes', 'lows'], 1280, 720);
  assert.equal(low.bandsShown, 3);
  assert.deepEqual(
    low.rows.filter(({ id }) => id === 'clearance' || id === 'notes').map(({ height }) => height),
    [54, 70],
  );
  assert.equal(stripLayout(['clearance'], 390, 844).gutter, 0);
});
