import { isNamePattern } from '../../core/delivery/name-pattern.js';
import { printChoices } from '../../core/job/print-choices.js';
import type { PrintChoices } from '../../core/job/print-song.js';
import { emptySession, type Printing } from '../../core/session/session-format.js';
import type { TreatedRole } from '../../core/treatment/treatment.js';
import { parseValue } from '../../core/wishes/value-text.js';

/** The form as it is filled in. */
export interface PrintForm {
  readonly depth: PrintChoices['depth'];
  readonly roles: readonly TreatedRole[];
  readonly singleStems: boolean;
  /** As typed. */
  readonly gain: string;
  readonly name: string;
}

export const PRINT_ROLES: readonly TreatedRole[] = ['kick', 'bass', 'rest'];

/** The form as it is when nothing is changed in it: as in the last print. */
export function formOf({ depth, roles, singleStems, gain_dB, name }: Printing): PrintForm {
  return { depth, roles, singleStems, gain: String(gain_dB).replace('-', '\u2212'), name };
}

/** The choices of a form, those left as they are left out; or what is wrong with it. */
export function choicesOf(form: PrintForm): { readonly choices: PrintChoices } | { readonly problem: string } {
  const { depth, roles, singleStems, gain, name } = form;
  if (roles.length === 0) return { problem: 'Choose at least one role to print.' };
  if (!isNamePattern(name)) {
    return { problem: 'Names need {name} in them, and no sign that a disk does not take (/ \\ : * ? " < > |).' };
  }
  const gain_dB = gainOf(gain);
  if (gain_dB === null || Math.abs(gain_dB) > 60)
    return { problem: 'Give the gain in dB, from \u221260 to 60: \u22121.5.' };
  return { choices: printChoices(emptySession(), { depth, gain_dB, roles, singleStems, name }) };
}

function gainOf(text: string): number | null {
  try {
    return parseValue(text.trim().replace('\u2212', '-'), { unit: 'dB' });
  } catch {
    return null;
  }
}
