import type { Finding, FindingId } from '../findings/finding.js';
import { FINDINGS } from '../findings/finding-registry.js';
import { acceptedFindings, decided, withSettings, withWishes, type SaidOfFindings } from '../session/decisions.js';
import type { Session } from '../session/session-format.js';
import type { Solution } from '../solve/solve-song.js';
import { checkedValue, type Agreed } from '../solve/stage-requests.js';
import { formatAddress, parseAddress, stageAt } from '../treatment/paths.js';
import { withOrders } from '../treatment/stage-order.js';
import { declarationOf } from '../treatment/stage-registry.js';
import type { SettingValue, Treatment } from '../treatment/treatment.js';
import { PlainError } from '../units/plain-error.js';
import { valueOf } from '../units/reading.js';
import { statisticAt } from '../wishes/statistics.js';
import { parseValue } from '../wishes/value-text.js';
import type { Wish } from '../wishes/wish.js';
import { inspectSong, type Inspection } from './inspect-song.js';
import type { JobHost } from './job-host.js';
import type { SongOptions } from './open-song.js';
import { loadSession, rememberedOptions, saveSession, withRoles } from './session-store.js';
import { solveInspection, treatable, untreated } from './solve-inspection.js';

/** What the engineer says in one command; it is added to what the session holds. */
export interface TreatChoices {
  readonly said: SaidOfFindings;
  readonly wishes: readonly Wish[];
  /** Text as typed: the stage declares how its value is read. */
  readonly settings: readonly { readonly address: string; readonly text: string }[];
}

/** What was decided on a finding. */
export interface DecidedFinding {
  readonly finding: Finding;
  readonly action: 'treat' | 'leave' | 'later' | 'open';
  readonly reason: string;
}

export interface TreatOutcome {
  readonly inspection: Inspection;
  readonly session: Session;
  readonly findings: readonly DecidedFinding[];
  /** True where something was agreed to; else the solution shows what treating everything would do. */
  readonly agreed: boolean;
  readonly solution: Solution | null;
  readonly treatment: Treatment;
  readonly remarks: readonly string[];
}

/**
 * Shows what would be done and why, and does only what is agreed to: the decisions of the session and of this command. With
 * nothing agreed the treatment of everything that was found is solved to show what to expect, and only roles are saved.
 * @throws PlainError where a decision names no finding, a wish no figure, or a value does not fit its setting.
 */
export async function treatSong(host: JobHost, options: SongOptions, choices: TreatChoices): Promise<TreatOutcome> {
  checkFindingNames(choices.said);
  const before = await loadSession(host);
  const inspection = await inspectSong(host, rememberedOptions(before, options));
  const tempo_bpm = valueOf(inspection.measured.known.tempo_bpm);
  const typed = choices.settings.map(({ address, text }) => ({
    address,
    value: readSetting(address, text, tempo_bpm),
  }));
  const plain = untreated(inspection, before.orders);
  const lost = typed.find(({ address }) => !stands(plain, address));
  if (lost !== undefined) throw noSuchPlace(lost.address, inspection);
  const ids = inspection.faults.findings.map(({ id }) => id);
  let session = await withRoles(before, inspection.song);
  session = decided(session, choices.said, [...new Set(ids)]);
  session = withSettings(withWishes(session, [...choices.wishes]), typed);
  const agreed = agreedOf(session, inspection, plain);
  const anything = agreed.accepted.length > 0 || agreed.wishes.length > 0 || agreed.settings.size > 0;
  const all: Agreed = { ...agreed, accepted: treatable(inspection.faults.findings) };
  const solution = await solveInspection(inspection, anything ? agreed : all, host);
  const treatment = anything && solution !== null ? solution.treatment : plain;
  session = { ...session, treatment: anything ? treatment : null };
  await saveSession(host, session, before);
  return {
    inspection,
    session,
    findings: decidedFindings(inspection, session, solution),
    agreed: anything,
    solution,
    treatment,
    remarks: [
      ...notFoundRemarks(choices.said, ids),
      ...lostSettingRemarks(session, plain),
      ...withOrders(plain, session.orders).remarks,
    ],
  };
}

/** Whether something may be printed: something was agreed to, or no finding is left open. */
export function mayPrint({ agreed, findings }: TreatOutcome): boolean {
  return agreed || findings.every(({ action }) => action !== 'open');
}

