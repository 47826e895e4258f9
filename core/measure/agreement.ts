import type { Unmeasurable } from '../units/reading.js';
import type { Knowledge, SongSound } from './song-sound.js';

export interface AgreementMeasure {
  readonly kind: 'measured';
}

export function measureAgreement(_sound: SongSound, _known: Knowledge): AgreementMeasure | Unmeasurable {
  throw new Error('not built yet');
}
