import { SMALL_SPEAKERS, type SpeakerId } from '../../core/measure/small-speakers.js';
import type { Measurements } from '../../core/measure/measurements.js';
import { isMeasured } from '../../core/units/reading.js';
import type { Listening } from './listening.js';

/** One note through a loudspeaker: its harmonics, and which are heard. */
export interface NoteThrough {
  readonly name: string;
  readonly speaker: SpeakerId;
  readonly treated: boolean;
  readonly frequency_Hz: number;
  /** Harmonics 1, 2, ... of the note as it came, relative to the strongest, dB. */
  readonly harmonics_dB: readonly number[];
  readonly heard: readonly boolean[];
}

/**
 * The note that sounds at a place, else the one before it, through the chosen loudspeaker (through a laptop where none is
 * chosen), of the side that is heard.
 * @param after the treated song as it was measured; null where nothing is solved.
 */
export function noteThrough(
  measured: Measurements,
  after: Pick<Measurements, 'carry'> | null,
  { speaker, side }: Pick<Listening, 'speaker' | 'side'>,
  place_s: number,
): NoteThrough | null {
  const { carry, known } = measured;
  if (!isMeasured(carry) || known.notes.length === 0) return null;
  const later = known.notes.findIndex(({ start_s }) => start_s > place_s + 0.02);
  const index = later < 0 ? known.notes.length - 1 : Math.max(0, later - 1);
  const note = known.notes[index]!;
  const treated = side === 'treated' && after !== null && isMeasured(after.carry);
  const through: SpeakerId = speaker === 'full range' ? 'laptop' : speaker;
  const harmonics = (treated && after !== null && isMeasured(after.carry) ? after.carry : carry).notes[index]
    ?.harmonics;
  return {
    name: carry.notes[index]?.name ?? '',
    ...{ speaker: through, treated },
    frequency_Hz: note.frequency_Hz,
    harmonics_dB: note.harmonics_dB,
    heard: harmonics?.heard[through] ?? [],
  };
}

/** `A1, treated, on the laptop: harmonics 3, 4 and 5 are heard, 3 in a row; dashed: not heard.` */
export function sayNoteThrough(note: NoteThrough | null): string {
  if (note === null) return 'No bass note is known, so nothing can be said of its harmonics.';
  const name = SMALL_SPEAKERS.find(({ id }) => id === note.speaker)!.name;
  const begin = `${note.name}, ${note.treated ? 'treated' : 'source'}, on the ${name}:`;
  if (note.heard.length === 0) return `${begin} too short to be judged.`;
  const heard = note.heard.flatMap((on, h) => (on ? [h + 1] : []));
  if (heard.length === 0) return `${begin} no harmonic is heard.`;
  const list = heard.length === 1 ? `${heard[0]} is` : `${spans(heard)} are`;
  const row = longestRow(heard);
  return `${begin} harmonic${heard.length === 1 ? '' : 's'} ${list} heard${row > 1 ? `, ${row} in a row` : ''}; dashed: not heard.`;
}

/** `2 to 5, 7 and 9`. */
function spans(numbers: readonly number[]): string {
  const parts: string[] = [];
  for (let i = 0; i < numbers.length;) {
    let end = i;
    while (numbers[end + 1] === numbers[end]! + 1) end++;
    if (end - i >= 2) parts.push(`${numbers[i]} to ${numbers[end]}`);
    else for (let k = i; k <= end; k++) parts.push(String(numbers[k]));
    i = end + 1;
  }
  return parts.length === 1 ? parts[0]! : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`;
}

function longestRow(numbers: readonly number[]): number {
  let row = 0;
  let longest = 0;
  numbers.forEach((one, i) => {
    row = one === (numbers[i - 1] ?? NaN) + 1 ? row + 1 : 1;
    longest = Math.max(longest, row);
  });
  return longest;
}
