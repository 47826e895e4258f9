import { SMALL_SPEAKERS } from '../../core/measure/small-speakers.js';
import { parseAddress } from '../../core/treatment/paths.js';
import { declarationOf } from '../../core/treatment/stage-registry.js';
import { HEARD_PARTS, type HeardPart } from '../../protocol/heard-part.js';
import type { Listening } from './listening.js';

const firstUpper = (text: string) => text.slice(0, 1).toUpperCase() + text.slice(1);

export const SPEAKERS: readonly { readonly id: Listening['speaker']; readonly label: string }[] = [
  { id: 'full range', label: 'Full range' },
  ...SMALL_SPEAKERS.map(({ id, name }) => ({ id, label: firstUpper(name) })),
];

export const SOLO_CHOICES: readonly { readonly id: HeardPart; readonly label: string }[] = HEARD_PARTS.map((id) => ({
  id,
  label: id === 'all' ? 'Everything' : firstUpper(id),
}));

export function soloLabel(solo: HeardPart): string {
  return SOLO_CHOICES.find(({ id }) => id === solo)?.label ?? solo;
}

export function speakerLabel(speaker: Listening['speaker']): string {
  return SPEAKERS.find(({ id }) => id === speaker)?.label ?? speaker;
}

/** What holds for every trial of a compare: `everything, full range, bars 33.1 to 40.4`. */
export function sayConditions({ solo, speaker, mono }: Listening, loop: string | null): string {
  const through = `${speakerLabel(speaker).toLowerCase()}${mono ? ' in mono' : ''}`;
  return [soloLabel(solo).toLowerCase(), through, loop === null ? 'no loop' : `loop ${loop}`].join(', ');
}

/** A stage as it is left out of what is heard: `harmonics of the low lane`, `make room`. */
export function stageLabel(address: string): string {
  const { stage, lane, role, track } = parseAddress(address).address;
  const { name } = declarationOf(stage);
  if (track !== null) return `${name} of ${track}`;
  if (lane !== null) return `${name} of the ${lane} lane`;
  return role === 'bass' ? name : `${name} of the ${role}`;
}
