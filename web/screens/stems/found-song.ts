import type { Hit } from '../../../core/song/song.js';
import type { InspectedSong } from '../../../protocol/job-messages.js';
import type { StripSong } from '../../strip/strip-song.js';

/** What was found in the song, whether or not it could be measured against anything: hits, notes, bars. */
export interface FoundSong extends Pick<StripSong, 'grid' | 'duration_s' | 'staff'> {
  readonly hits: readonly Hit[];
}

export function foundSong({ measured }: InspectedSong, { grid, duration_s, staff }: StripSong): FoundSong {
  return { grid, duration_s, staff, hits: measured.known.hits };
}
