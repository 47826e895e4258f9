import type { Unmeasurable } from '../units/reading.js';
import type { Knowledge, SongSound } from './song-sound.js';

export interface ClearanceMeasure {
  readonly kind: 'measured';
}

export function measureClearance(_sound: SongSound, _known: Knowledge): ClearanceMeasure | Unmeasurable {
  throw new Error('not built yet');
}
