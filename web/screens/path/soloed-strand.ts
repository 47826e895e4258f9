import type { HeardPart } from '../../../protocol/heard-part.js';

/** Strands of the path by the parts that are heard when they are soloed. */
const STRANDS: Readonly<Record<string, HeardPart>> = {
  'low-end': 'low end',
  kick: 'kick',
  bass: 'bass',
  'bass.low': 'low lane',
  'bass.high': 'high lane',
};

/** What is heard with a strand soloed; everything with none. */
export function partOf(strand: string | null): HeardPart {
  return strand === null ? 'all' : (STRANDS[strand] ?? 'all');
}

/** The strand that shows a part; null where none does. */
export function strandOf(part: HeardPart): string | null {
  return Object.keys(STRANDS).find((strand) => STRANDS[strand] === part) ?? null;
}
