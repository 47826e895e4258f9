import type { StageSolved } from '../../../core/solve/path-walk.js';
import type { Ink, Label, Stroke } from '../../marks/drawing.js';
import { pathData } from '../../marks/path-data.js';
import { stageWords, type StageWords } from './stage-words.js';
import { effectOf } from './strand-effects.js';
import type { StrandFrame, StrandPicture } from './strand-picture.js';

/** A frame's words where they stand, and the whole of it as read aloud. */
export interface PlacedWords {
  readonly labels: readonly Label[];
  readonly strokes: readonly Stroke[];
  readonly says: string;
  readonly box: { readonly x: number; readonly y: number; readonly width: number; readonly height: number };
}

const LINE = 13.5;
const AVERAGE_LETTER = 5.3;
const UPRIGHT_TEXT = 156;

interface Line {
  readonly text: string;
  readonly ink: Ink;
  readonly strong?: boolean;
}

const OPENED_BY = {
  'known hits': 'opened by the known hits',
  'kick as key': 'opened by the kick as it sounds',
} as const;

/** Name, what it does, wanted in the wanted ink, reached: beside the frame, on the side where there is room. */
export function frameWordsAt(
  frame: StrandFrame,
  solved: StageSolved | null,
  picture: StrandPicture,
  { upright, width }: { readonly upright: boolean; readonly width: number },
): PlacedWords {
  const words = stageWords(frame.stage, solved);
  const { track } = frame.stage.address;
  const place = track === null ? (frame.stage.address.lane ?? frame.stage.address.role) : track;
  const lines = linesOf(words, frame.stage.instance.on);
  // as written first, word for word, so that who speaks to the page can say what is seen
  const unwritten = words.doing.split(', ').filter((part) => lines.every(({ text }) => text !== part));
  const { opens } = effectOf(frame.stage);
  const says = [
    ...lines.map(({ text }) => text),
    ...unwritten,
    ...(opens === undefined ? [] : [OPENED_BY[opens]]),
    place,
  ];
  return upright ? beside(frame, lines, says.join('; '), width) : overOrUnder(frame, lines, says.join('; '), picture);
}

function linesOf({ name, doing, wanted, reached }: StageWords, on: boolean): Line[] {
  if (!on) {
    const why: Line[] = doing === 'off' ? [] : [{ text: doing, ink: 'ink-3' }];
    return [{ text: name, ink: 'ink-3' }, ...why];
  }
  return [
    { text: name, ink: 'ink', strong: true },
    { text: doing.split(', ')[0]!, ink: 'ink-2' },
    ...(wanted === null ? [] : [{ text: wanted, ink: 'wanted' as const }]),
    ...(reached === null ? [] : [{ text: reached, ink: 'ink' as const }]),
  ];
}

function overOrUnder(
  { stage, along, across, half, side }: StrandFrame,
  lines: readonly Line[],
  says: string,
  picture: StrandPicture,
): PlacedWords {
  // the kick's own stages stand far apart, and at the foot: two lines do
  const rows =
    stage.address.role === 'kick' && stage.address.track === null ? inPairs(lines) : lines.map((line) => [line]);
  const top = side === 'above' ? across - half - 6 - (rows.length - 1) * LINE : across + half + 15;
  const widest = Math.max(...rows.map(lengthOf));
  const atSplit = picture.slots.bass.splits && picture.slots.bass.before.at(-1)?.key === stage.key; // a bend follows
  const x = atSplit ? along + 5 : Math.min(along - 5, picture.slots.end - widest);
  return {
    labels: rows.flatMap((row, r) =>
      row.map((line, i): Label => {
        const left = x + lengthOf(row.slice(0, i));
        return { ...line, x: left, y: top + r * LINE, anchor: atSplit ? 'end' : 'start', halo: true };
      }),
    ),
    strokes: [],
    says,
    box: { x: along - 8, y: across - half - 4, width: 16, height: 2 * half + 8 },
  };
}

/** Name and what it does in one line, wanted and reached in the next. */
function inPairs(lines: readonly Line[]): Line[][] {
  return [lines.slice(0, 2), lines.slice(2)].filter((row) => row.length > 0);
}

function lengthOf(row: readonly Line[]): number {
  return row.reduce((sum, { text }) => sum + text.length * (AVERAGE_LETTER + 0.5) + 8, 0);
}

/** Running down, all words stand in one column at the right, a hairline leads to them. */
function beside(
  { along, across, half }: StrandFrame,
  lines: readonly Line[],
  says: string,
  width: number,
): PlacedWords {
  const rows = inPairs(lines);
  const first = along + 4 - ((rows.length - 1) * LINE) / 2;
  const labels = rows.flatMap((row, r) => {
    let x = UPRIGHT_TEXT;
    return row.map((line) => {
      const label: Label = { ...line, x, y: first + r * LINE };
      x += line.text.length * (AVERAGE_LETTER + 0.5) + 8;
      return label;
    });
  });
  return {
    labels: fitting(labels, width),
    strokes: [{ path: pathData.level(across + half + 4, UPRIGHT_TEXT - 6, along), ink: 'rule', width: 1 }],
    says,
    box: { x: across - half - 4, y: along - 8, width: 2 * half + 8, height: 16 },
  };
}

/** What would run off the paper goes to a line of its own under the others. */
function fitting(labels: readonly Label[], width: number): Label[] {
  let pushed = 0;
  const lowest = Math.max(...labels.map(({ y }) => y));
  return labels.map((label) => {
    const end = label.x + label.text.length * AVERAGE_LETTER;
    if (end <= width || label.x === UPRIGHT_TEXT) return label;
    pushed += 1;
    return { ...label, x: UPRIGHT_TEXT, y: lowest + pushed * LINE };
  });
}
