import assert from 'node:assert/strict';
import { test } from 'node:test';
import { bandMark } from './band-mark.js';
import { dimensionMark } from './dimension-mark.js';
import { hitMark } from './hit-mark.js';
import { ladderMark, ladderReach, ladderStrokes } from './ladder-mark.js';
import { noteMark } from './note-mark.js';
import { waterlineMark } from './waterline-mark.js';

const hitAt = (clearance_dB: number) =>
  hitMark({ x: 10, clearance_dB, zero_y: 50, px_per_dB: 4, top_y: 2, bottom_y: 70 });

test('a hit 2 dB clear stands solid and as tall as it is clear; under that its head is hollow', () => {
  const clear = hitAt(2);
  assert.equal(clear.length, 1);
  assert.match(clear[0]!.path, /^M10 50V42/);
  assert.equal(clear[0]!.fill, undefined);
  const covered = hitAt(1.9);
  assert.equal(covered.at(-1)!.fill, 'paper');
});

test('a hit under 0 dB is sunk and dashed', () => {
  const sunk = hitAt(-3);
  assert.deepEqual(sunk[0]!.dash, [2, 2]);
  assert.match(sunk[0]!.path, /^M10 50V58\.5/, 'down to the rim of its head at 62');
});

test('a hit taller than its row ends at the top and is broken by paper', () => {
  const tall = hitAt(20);
  assert.match(tall[0]!.path, /V2M/);
  assert.equal(tall.at(-1)!.ink, 'paper');
});

test('a ladder has a stroke for each whole dB, the fifth and later longer, nine at most', () => {
  assert.equal(ladderStrokes(-4.9), 4);
  assert.equal(ladderStrokes(0.9), 0);
  assert.equal(ladderStrokes(14), 9);
  assert.deepEqual(ladderMark(0, 100, 0.5), []);
  const lengths = [...ladderMark(0, 100, 6.2)[0]!.path.matchAll(/M1 ([\d.]+)H([\d.]+)/g)];
  assert.deepEqual(
    lengths.map(([, y, right]) => [Number(y), Number(right)]),
    [
      [96, 10],
      [93, 10],
      [90, 10],
      [87, 10],
      [84, 16],
      [81, 16],
    ],
  );
  assert.equal(ladderReach(6.2), 19);
  assert.match(ladderMark(0, 100, -1)[0]!.path, /^M1 104/, 'under the note for a soft one');
});

test('a level note is one hairline with an end tick; a slide passes through its heights to its end', () => {
  assert.equal(noteMark({ left: 5, right: 50, y: 20, slide: null })[0]!.path, 'M5 20H50M50 17.5V22.5');
  const slide = noteMark({ left: 0, right: 30, y: 20, slide: { step: 10, y: [30, 25, 20] } });
  assert.equal(slide[0]!.path, 'M0 30L10 25L20 20L30 20M30 17.5V22.5');
});

test('the waterline carries hatching only below it and ticks only to the clear side', () => {
  const [hatch, ticks, line] = waterlineMark({ left: 0, right: 60, zero_y: 40, bottom_y: 52, px_per_dB: 5 });
  assert.deepEqual(
    [...hatch!.path.matchAll(/M0 ([\d.]+)/g)].map(([, y]) => Number(y)),
    [44, 48, 52],
  );
  assert.match(ticks!.path, /M12 30V27\.5/);
  assert.equal(line!.path, 'M0 40H60');
});

test('a band that does not count is a hairline; one that counts is as thick as told; past the scale it is broken', () => {
  const at = (margin_dB: number, thickness: number) =>
    bandMark({
      x: 20,
      thickness,
      margin_dB,
      p10_dB: margin_dB - 1,
      p90_dB: margin_dB + 1,
      contested: margin_dB < 0,
      y: (level) => 100 - 5 * level,
      most_dB: 12,
      least_dB: -10,
    });
  assert.equal(at(5, 0).length, 1);
  assert.ok(at(5, 8).some(({ path, fill }) => path === 'M16 75h8v25h-8Z' && fill === 'kick'));
  assert.ok(
    at(-4, 8).some(({ ink, path }) => ink === 'bass' && path.startsWith('M16 102H24')),
    'crossed',
  );
  assert.equal(at(20, 8).at(-1)!.ink, 'paper');
});

test('the figure of a dimension changes sides where it would leave the paper', () => {
  assert.equal(dimensionMark(10, 40, 5, '50 to 63 Hz', 300).labels[0]!.anchor, 'start');
  assert.equal(dimensionMark(200, 280, 5, '50 to 63 Hz', 300).labels[0]!.anchor, 'end');
  const over = dimensionMark(60, 130, 50, 'contested, 50 to 63 Hz, most at 56', 300).labels[0]!;
  assert.deepEqual([over.anchor, over.y], ['middle', 43], 'over it where neither side has the room');
});
