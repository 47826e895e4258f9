import type { ChainInput } from '../core/treatment/treatment-chain.js';
import type { TreatedRole } from '../core/treatment/treatment.js';

/** Stands for the sum of the rest where its files are not treated one by one. */
export const REST_BED = 'rest';

/** Asks whoever holds the song for frames `from..to` of these files; frames past the end are 0. */
export interface SoundRequest {
  readonly from: number;
  readonly to: number;
  readonly files: Readonly<Record<TreatedRole, readonly string[]>>;
}

/** The answer: fresh arrays in the order of the request, to be handed on by transfer. A mono file has one array twice. */
export type SoundAnswer = ChainInput;
