import type { Session } from '../session/session-format.js';
import type { PrintChoices } from './print-song.js';

const ROLES = ['kick', 'bass', 'rest'] as const;

/**
 * What is to be printed and how: what is said now, else what the session remembers of the last print. What is as usual is left
 * out, so that the same wish is the same print from wherever it comes.
 */
export function printChoices({ printing }: Pick<Session, 'printing'>, said: Partial<PrintChoices>): PrintChoices {
  const { depth, gain_dB, roles, singleStems, name } = { ...printing, ...said };
  return {
    ...{ depth, gain_dB },
    ...(ROLES.every((role) => roles.includes(role)) ? {} : { roles: ROLES.filter((role) => roles.includes(role)) }),
    ...(singleStems ? {} : { singleStems }),
    ...(name === '{name}' ? {} : { name }),
  };
}

/** The session that remembers these choices. */
export function withPrintChoices(session: Session, choices: PrintChoices): Session {
  const { depth, gain_dB, roles = ROLES, singleStems = true, name = '{name}' } = choices;
  const printing = { depth, gain_dB, roles: ROLES.filter((role) => roles.includes(role)), singleStems, name };
  return { ...session, printing };
}
