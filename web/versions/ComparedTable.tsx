import { compareVersions } from './compare-versions.js';
import type { VersionRow } from './version-rows.js';

/** Two versions by number: every figure that differs, and how many read the same. */
export function ComparedTable({ one, other }: { readonly one: VersionRow; readonly other: VersionRow }) {
  if (one.mark === other.mark) return <p className="note">Choose another one to compare it with.</p>;
  const { differ, same } = compareVersions(one.rows, other.rows);
  if (differ.length + same === 0) return <p className="note">Neither was solved when it was named: no figures.</p>;
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">What differs</th>
          <th scope="col">{one.mark}</th>
          <th scope="col">{other.mark}</th>
          <th scope="col">Difference</th>
        </tr>
      </thead>
      <tbody>
        {differ.map((figure) => (
          <tr key={figure.name}>
            <th scope="row">{figure.name}</th>
            <td>{figure.one}</td>
            <td>{figure.other}</td>
            <td>{figure.difference}</td>
          </tr>
        ))}
        <tr>
          <th scope="row">Everything else</th>
          <td colSpan={3}>{same === 0 ? 'nothing' : `${same} figures the same as they are shown`}</td>
        </tr>
      </tbody>
    </table>
  );
}
