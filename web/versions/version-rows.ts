import { sayCount } from '../../core/findings/say-figure.js';
import type { PrintVersion, ProofRecord, Revision, Session } from '../../core/session/session-format.js';
import { isSameState } from './revision-of.js';

/** A named version, or a print that another program made, as a row of the list. */
export interface VersionRow {
  /** `A`, `B` for named ones as on a drawing; `v2` for a print without a name. */
  readonly mark: string;
  readonly name: string;
  /** Against the version before. */
  readonly changed: string;
  readonly rows: ProofRecord['rows'];
  readonly gained: number;
  readonly lost: number;
  readonly at: string;
  readonly print: string | null;
  readonly files: readonly string[];
  /** Null for a print of which only figures and files are known. */
  readonly revision: Revision | null;
}

/** Named versions and prints in one list, newest first; prints that nobody named here stand last. */
export function versionRows({ revisions, versions, proofs }: Session): VersionRow[] {
  const named = revisions.map((revision, i) =>
    rowOf({
      ...revision,
      mark: letterOf(i),
      changed: whatChanged(revisions[i - 1] ?? null, revision),
      files: filesOf(versions, revision.print),
      revision,
    }),
  );
  const others = versions
    .filter(({ name }) => !revisions.some(({ print }) => print === name))
    .map(({ name }) =>
      rowOf({
        ...{ mark: name, name: 'printed', at: '', print: name, revision: null },
        changed: 'printed outside this page: its figures and files are known, its settings are not',
        files: filesOf(versions, name),
        rows: proofs.find(({ version }) => version === name)?.rows ?? [],
      }),
    );
  return [...named.reverse(), ...others.reverse()];
}

function rowOf(row: Omit<VersionRow, 'gained' | 'lost'>): VersionRow {
  const { mark, name, changed, rows, at, print, files, revision } = row;
  const count = (...verdicts: string[]) => rows.filter(({ verdict }) => verdicts.includes(verdict)).length;
  const counts = { gained: count('better'), lost: count('harm', 'worse-within') };
  return { mark, name, changed, rows, ...counts, at, print, files, revision };
}

function filesOf(versions: readonly PrintVersion[], print: string | null): string[] {
  return versions.find(({ name }) => name === print)?.files.map(({ path }) => path) ?? [];
}

/** `A` to `Z`, then `AA`. */
export function letterOf(index: number): string {
  const letter = String.fromCharCode(65 + (index % 26));
  return index < 26 ? letter : letterOf(Math.floor(index / 26) - 1) + letter;
}

/** What a version decided otherwise than the one before. */
export function whatChanged(before: Revision | null, after: Revision): string {
  const said = [
    ...decisionsChanged(before, after),
    ...counted(before?.wishes ?? [], after.wishes, 'wish', 'wishes'),
    ...counted(before?.settings ?? [], after.settings, 'value by hand', 'values by hand'),
    ...counted(before?.orders ?? [], after.orders, 'order of stages', 'orders of stages'),
  ];
  if (said.length > 0) return said.join('; ');
  if (before === null) return 'nothing treated';
  const same = JSON.stringify(before.treatment) === JSON.stringify(after.treatment);
  return same ? 'as the version before' : 'stages switched by hand or solved anew';
}

const DECIDED = { treat: 'treated', later: 'put off' } as const;

function decisionsChanged(before: Revision | null, after: Revision): string[] {
  const text = (revision: Revision | null, finding: string) =>
    JSON.stringify(revision?.decisions.find((decision) => decision.finding === finding) ?? null);
  const words = (finding: string) => finding.replaceAll('-', ' ');
  const changed = after.decisions.filter(({ finding }) => text(before, finding) !== text(after, finding));
  const listed = (['treat', 'later'] as const).flatMap((action) => {
    const findings = changed.filter((decision) => decision.action === action).map(({ finding }) => words(finding));
    return findings.length === 0 ? [] : [`${findings.join(', ')} ${DECIDED[action]}`];
  });
  const left = changed
    .filter(({ action }) => action === 'leave')
    .map(({ finding, reason }) => `${words(finding)} left${reason === '' ? '' : `: ${reason}`}`);
  const open = (before?.decisions ?? [])
    .filter(({ finding }) => text(after, finding) === 'null')
    .map(({ finding }) => `${words(finding)} open again`);
  return [...listed, ...left, ...open];
}

function counted<Kind>(before: readonly Kind[], after: readonly Kind[], one: string, many: string): string[] {
  const known = new Set(before.map((item) => JSON.stringify(item)));
  const changed = after.filter((item) => !known.has(JSON.stringify(item))).length;
  const gone = before.length - (after.length - changed);
  if (changed > 0) return [`${sayCount(changed, one, many)} changed`];
  return gone > 0 ? [`${sayCount(gone, one, many)} taken back`] : [];
}

/** The version that the session stands at, for the title block: `B, room for the kick`; `after B` where more was changed. */
export function versionNow(session: Session): string {
  const { revisions, versions } = session;
  const at = revisions.findLastIndex((revision) => isSameState(revision, session));
  if (at >= 0) return `${letterOf(at)}, ${revisions[at]!.name}`;
  if (revisions.length > 0) return `after ${letterOf(revisions.length - 1)}`;
  return versions.at(-1)?.name ?? 'not named';
}
