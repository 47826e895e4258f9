import { decided, withSettings, withWishes } from '../../core/session/decisions.js';
import type { Decision, Session } from '../../core/session/session-format.js';
import { formatWish } from '../../core/wishes/wish-text.js';
import type { Wish } from '../../core/wishes/wish.js';
import type { SettingValue } from '../../core/treatment/treatment.js';

/** An edit of the session with the words by which undo names it. */
export interface SessionEdit {
  readonly name: string;
  apply(session: Session): Session;
}

const ACTION_WORDS = { treat: 'treat', leave: 'leave', later: 'put off' } as const;

/** Null takes the decision back. */
export function decideEdit(finding: string, action: Decision['action'] | null, reason: string): SessionEdit {
  const named = finding.replaceAll('-', ' ');
  if (action === null) {
    return {
      name: `take back what was decided on ${named}`,
      apply: (session) => ({
        ...session,
        decisions: session.decisions.filter((decision) => decision.finding !== finding),
      }),
    };
  }
  const said = {
    treat: { accept: [finding] },
    leave: { leave: [{ finding, reason }] },
    later: { later: [finding] },
  }[action];
  return { name: `${ACTION_WORDS[action]} ${named}`, apply: (session) => decided(session, said, []) };
}

export function treatAllEdit(found: readonly string[]): SessionEdit {
  return { name: 'treat everything found', apply: (session) => decided(session, { accept: 'all' }, found) };
}

export function wishEdit(wish: Wish): SessionEdit {
  return {
    name: `wish ${wish.statistic} ${formatWish(wish)}`,
    apply: (session) => withWishes(session, [wish]),
  };
}

export function settingEdit(address: string, value: SettingValue): SessionEdit {
  return {
    name: `${address} to ${String(value)}`,
    apply: (session) => withSettings(session, [{ address, value }]),
  };
}
