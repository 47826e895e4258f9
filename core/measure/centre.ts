import type { Unmeasurable } from '../units/reading.js';
import type { Knowledge, SongSound } from './song-sound.js';

export interface CentreMeasure {
  readonly kind: 'measured';
}

export function measureCentre(_sound: SongSound, _known: Knowledge): CentreMeasure | Unmeasurable {
  throw new Error('not built yet');
}
