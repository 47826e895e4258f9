import { decided, withOrder, withSettings, withWishes } from '../../core/session/decisions.js';
import type { Decision, Session } from '../../core/session/session-format.js';
import { formatWish } from '../../core/wishes/wish-text.js';
import type { Wish } from '../../core/wishes/wish.js';
import { declarationOf } from '../../core/treatment/stage-registry.js';
import { statisticAt } from '../../core/wishes/statistics.js';
import { parseAddress, stageAt, withStage } from '../../core/treatment/paths.js';
import { withChange } from '../../core/treatment/setting-changes.js';
import { withOrders } from '../../core/treatment/stage-order.js';
import type { SettingValue, Treatment } from '../../core/treatment/treatment.js';

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
    name: `wish ${statisticAt(wish.statistic)?.name ?? wish.statistic} ${formatWish(wish)}`,
    apply: (session) => withWishes(session, [wish]),
  };
}

/** A setting by hand: it stands at once, is kept for the next solve, and is taken back with the edit. */
export function settingEdit(treatment: Treatment, address: string, value: SettingValue): SessionEdit {
  return {
    name: `${nameOfSetting(address)} to ${sayOfSetting(address, value)}`,
    apply: (session) => ({
      ...withSettings(session, [{ address, value }]),
      treatment: withChange(treatment, { address, value }),
    }),
  };
}

/** A setting is by hand no longer: it stands as it was found, and the next solve finds it anew. */
export function releaseEdit(treatment: Treatment, address: string, found: SettingValue): SessionEdit {
  return {
    name: `${nameOfSetting(address)} back to ${sayOfSetting(address, found)}`,
    apply: (session) => ({
      ...session,
      settings: session.settings.filter((setting) => setting.address !== address),
      treatment: withChange(treatment, { address, value: found }),
    }),
  };
}

/** `make room, cut`. */
function nameOfSetting(text: string): string {
  const { address, key } = parseAddress(text);
  const { name, settings } = declarationOf(address.stage);
  return `${name}, ${settings.find((one) => one.key === key)?.name ?? key}`;
}

function sayOfSetting(text: string, value: SettingValue): string {
  const { address, key } = parseAddress(text);
  const setting = declarationOf(address.stage).settings.find((one) => one.key === key);
  const unit = setting === undefined || setting.unit === '' || typeof value !== 'number' ? '' : `\u00a0${setting.unit}`;
  return `${String(value).replace('-', '\u2212')}${unit}`;
}

/** A stage switched by hand in the treatment that stands. */
export function switchEdit(treatment: Treatment, address: string, on: boolean): SessionEdit {
  const place = parseAddress(address).address;
  return {
    name: `${address} ${on ? 'on' : 'off'}`,
    apply: (session) => ({
      ...session,
      treatment: withStage(treatment, place, { ...stageAt(treatment, place)!, on }),
    }),
  };
}

/** The stages of one lane, or of one role's bus, in another order: kept for the next solve, and at once in what stands. */
export function orderEdit(treatment: Treatment, addresses: readonly string[]): SessionEdit {
  const places = addresses.map((address) => parseAddress(address).address);
  const { role, lane } = places[0]!;
  const order = { place: lane === null ? role : `${role}.${lane}`, stages: places.map(({ stage }) => stage) };
  return {
    name: `order of the ${lane === null ? role : `${lane} ${role} lane`}`,
    apply: (session) => ({ ...withOrder(session, order), treatment: withOrders(treatment, [order]).treatment }),
  };
}
