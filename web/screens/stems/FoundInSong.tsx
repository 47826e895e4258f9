import { useMemo } from 'react';
import { sayCount, sayFigure } from '../../../core/findings/say-figure.js';
import { isMeasured } from '../../../core/units/reading.js';
import type { InspectedSong } from '../../../protocol/job-messages.js';
import { useWidth } from '../../evidence/use-width.js';
import { DrawingSvg } from '../../marks/DrawingSvg.js';
import { clockText } from '../../strip/beat-grid.js';
import { FOUND_HEIGHT, foundLine } from './found-line.js';
import type { FoundSong } from './found-song.js';

/** Every hit and note as found, so that a wrong tempo or a missed hit shows at once. */
export function FoundInSong({ song, found }: { readonly song: InspectedSong; readonly found: FoundSong }) {
  const [box, width] = useWidth('hits and notes');
  const drawing = useMemo(() => {
    const kick = new Set(song.stems.filter(({ role }) => role === 'kick').map(({ file }) => file));
    return foundLine(
      found,
      song.levels.filter(({ file }) => kick.has(file)),
      Math.max(1, width),
    );
  }, [song, found, width]);
  const says = `${sayCount(found.hits.length, 'hit')} and ${sayCount(found.staff.notes.length, 'note')} as found.`;
  return (
    <section className="found-in-song" aria-label="What the song is">
      <h2>
        What the song is <small>{sayTempo(song, found)}</small>
      </h2>
      <div className="found-row">
        <p>
          <b>Hits and notes</b>
          <small>as found; under the line the level of the kick</small>
        </p>
        <figure ref={box}>
          {width > 0 && (
            <svg
              width={width}
              height={FOUND_HEIGHT}
              viewBox={`0 0 ${width} ${FOUND_HEIGHT}`}
              role="img"
              aria-label={says}
            >
              <DrawingSvg drawing={drawing} />
            </svg>
          )}
        </figure>
      </div>
    </section>
  );
}

/** `92.00 bpm; four beats a bar; bar 1 at 0:00.3`. */
function sayTempo({ measured }: InspectedSong, { grid }: FoundSong): string {
  const tempo = measured.known.tempo_bpm;
  if (grid === null || !isMeasured(tempo)) {
    return `no steady tempo was found${'reason' in tempo ? `: ${tempo.reason}` : ''}; times stand in minutes and seconds`;
  }
  return `${sayFigure(tempo.value, 'bpm', 2)}; four beats a bar; bar 1 at ${clockText(Math.max(0, grid.bar1_s))}`;
}
