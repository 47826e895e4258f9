import { ROLES, type Role } from '../../../core/song/song.js';
import { DrawingSvg } from '../../marks/DrawingSvg.js';
import { stretchText } from '../../strip/beat-grid.js';
import type { StripView } from '../../strip/strip-view.js';
import type { FoundSong } from './found-song.js';
import { stemBars } from './stem-bars.js';
import type { StemRow } from './stem-rows.js';

const ROLE_WORDS: Readonly<Record<Role, string>> = {
  kick: 'kick',
  bass: 'bass',
  rest: 'rest',
  mix: 'rough mix',
  reference: 'reference',
  aside: 'set aside',
};

export interface StemsTableProps {
  readonly rows: readonly StemRow[];
  /** Null until the song is measured. */
  readonly found: FoundSong | null;
  /** The bars that are drawn of each stem. */
  readonly view: StripView | null;
  onRole(file: string, role: Role): void;
}

const BARS_WIDTH = 228;
const BARS_HEIGHT = 26;

/** The stems: what each is taken for and why, four bars of it, its format, and what is to be known of it. */
export function StemsTable({ rows, found, view, onRole }: StemsTableProps) {
  return (
    <table className="stems-table">
      <thead>
        <tr>
          <th scope="col">File</th>
          <th scope="col">Role</th>
          <th scope="col">Because</th>
          <th scope="col">{found === null || view === null ? 'Four bars' : barsWords(found, view)}</th>
          <th scope="col">Format</th>
          <th scope="col">What to know</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.file} data-aside={row.role === 'aside'}>
            <th scope="row">{row.file}</th>
            <td className="stem-role">{row.readable ? <RoleChoice row={row} onRole={onRole} /> : 'left out'}</td>
            <td className="stem-because">{row.because}</td>
            <td className="stem-bars">
              {found !== null && view !== null && row.level !== null && <FourBars {...{ row, found, view }} />}
            </td>
            <td className="stem-format">{row.format}</td>
            <td className="to-know" data-nothing={row.toKnow.length === 0}>
              {row.toKnow.length === 0 && row.isRead ? 'nothing' : row.toKnow.join(' ')}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function barsWords({ grid }: FoundSong, view: StripView): string {
  const words = stretchText(grid, view.from_s, view.to_s);
  return words.charAt(0).toUpperCase() + words.slice(1);
}

function FourBars({
  row,
  found,
  view,
}: {
  readonly row: StemRow;
  readonly found: FoundSong;
  readonly view: StripView;
}) {
  const place = { view, width: BARS_WIDTH, height: BARS_HEIGHT };
  return (
    <svg
      viewBox={`0 0 ${BARS_WIDTH} ${BARS_HEIGHT}`}
      width={BARS_WIDTH}
      height={BARS_HEIGHT}
      preserveAspectRatio="none"
      aria-hidden="true"
    >
      <DrawingSvg drawing={stemBars(row.role, row.level, found, place)} />
    </svg>
  );
}

function RoleChoice({ row, onRole }: { readonly row: StemRow; onRole: StemsTableProps['onRole'] }) {
  return (
    <>
      <RoleMark role={row.role} />
      <select
        aria-label={`Role of ${row.file}`}
        value={row.role ?? ''}
        onChange={({ target }) => onRole(row.file, target.value as Role)}
      >
        {row.role === null && (
          <option value="" disabled>
            not known yet
          </option>
        )}
        {ROLES.map((role) => (
          <option key={role} value={role}>
            {ROLE_WORDS[role]}
          </option>
        ))}
      </select>
    </>
  );
}

/** Three uprights, three levels, a solid bar, an open bar; a hairline for what is left out. */
function RoleMark({ role }: { readonly role: Role | null }) {
  return (
    <svg className="role-mark" data-role={role ?? 'none'} width="12" height="11" viewBox="0 0 12 11" aria-hidden="true">
      {role === 'kick' && <path d="M1.5 1v9M5.5 1v9M9.5 1v9" />}
      {role === 'bass' && <path d="M1 1.5h10M1 5.5h10M1 9.5h10" />}
      {role === 'rest' && <path className="solid" d="M1 2.5h10v6h-10z" />}
      {(role === 'reference' || role === 'mix') && <path d="M1 2.5h10v6h-10z" />}
      {(role === 'aside' || role === null) && <path d="M1 5.5h10" />}
    </svg>
  );
}
