import type { HeardPart } from '../../protocol/heard-part.js';
import { DrawingSvg } from '../marks/DrawingSvg.js';
import { ListenFigure } from './ListenFigure.js';
import { soloPicture, SOLO_PICTURE_HEIGHT } from './solo-picture.js';

interface SoloStrandsProps {
  readonly solo: HeardPart;
  onSolo(solo: HeardPart): void;
}

/** The strands in small, for the pointer: a click solos one, another lets it go. The names below do the same for the keyboard. */
export function SoloStrands({ solo, onSolo }: SoloStrandsProps) {
  return (
    <ListenFigure height={SOLO_PICTURE_HEIGHT}>
      {(width) => {
        const { drawing, strands } = soloPicture(solo, width);
        return (
          <>
            <DrawingSvg drawing={drawing} />
            {strands.map(({ part, name, path }, i) => (
              <path key={i} className="listen-strand" d={path} onClick={() => onSolo(part === solo ? 'all' : part)}>
                <title>{part === solo ? 'hear everything again' : `hear the ${name} alone`}</title>
              </path>
            ))}
          </>
        );
      }}
    </ListenFigure>
  );
}
