import assert from 'node:assert/strict';
import { test } from 'node:test';
import { bandMark } from './band-mark.js';
import { dimensionMark } from './dimension-mark.js';
import type { Stroke } from './drawing.js';
import { hitMark } from './hit-mark.js';
import { ladderReach, ladderStrokes, penLadder } from './ladder-mark.js';
import { penNote, type NotePlace } from './note-mark.js';
import { fillStraight, PathPen, penData, shapesOf, tracePen } from './path-pen.js';
import { waterlineMark } from './waterline-mark.js';

const dataOf = ({ pen }: Stroke): string => penData(pen!);
const ladder = (deviation_dB: number): string => {
  const pen = new PathPen();
  penLadder(pen, 0, 100, deviation_dB);
  return penData(pen.path);
};
const note = (place: NotePlace): string => {
  const pen = new PathPen();
  penNote(pen, place);
  return penData(pen.path);
};

const hitAt = (clearance_dB: number) =>
  hitMark({ x: 10, clearance_dB, zero_y: 50, px_per_dB: 4, top_y: 2, bottom_y: 70 });

test('a hit 2 dB clear stands solid and as tall as it is clear; under that its head is hollow', () => {
  const clear = hitAt(2);
  assert.equal(clear.length, 1);
  assert.match(dataOf(clear[0]!), /^M10 50V42/);
  assert.equal(clear[0]!.fill, undefined);
  const covered = hitAt(1.9);
  assert.equal(covered.at(-1)!.fill, 'paper');
});

test('a hit under 0 dB is sunk and dashed', () => {
  const sunk = hitAt(-3);
  assert.deepEqual(sunk[0]!.dash, [2, 2]);
  assert.match(dataOf(sunk[0]!), /^M10 50V58\.5/, 'down to the rim of its head at 62');
});

test('a hit taller than its row ends at the top and is broken by paper', () => {
  const tall = hitAt(20);
  assert.match(dataOf(tall[0]!), /V2M/);
  assert.equal(tall.at(-1)!.ink, 'paper');
});

test('a ladder has a stroke for each whole dB, the fifth and later longer, nine at most', () => {
  assert.equal(ladderStrokes(-4.9), 4);
  assert.equal(ladderStrokes(0.9), 0);
  assert.equal(ladderStrokes(14), 9);
  assert.equal(ladder(0.5), '');
  const lengths = [...ladder(6.2).matchAll(/M1 ([\d.]+)H([\d.]+)/g)];
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
  assert.match(ladder(-1), /^M1 104/, 'under the note for a soft one');
});

test('a level note is one hairline with an end tick; a slide passes through its heights to its end', () => {
  assert.equal(note({ left: 5, right: 50, y: 20, slide: null }), 'M5 20H50M50 17.5V22.5');
  const slide = note({ left: 0, right: 30, y: 20, slide: { step: 10, y: [30, 25, 20] } });
  assert.equal(slide, 'M0 30L10 25L20 20H30M30 17.5V22.5');
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

test('a pen says the same to a canvas and to an SVG', () => {
  const pen = new PathPen();
  pen.level(1, 9, 4);
  pen.upright(3, 2, 8);
  pen.line(0, 0, 5, 6);
  pen.ring(10, 10, 3);
  pen.diamond(20, 20, 4);
  const said: string[] = [];
  const say =
    (verb: string) =>
    (...at: (number | boolean | undefined)[]) =>
      void said.push(`${verb} ${at.slice(0, 3).join(' ')}`);
  tracePen({ moveTo: say('move'), lineTo: say('line'), arc: say('arc'), closePath: say('close') }, pen.path);
  assert.deepEqual(said.slice(0, 8), [
    ...['move 1 4', 'line 9 4', 'move 3 2', 'line 3 8', 'move 0 0', 'line 5 6'],
    ...['move 13 10', 'arc 10 10 3'],
  ]);
  assert.equal(said.at(-1), 'close ');
  assert.equal(penData(pen.path), 'M1 4H9M3 2V8M0 0L5 6M7 10a3 3 0 1 0 6 0a3 3 0 1 0 -6 0ZM20 16l4 4l-4 4l-4 -4Z');
});

test('level and upright strokes are filled as rectangles of their width, cut by dashes; anything else is left to the stroke', () => {
  const filled: number[][] = [];
  const target = { fillRect: (...at: [number, number, number, number]) => void filled.push(at) };
  const pen = new PathPen();
  pen.level(2, 10, 5);
  pen.upright(4, 9, 1);
  assert.ok(fillStraight(target, pen.path, 2, undefined));
  assert.deepEqual(filled, [
    [2, 4, 8, 2],
    [3, 1, 2, 8],
  ]);
  filled.length = 0;
  const dashed = new PathPen();
  dashed.upright(4, 0, 7);
  assert.ok(fillStraight(target, dashed.path, 1, [2, 3]));
  assert.deepEqual(filled, [
    [3.5, 0, 1, 2],
    [3.5, 5, 1, 2],
  ]);
  pen.line(0, 0, 3, 4);
  assert.equal(fillStraight(target, pen.path, 2, undefined), false);
  assert.equal(filled.length, 2);
});

test('rings and diamonds alone can be stamped; with a line among them they cannot', () => {
  const pen = new PathPen();
  pen.ring(1, 2, 3);
  pen.diamond(4, 5, 6);
  assert.deepEqual(
    shapesOf(pen.path)!.map(({ x, y, radius }) => [x, y, radius]),
    [
      [1, 2, 3],
      [4, 5, 6],
    ],
  );
  pen.upright(1, 2, 3);
  assert.equal(shapesOf(pen.path), null);
});