function agreedOf(session: Session, inspection: Inspection, plain: Treatment): Agreed {
  const accepted = new Set(acceptedFindings(session));
  return {
    accepted: treatable(inspection.faults.findings).filter(({ id }) => accepted.has(id)),
    wishes: session.wishes,
    orders: session.orders,
    settings: new Map(
      session.settings.flatMap(({ address, value }) => (stands(plain, address) ? [[address, value] as const] : [])),
    ),
  };
}

function decidedFindings(inspection: Inspection, session: Session, solution: Solution | null): DecidedFinding[] {
  const decisions = new Map(session.decisions.map((decision) => [decision.finding, decision]));
  return inspection.faults.findings.map((found) => {
    const finding = withRendered(found, solution);
    const decision = decisions.get(finding.id);
    return { finding, action: decision?.action ?? 'open', reason: decision?.reason ?? '' };
  });
}

/** Whether the song has the stage that a setting speaks of: a stem may be gone. */
function stands(plain: Treatment, setting: string): boolean {
  return stageAt(plain, parseAddress(setting).address) !== null;
}

function noSuchPlace(setting: string, { song }: Inspection): PlainError {
  const { role } = parseAddress(setting).address;
  const files = song.stems.filter((stem) => stem.role === role).map(({ file }) => `${role}[${JSON.stringify(file)}]`);
  return new PlainError(
    `--set ${setting}`,
    'The song has no such place.',
    files.length > 0 ? `Stems of this role are: ${files.join(', ')}.` : `It has no stem of the role ${role}.`,
  );
}

function lostSettingRemarks(session: Session, plain: Treatment): string[] {
  return session.settings
    .filter(({ address }) => !stands(plain, address))
    .map(({ address }) => `${address} was set by hand before, but the song has no such stem now.`);
}

/** The finding with what its stage reached when it was rendered, in place of the estimate. */
function withRendered(finding: Finding, solution: Solution | null): Finding {
  const { suggest } = finding;
  const stage = solution?.stages.find(({ address }) => formatAddress(address) === suggest.address);
  if (suggest.expected === null || stage === undefined || stage.solution.reached === null) return finding;
  const statistic = stage.request.asked?.statistic ?? stage.request.wish?.statistic ?? '';
  if (!suggest.wish.startsWith(`${statistic} `)) return finding;
  const scale = statisticAt(statistic)?.unit === '%' ? 100 : 1;
  const expected = { value: scale * stage.solution.reached, unit: suggest.expected.unit, basis: 'rendered' as const };
  return { ...finding, suggest: { ...suggest, expected } };
}

/** @throws PlainError where a name is no finding's. */
function checkFindingNames(said: SaidOfFindings): void {
  const names = [
    ...(said.accept === 'all' ? [] : (said.accept ?? [])),
    ...(said.later ?? []),
    ...(said.leave ?? []).map(({ finding }) => finding),
  ];
  const known = new Set<string>(FINDINGS.map(({ id }) => id));
  const unknown = names.find((name) => !known.has(name));
  if (unknown === undefined) return;
  throw new PlainError(unknown, 'There is no finding of that name.', `Findings are: ${[...known].join(', ')}.`);
}

function notFoundRemarks(said: SaidOfFindings, found: readonly FindingId[]): string[] {
  if (said.accept === 'all') return [];
  const absent = (said.accept ?? []).filter((name) => !found.includes(name as FindingId));
  return absent.map((name) => `${name} was agreed to, but it is not found in this song.`);
}

/** The value of a setting as it was typed: `1.2k`, `F#1`, `3 dB`, `1/16`, a choice, on or off. */
function readSetting(text: string, typed: string, tempo_bpm: number | null): SettingValue {
  const { address, key } = parseAddress(text);
  const declared = declarationOf(address.stage).settings.find((setting) => setting.key === key);
  if (declared === undefined) {
    throw new PlainError(`--set ${text}`, 'It names no setting.', 'Write it like bass.make-room.cut_dB=3.');
  }
  const value = declared.kind === 'number' ? parseValue(typed, { unit: declared.unit, tempo_bpm }) : typed;
  return checkedValue(text, declared, value);
}
