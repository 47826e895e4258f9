import type { Unmeasurable } from '../units/reading.js';
import type { Knowledge, SongSound } from './song-sound.js';

export interface HeadroomMeasure {
  readonly kind: 'measured';
}

export function measureHeadroom(_sound: SongSound, _known: Knowledge): HeadroomMeasure | Unmeasurable {
  throw new Error('not built yet');
}
