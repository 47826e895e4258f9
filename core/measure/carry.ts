import type { Unmeasurable } from '../units/reading.js';
import type { Knowledge, SongSound } from './song-sound.js';

export interface CarryMeasure {
  readonly kind: 'measured';
}

export function measureCarry(_sound: SongSound, _known: Knowledge): CarryMeasure | Unmeasurable {
  throw new Error('not built yet');
}
