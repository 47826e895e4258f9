import type { Finding } from '../../core/findings/finding.js';
import { hearingStretch } from '../screens/findings/hearing-stretch.js';
import type { StripLoop } from '../strip/SongStrip.js';
import { nearestHit, noteAt } from '../strip/strip-reading.js';
import type { StripSong } from '../strip/strip-song.js';

/** A stretch that can be looped, named as the engineer knows it. */
export interface LoopChoice {
  readonly id: 'finding' | 'hit' | 'note' | 'bars';
  readonly label: string;
  readonly loop: StripLoop;
}

export interface LoopGround {
  readonly song: StripSong;
  /** The finding that is open, with its number in the list; null where there is none. */
  readonly finding: { readonly finding: Finding; readonly number: number } | null;
  /** The listening place: where the strip was chosen last. */
  readonly place_s: number;
  /** The stretch that was drawn on the strip last, and its name. */
  readonly drawn: { readonly loop: StripLoop; readonly label: string } | null;
}

const BEFORE_s = 0.02;
const SHORTEST_s = 0.25;
const LONGEST_HIT_s = 0.6;

/** What a loop can be set to: where the finding happens, the hit or note at the listening place, what was drawn. */
export function loopChoices({ song, finding, place_s, drawn }: LoopGround): LoopChoice[] {
  const choices: LoopChoice[] = [];
  if (drawn !== null) choices.push({ id: 'bars', label: drawn.label, loop: drawn.loop });
  const stretch = finding === null ? null : hearingStretch(finding.finding, song.grid, song.duration_s);
  if (finding !== null && stretch !== null) {
    choices.push({ id: 'finding', label: `Finding ${finding.number}`, loop: stretch });
  }
  const hit = nearestHit(song, place_s, Infinity);
  if (hit !== null) {
    const { time_s } = song.hits[hit]!;
    const next_s = song.hits[hit + 1]?.time_s ?? Infinity;
    const end_s = Math.max(time_s + SHORTEST_s, Math.min(time_s + LONGEST_HIT_s, next_s - BEFORE_s));
    choices.push({ id: 'hit', label: 'One hit', loop: inside(song, time_s - BEFORE_s, end_s) });
  }
  const note = noteAt(song, place_s + BEFORE_s);
  if (note !== null) {
    const end_s = Math.max(note.start_s + SHORTEST_s, note.end_s);
    choices.push({ id: 'note', label: 'One note', loop: inside(song, note.start_s - BEFORE_s, end_s) });
  }
  return choices;
}

function inside({ duration_s }: StripSong, from_s: number, to_s: number): StripLoop {
  return [Math.max(0, from_s), Math.min(duration_s, to_s)];
}

/** Which of the choices a loop is; null where it is none of them. */
export function chosenLoop(choices: readonly LoopChoice[], loop: StripLoop | null): LoopChoice | null {
  if (loop === null) return null;
  return choices.find((choice) => choice.loop[0] === loop[0] && choice.loop[1] === loop[1]) ?? null;
}
