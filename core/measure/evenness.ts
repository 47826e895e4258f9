import type { Unmeasurable } from '../units/reading.js';
import type { Knowledge, SongSound } from './song-sound.js';

export interface EvennessMeasure {
  readonly kind: 'measured';
}

export function measureEvenness(_sound: SongSound, _known: Knowledge): EvennessMeasure | Unmeasurable {
  throw new Error('not built yet');
}
