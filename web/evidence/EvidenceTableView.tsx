import type { EvidenceTable } from './evidence-panel.js';

interface EvidenceTableViewProps {
  readonly table: EvidenceTable;
  readonly caption: string;
}

/** The same evidence as a table. */
export function EvidenceTableView({ table, caption }: EvidenceTableViewProps) {
  return (
    <div className="evidence-table" tabIndex={0} role="region" aria-label={caption}>
      <table>
        <caption>{caption}</caption>
        <thead>
          <tr>
            {table.columns.map(({ name, numbers }) => (
              <th key={name} scope="col" data-numbers={numbers === true}>
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {table.rows.map((row, r) => (
            <tr key={r}>
              {row.map((cell, c) => (
                <td key={c} data-numbers={table.columns[c]?.numbers === true}>
                  {cell}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
