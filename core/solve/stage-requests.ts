import type { Finding } from '../findings/finding.js';
import { formatAddress, parseAddress, PLACES } from '../treatment/paths.js';
import { declarationOf } from '../treatment/stage-registry.js';
import type { SettingDeclaration } from '../treatment/stage.js';
import type { StageOrder } from '../treatment/stage-order.js';
import type { SettingValue, StageAddress, TreatedRole } from '../treatment/treatment.js';
import { PlainError } from '../units/plain-error.js';
import { parseWish } from '../wishes/wish-text.js';
import type { Wish } from '../wishes/wish.js';
import type { StageRequest } from './stage-request.js';

/** What the engineer agreed to and asked for. */
export interface Agreed {
  /** Findings to be treated. */
  readonly accepted: readonly Finding[];
  readonly wishes: readonly Wish[];
  /** `bass.make-room.cut_dB` -> value, set by hand. */
  readonly settings: ReadonlyMap<string, SettingValue>;
  /** Order of the stages at a place, changed by hand. */
  readonly orders?: readonly StageOrder[];
}

/**
 * One request per stage, from findings, wishes and settings by hand; where several speak to one stage, a hand goes before a
 * wish and a wish before a finding. What belongs together comes along: a low cut on kick or bass is asked of both (linked), and
 * trim holds the lows wherever kick or bass is treated.
 * @throws PlainError where a wish or an address fits nothing.
 */
export function stageRequests(agreed: Agreed): StageRequest[] {
  const requests = new RequestList();
  for (const finding of agreed.accepted) addFinding(requests, finding);
  for (const wish of agreed.wishes) addWish(requests, wish);
  for (const [address, value] of agreed.settings) addSetting(requests, address, value);
  addTrim(requests);
  return requests.all();
}

class RequestList {
  private readonly byAddress = new Map<string, StageRequest>();

  add(address: StageAddress, more: Partial<Omit<StageRequest, 'address'>>): void {
    const name = formatAddress(address);
    const old = this.byAddress.get(name);
    this.byAddress.set(name, {
      address,
      because: [...(old?.because ?? []), ...(more.because ?? [])],
      wish: more.wish ?? old?.wish ?? null,
      settings: { ...old?.settings, ...more.settings },
      given: new Set([...(old?.given ?? []), ...(more.given ?? [])]),
      figures: { ...old?.figures, ...more.figures },
    });
  }

  has(address: StageAddress): boolean {
    return this.byAddress.has(formatAddress(address));
  }

  all(): StageRequest[] {
    return [...this.byAddress.values()];
  }
}

function addFinding(requests: RequestList, finding: Finding): void {
  const { suggest, evidence } = finding;
  if (suggest.stage === 'none') return;
  const { address } = parseAddress(suggest.address);
  const declaration = declarationOf(address.stage);
  const figures: Record<string, number> = {};
  for (const { key } of declaration.figures) {
    const value = evidence[key];
    if (typeof value === 'number') figures[key] = value;
  }
  const wish = suggest.wish === '' ? null : suggestedWish(suggest.wish);
  const request = { because: [finding.id], wish, settings: suggest.settings, figures, given: measuredKeys(finding) };
  requests.add(address, request);
  if (address.stage === 'clean' && address.track === null && suggest.settings['lowCut'] === true) {
    requests.add({ ...address, role: address.role === 'kick' ? 'bass' : 'kick' }, { ...request, figures: {} });
  }
}

/** A finding writes its wish as `clearance.share2dB >= 90 %`. */
function suggestedWish(text: string): Wish {
  const at = text.indexOf(' ');
  return parseWish(text.slice(0, at), text.slice(at + 1));
}

/** Settings that the finding measured; `which` and other choices of a way are not figures, but they are given too. */
function measuredKeys(finding: Finding): ReadonlySet<string> {
  return new Set(Object.keys(finding.suggest.settings));
}

function addWish(requests: RequestList, wish: Wish): void {
  const address = addressOfStatistic(wish.statistic);
  if (address === null) {
    throw new PlainError(
      `--wish ${wish.statistic}`,
      'No stage can be asked for that.',
      `Ask for one of: ${wishableStatistics().join(', ')}.`,
    );
  }
  const settings: Record<string, SettingValue> = wish.statistic === 'evenness.spread_dB' ? { which: 'all' } : {};
  requests.add(address, { because: ['wish'], wish, settings, given: new Set(Object.keys(settings)) });
}

/** Where a wished statistic is answered: the first stage of the default bass path that declares it, then of the kick's. */
export function addressOfStatistic(statistic: string): StageAddress | null {
  return (
    everyPlace().find(({ stage }) => {
      const wish = declarationOf(stage).wish;
      return wish !== null && (wish.statistic === statistic || alsoAnswers(stage, statistic));
    }) ?? null
  );
}

/** `even` answers two statistics: all notes by the spread, single pitches by their own deviation. */
function alsoAnswers(stage: StageAddress['stage'], statistic: string): boolean {
  return stage === 'even' && statistic === 'evenness.pitchDeviation_dB';
}

export function wishableStatistics(): string[] {
  const statistics = everyPlace().flatMap(({ stage }) => declarationOf(stage).wish?.statistic ?? []);
  return [...new Set([...statistics, 'evenness.pitchDeviation_dB'])].sort();
}

function everyPlace(): StageAddress[] {
  return (['bass', 'kick'] as const).flatMap((role: TreatedRole) => {
    const { bus, low, high } = PLACES[role];
    const at = (lane: StageAddress['lane']) => (stage: StageAddress['stage']) => ({ role, track: null, lane, stage });
    return [...bus.map(at(null)), ...low.map(at('low')), ...high.map(at('high'))];
  });
}

function addSetting(requests: RequestList, text: string, value: SettingValue): void {
  const { address, key } = parseAddress(text);
  if (key === null) {
    throw new PlainError(`--set ${text}`, 'It names no setting.', `Write it like ${text}.corner_Hz=120.`);
  }
  const declaration = declarationOf(address.stage).settings.find((setting) => setting.key === key)!;
  requests.add(address, {
    because: ['set'],
    settings: { [key]: checkedValue(text, declaration, value) },
    given: new Set([key]),
  });
}

/** @throws PlainError where the value is not of the setting's kind or out of its range. */
export function checkedValue(text: string, declaration: SettingDeclaration, value: SettingValue): SettingValue {
  const { kind, min = -Infinity, max = Infinity, unit, choices = [] } = declaration;
  if (kind === 'number') {
    const number = Number(value);
    if (value !== '' && number >= min && number <= max) return number;
    throw new PlainError(
      `--set ${text}=${String(value)}`,
      `It takes ${min} to ${max} ${unit}.`,
      'Give a number within it.',
    );
  }
  if (kind === 'choice') {
    if (choices.includes(String(value))) return String(value);
    throw new PlainError(
      `--set ${text}=${String(value)}`,
      `It takes one of: ${choices.join(', ')}.`,
      'Choose one of them.',
    );
  }
  if (value === true || value === 'on' || value === 'true') return true;
  if (value === false || value === 'off' || value === 'false') return false;
  throw new PlainError(`--set ${text}=${String(value)}`, 'It takes on or off.', 'Choose one of them.');
}

function addTrim(requests: RequestList): void {
  const treats = requests.all().some(({ address }) => address.role !== 'rest' && address.stage !== 'make-room');
  const trim: StageAddress = { role: 'bass', track: null, lane: null, stage: 'trim' };
  if (treats && !requests.has(trim)) requests.add(trim, { because: ['lows held'] });
}
