import type { HeardPart } from '../../protocol/heard-part.js';
import type { Drawing, Ink, Label, Stroke } from '../marks/drawing.js';

/** One strand of the small picture, with the part that a click on it solos. */
export interface SoloStrand {
  readonly part: HeardPart;
  readonly name: string;
  /** The line along which it is clicked. */
  readonly path: string;
}

export interface SoloPicture {
  readonly drawing: Drawing;
  readonly strands: readonly SoloStrand[];
}

const LEFT = 52;
const SPLIT = 104;
const PARTED = 138;
const JOINS_BEFORE_END = 96;
const BASS_y = 44;
const LANE = 21;
const KICK_y = 98;
const REST_y = 124;
const STEP = 3.6;

type Strand = 'kick' | 'bass' | 'low' | 'high' | 'rest';

/** What of the bundle is heard with a part soloed. */
const HEARD: Readonly<Record<HeardPart, readonly Strand[]>> = {
  all: ['kick', 'bass', 'low', 'high', 'rest'],
  'low end': ['kick', 'bass', 'low', 'high'],
  kick: ['kick'],
  bass: ['bass', 'low', 'high'],
  'low lane': ['low'],
  'high lane': ['high'],
  rest: ['rest'],
};

/** The strands in small: what is heard is drawn out, what is silent is dotted and recedes. */
export function soloPicture(solo: HeardPart, width: number): SoloPicture {
  const right = width - 8;
  const joins = right - JOINS_BEFORE_END;
  const joined = joins + PARTED - SPLIT;
  const heard = (strand: Strand) => HEARD[solo].includes(strand);
  const bundle = (strand: Strand, ink: Ink, count: number, path: (offset: number) => string): Stroke[] =>
    Array.from({ length: count }, (_, i) => {
      const drawn = path((i - (count - 1) / 2) * STEP);
      return heard(strand)
        ? { path: drawn, ink, width: 1.9 }
        : { path: drawn, ink: 'ink-3' as const, width: 1, dash: [2, 3] };
    });
  const lane = (away: number) => (offset: number) => {
    const [on, off] = [BASS_y + offset, BASS_y + away + offset];
    const [into, out] = [(SPLIT + PARTED) / 2, (joins + joined) / 2];
    return `M${SPLIT} ${on}C${into} ${on} ${into} ${off} ${PARTED} ${off}H${joins}C${out} ${off} ${out} ${on} ${joined} ${on}`;
  };
  const level = (y: number, from: number, to: number) => (offset: number) => `M${from} ${y + offset}H${to}`;
  const strokes = [
    ...bundle('bass', 'bass', 4, level(BASS_y, LEFT, SPLIT)),
    ...bundle('bass', 'bass', 4, level(BASS_y, joined, right)),
    ...bundle('high', 'bass', 2, lane(-LANE)),
    ...bundle('low', 'bass', 4, lane(LANE)),
    ...bundle('kick', 'kick', 3, level(KICK_y, LEFT, right)),
    ...bundle('rest', 'ink', 2, level(REST_y, LEFT, right)),
  ];
  const name = (text: string, x: number, y: number, ink: Ink): Label => ({ text, x, y, ink, halo: true });
  const says = (strand: Strand, words: string) => `${words}, ${heard(strand) ? 'heard' : 'silent'}`;
  const middle = (PARTED + joins) / 2;
  const centred = (strand: Strand, words: string, y: number): Label => ({
    ...name(says(strand, words), middle, y, heard(strand) ? 'ink' : 'ink-3'),
    anchor: 'middle',
  });
  return {
    drawing: {
      strokes,
      labels: [
        name('Bass', 0, BASS_y + 4, 'bass'),
        name('Kick', 0, KICK_y + 4, 'kick'),
        name('Rest', 0, REST_y + 4, 'ink'),
        centred('high', 'high lane', BASS_y - LANE - 8),
        centred('low', 'low lane', BASS_y + LANE + 21),
      ],
    },
    strands: [
      { part: 'bass', name: 'bass', path: level(BASS_y, LEFT, SPLIT)(0) },
      { part: 'bass', name: 'bass', path: level(BASS_y, joined, right)(0) },
      { part: 'high lane', name: 'high lane', path: lane(-LANE)(0) },
      { part: 'low lane', name: 'low lane', path: lane(LANE)(0) },
      { part: 'kick', name: 'kick', path: level(KICK_y, LEFT, right)(0) },
      { part: 'rest', name: 'rest', path: level(REST_y, LEFT, right)(0) },
    ],
  };
}

export const SOLO_PICTURE_HEIGHT = 134;
