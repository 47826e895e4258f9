import type { Decision, OrderByHand, Session } from './session-format.js';

/** What the engineer says of findings in one command; `accept: 'all'` means every finding there is. */
export interface SaidOfFindings {
  readonly accept?: readonly string[] | 'all';
  readonly leave?: readonly { readonly finding: string; readonly reason: string }[];
  readonly later?: readonly string[];
}

/**
 * The session with new decisions: the last word on a finding counts, and what was said by name goes before `all`. `all` leaves
 * earlier decisions to leave a finding as they are: they were made with a reason.
 * @param found ids of the findings there are now, for `all`
 */
export function decided(session: Session, said: SaidOfFindings, found: readonly string[]): Session {
  const decisions = new Map(session.decisions.map((decision) => [decision.finding, decision]));
  const put = (finding: string, action: Decision['action'], reason: string) =>
    decisions.set(finding, { finding, action, reason });
  if (said.accept === 'all') {
    for (const id of found) if (decisions.get(id)?.action !== 'leave') put(id, 'treat', '');
  } else {
    for (const id of said.accept ?? []) put(id, 'treat', '');
  }
  for (const id of said.later ?? []) put(id, 'later', '');
  for (const { finding, reason } of said.leave ?? []) put(finding, 'leave', reason);
  return { ...session, decisions: [...decisions.values()] };
}

/** Ids of the findings that are agreed to. */
export function acceptedFindings(session: Session): string[] {
  return session.decisions.filter(({ action }) => action === 'treat').map(({ finding }) => finding);
}

/** The session with wishes put in place of earlier ones on the same figures. */
export function withWishes(session: Session, wishes: Session['wishes']): Session {
  const byStatistic = new Map(session.wishes.map((wish) => [wish.statistic, wish]));
  for (const wish of wishes) byStatistic.set(wish.statistic, wish);
  return { ...session, wishes: [...byStatistic.values()] };
}

/** The session with the order of one place put in place of an earlier one. */
export function withOrder(session: Session, order: OrderByHand): Session {
  return { ...session, orders: [...session.orders.filter(({ place }) => place !== order.place), order] };
}

/** The session with settings by hand put in place of earlier ones at the same address. */
export function withSettings(session: Session, settings: Session['settings']): Session {
  const byAddress = new Map(session.settings.map((setting) => [setting.address, setting]));
  for (const setting of settings) byAddress.set(setting.address, setting);
  return { ...session, settings: [...byAddress.values()] };
}
