import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { StripSong } from '../strip/strip-song.js';
import { chosenLoop, loopChoices, type LoopChoice } from './loop-choices.js';

const song = {
  duration_s: 20,
  grid: null,
  hits: [{ time_s: 1 }, { time_s: 1.4 }, { time_s: 8 }],
  staff: {
    notes: [
      { start_s: 0.5, end_s: 0.6, frequency_Hz: 55 },
      { start_s: 7.9, end_s: 9.9, frequency_Hz: 55 },
    ],
  },
} as unknown as StripSong;
const ground = { song, finding: null, place_s: 8.1, drawn: null };

function isAbout({ id, loop }: LoopChoice, wanted: string, [from_s, to_s]: readonly [number, number]): void {
  assert.equal(id, wanted);
  assert.ok(Math.abs(loop[0] - from_s) < 1e-9 && Math.abs(loop[1] - to_s) < 1e-9, `${id}: ${loop.join(' to ')}`);
}

test('the hit and the note at the listening place, a little before their start, long enough to be looped', () => {
  const [hit, note] = loopChoices(ground);
  isAbout(hit!, 'hit', [7.98, 8.6]);
  isAbout(note!, 'note', [7.88, 9.9]);
  const early = loopChoices({ ...ground, place_s: 0.5 });
  isAbout(early[0]!, 'hit', [0.98, 1.38]); // it ends before the next hit
  const [from, to] = early.find(({ id }) => id === 'note')!.loop;
  assert.ok(to - from >= 0.25, 'the engine loops nothing shorter than 0.2 s');
});

test('what was drawn on the strip stays a choice, and the loop that is on is found among them', () => {
  const drawn = { loop: [2, 4], label: '2.1 to 3.1' } as const;
  const choices = loopChoices({ ...ground, drawn });
  assert.equal(choices[0]!.label, '2.1 to 3.1');
  assert.equal(chosenLoop(choices, [2, 4])!.id, 'bars');
  assert.equal(chosenLoop(choices, [3, 4]), null);
  assert.equal(chosenLoop(choices, null), null);
});
