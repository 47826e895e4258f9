import { Button } from 'react-aria-components';
import { formatValue } from '../../core/wishes/value-text.js';
import type { ProofRow } from '../../core/proof/compare-measurements.js';
import { isMeasured, type Reading } from '../../core/units/reading.js';
import type { PrintedSong } from '../../protocol/job-messages.js';
import { download } from '../files/download.js';
import { isUnsolved, type WorkbenchState } from '../state/workbench-state.js';
import type { Workbench } from '../state/workbench.js';

/** Print, and what the print is worth, measured again from its files. */
export function ProofSheet({ state, workbench }: { readonly state: WorkbenchState; readonly workbench: Workbench }) {
  const { printed, solved, work, song } = state;
  if (printed === null) {
    const may = solved !== null && !isUnsolved(state) && work === null;
    return (
      <main className="proof-sheet">
        <h2>Nothing is printed yet</h2>
        <p className="sentence">
          Here will stand every hit before and after, the six measures, what was gained and lost, and the files,
          measured again from the prints. {solved === null ? 'Agree to a finding or a wish and solve it first.' : ''}
        </p>
        <Button
          className="word-button inked"
          isDisabled={!may}
          onPress={() => void workbench.print({ depth: null, gain_dB: 0 })}
        >
          Print
        </Button>
      </main>
    );
  }
  return (
    <main className="proof-sheet">
      <PrintedFiles printed={printed} song={song?.name ?? ''} />
      <table className="proof-rows">
        <caption>Measured from the files, before and after</caption>
        <thead>
          <tr>
            <th scope="col">Measure</th>
            <th scope="col">Source</th>
            <th scope="col">Treated</th>
            <th scope="col">Verdict</th>
          </tr>
        </thead>
        <tbody>
          {printed.proof.rows.map((row) => (
            <tr key={row.statistic.address}>
              <th scope="row">{row.statistic.name}</th>
              <td>{sayReading(row, row.before)}</td>
              <td>{sayReading(row, row.after)}</td>
              <td>{VERDICTS[row.verdict]}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </main>
  );
}

const VERDICTS: Readonly<Record<ProofRow['verdict'], string>> = {
  better: 'gained',
  same: 'the same',
  'worse-within': 'lost, within tolerance',
  harm: 'lost, more than tolerance',
  moved: 'moved',
  'not-compared': 'not compared',
};

function sayReading({ statistic }: ProofRow, reading: Reading): string {
  if (!isMeasured(reading)) return `not measured: ${reading.reason}`;
  return formatValue(reading.value, statistic.unit);
}

function PrintedFiles({ printed, song }: { readonly printed: PrintedSong; readonly song: string }) {
  const { zip } = printed;
  const { version, files } = printed.printed;
  return (
    <section className="printed">
      <h2>
        Printed as {version}{' '}
        <small>
          {files.length} files in Keelson prints/{version}/
        </small>
      </h2>
      {zip !== null && (
        <Button className="word-button" onPress={() => download(`${song} ${version}.zip`, zip, 'application/zip')}>
          Save all prints as one zip
        </Button>
      )}
    </section>
  );
}
