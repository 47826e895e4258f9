import { useEffect, useMemo, useState } from 'react';
import { Button } from 'react-aria-components';
import type { ProofRow } from '../../core/proof/compare-measurements.js';
import type { Revision, Session } from '../../core/session/session-format.js';
import type { Treatment } from '../../core/treatment/treatment.js';
import { ComparedTable } from './ComparedTable.js';
import { HearVersions } from './HearVersions.js';
import { NameVersion } from './NameVersion.js';
import { isSameState, playableTreatment, revisionOf } from './revision-of.js';
import { versionRows, whatChanged, type VersionRow } from './version-rows.js';
import './versions.css';

export interface VersionsSheetProps {
  readonly session: Session;
  readonly untreated: Treatment;
  /** Figures and match of the state as it stands; null where they are not known. */
  readonly rowsNow: readonly ProofRow[] | null;
  readonly matchNow_dB: number | null;
  /** False in a tab that only reads. */
  readonly mayEdit: boolean;
  onName(name: string): void;
  onBringBack(revision: Revision, mark: string): void;
  /** What is heard in place of the state as it stands; null for that state. */
  onHear(heard: { readonly treatment: Treatment; readonly match_dB: number } | null): void;
}

/** Versions as the revisions of a drawing: name the state, compare two by number and by ear, go back to one. */
export function VersionsSheet(props: VersionsSheetProps) {
  const { session, mayEdit, onHear } = props;
  const { rowsNow, matchNow_dB } = props;
  // figures of an untreated song are compared anew each time: whether there are any is enough
  const now = useMemo(() => rowNow({ session, rowsNow, matchNow_dB }), [session, matchNow_dB, rowsNow === null]);
  const rows = versionRows(session);
  const [chosenMark, setChosen] = useState(rows[0]?.mark ?? now.mark);
  const [againstMark, setAgainst] = useState(now.mark);
  const rowAt = (mark: string) => rows.find((row) => row.mark === mark) ?? now;
  const chosen = rowAt(chosenMark);
  const against = rowAt(againstMark);
  useEffect(() => () => onHear(null), [onHear]);
  return (
    <div className="versions">
      <section>
        {mayEdit && <NameVersion onName={props.onName} />}
        <VersionsTable {...{ rows: [now, ...rows], chosen, onChoose: setChosen }} />
      </section>
      <section>
        <h3>
          {sayRow(chosen)} against{' '}
          <select aria-label="Compared with" value={against.mark} onChange={({ target }) => setAgainst(target.value)}>
            {[now, ...rows].map((row) => (
              <option key={row.mark} value={row.mark}>
                {sayRow(row)}
              </option>
            ))}
          </select>
        </h3>
        <HearVersions
          key={`${chosen.mark} ${against.mark}`}
          pair={[heardOf(chosen, props), heardOf(against, props)]}
          names={[sayRow(chosen), sayRow(against)]}
          onHear={onHear}
        />
        {mayEdit && chosen.revision !== null && !isSameState(chosen.revision, now.revision!) && (
          <p className="versions-back">
            <Button className="word-button" onPress={() => props.onBringBack(chosen.revision!, chosen.mark)}>
              Go back to {chosen.mark}
            </Button>
            <small>Undo takes it back; every version stays.</small>
          </p>
        )}
        <ComparedTable one={chosen} other={against} />
      </section>
    </div>
  );
}

const NOW = 'now';

function rowNow({
  session,
  rowsNow,
  matchNow_dB,
}: Pick<VersionsSheetProps, 'session' | 'rowsNow' | 'matchNow_dB'>): VersionRow {
  const about = { session, at: '', print: null, rows: rowsNow, match_dB: matchNow_dB };
  const revision = revisionOf({ ...about, name: 'as it stands' });
  const count = (...verdicts: string[]) => revision.rows.filter(({ verdict }) => verdicts.includes(verdict)).length;
  return {
    ...{ mark: NOW, name: 'as it stands', at: '', print: null, files: [], rows: revision.rows, revision },
    changed: whatChanged(session.revisions.at(-1) ?? null, revision),
    ...{ gained: count('better'), lost: count('harm', 'worse-within') },
  };
}

function heardOf({ revision }: VersionRow, { untreated }: VersionsSheetProps) {
  if (revision === null) return null;
  const { decisions, treatment, match_dB } = revision;
  const asItCame = treatment === null && !decisions.some(({ action }) => action === 'treat');
  const played = asItCame ? untreated : playableTreatment(revision, untreated);
  return played === null ? null : { treatment: played, match_dB };
}

function sayRow({ mark, name }: VersionRow): string {
  return mark === NOW ? name : `${mark}, ${name}`;
}

interface TableProps {
  readonly rows: readonly VersionRow[];
  readonly chosen: VersionRow;
  onChoose(mark: string): void;
}

function VersionsTable({ rows, chosen, onChoose }: TableProps) {
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">
            <span className="seen-by-ear">Choose</span>
          </th>
          <th scope="col">Name</th>
          <th scope="col">What changed</th>
          <th scope="col">Gained</th>
          <th scope="col">Lost</th>
          <th scope="col">When</th>
          <th scope="col">Print</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.mark} data-chosen={row.mark === chosen.mark}>
            <td>
              <label>
                <input
                  type="radio"
                  name="version"
                  checked={row.mark === chosen.mark}
                  onChange={() => onChoose(row.mark)}
                />
                {row.mark}
              </label>
            </td>
            <th scope="row">{row.name}</th>
            <td>{row.changed}</td>
            <td data-name="gained">{row.rows.length === 0 ? '' : row.gained}</td>
            <td data-name="lost">{row.rows.length === 0 ? '' : row.lost}</td>
            <td>{row.at === '' ? '' : sayWhen(row.at)}</td>
            <td>{row.print !== null && <Printed print={row.print} files={row.files} />}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Printed({ print, files }: { readonly print: string; readonly files: readonly string[] }) {
  return (
    <details>
      <summary>
        {print}, {files.length} files
      </summary>
      <ul>
        {files.map((path) => (
          <li key={path}>{path}</li>
        ))}
      </ul>
    </details>
  );
}

/** `today 15:40`, `23 Nov 15:40`. */
function sayWhen(at: string): string {
  const time = new Date(at);
  if (Number.isNaN(time.getTime())) return at;
  const clock = time.toLocaleTimeString('en-GB', { hour: '2-digit', minute: '2-digit' });
  const isToday = time.toDateString() === new Date().toDateString();
  return `${isToday ? 'today' : time.toLocaleDateString('en-GB', { day: 'numeric', month: 'short' })} ${clock}`;
}
