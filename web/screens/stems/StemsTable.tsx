import { ROLES, type Role } from '../../../core/song/song.js';
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
  onRole(file: string, role: Role): void;
}

export function StemsTable({ rows, onRole }: StemsTableProps) {
  return (
    <table className="stems-table">
      <thead>
        <tr>
          <th scope="col">File</th>
          <th scope="col">Role</th>
          <th scope="col">Because</th>
          <th scope="col">Format</th>
          <th scope="col">What to know</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.file} data-aside={row.role === 'aside'}>
            <th scope="row">{row.file}</th>
            <td className="stem-role">{row.readable ? <RoleChoice row={row} onRole={onRole} /> : 'left out'}</td>
            <td>{row.because}</td>
            <td>{row.format}</td>
            <td className="to-know" data-nothing={row.toKnow.length === 0}>
              {row.toKnow.length === 0 ? 'nothing' : row.toKnow.join(' ')}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
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
