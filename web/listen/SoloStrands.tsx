import type { HeardPart } from '../../protocol/heard-part.js';
import { DrawingSvg } from '../marks/DrawingSvg.js';
import { soloPicture, SOLO_PICTURE_HEIGHT } from './solo-picture.js';

interface SoloStrandsProps {
  readonly solo: HeardPart;
  onSolo(solo: HeardPart): void;
}

const WIDTH = 420;

/** The strands in small, for the pointer: a click solos one, another lets it go. The names below do the same for the keyboard. */
export function SoloStrands({ solo, onSolo }: SoloStrandsProps) {
  const { drawing, strands } = soloPicture(solo, WIDTH);
  return (
    <svg className="listen-figure" viewBox={`0 0 ${WIDTH} ${SOLO_PICTURE_HEIGHT}`} aria-hidden="true">
      <DrawingSvg drawing={drawing} />
      {strands.map(({ part, name, path }, i) => (
        <path key={i} className="listen-strand" d={path} onClick={() => onSolo(part === solo ? 'all' : part)}>
          <title>{part === solo ? 'hear everything again' : `hear the ${name} alone`}</title>
        </path>
      ))}
    </svg>
  );
}
