import { Button } from 'react-aria-components';
import { useState } from 'react';
import type { InspectedSong, PrintedSong } from '../../protocol/job-messages.js';
import { download } from '../files/download.js';
import { beginInView } from '../design/come-into-view.js';
import { ClientReport } from '../report/ClientReport.js';
import { RecallSheet } from '../report/RecallSheet.js';
import { ProofScreen } from '../screens/proof/ProofScreen.js';
import { mayPrint, type WorkbenchState } from '../state/workbench-state.js';
import type { Workbench } from '../state/workbench.js';

export interface ProofSheetProps {
  readonly state: WorkbenchState;
  readonly workbench: Workbench;
  readonly song: InspectedSong;
}

type Paper = 'proof' | 'report' | 'recall';

/** What the print is worth, measured again from its files; the report and the recall sheet made of it. */
export function ProofSheet({ state, workbench, song }: ProofSheetProps) {
  const [paper, setPaper] = useState<Paper>('proof');
  const { printed, solved, history } = state;
  if (printed === null) return <NothingPrinted {...{ state, workbench }} />;
  const { proof } = printed;
  const treatment = history.session.treatment ?? song.untreated;
  if (paper !== 'proof') {
    const date = new Date().toLocaleDateString('en-GB', { day: 'numeric', month: 'long', year: 'numeric' });
    const about = { song: song.name, version: proof.version, date, proof, treatment };
    return (
      <main className="paper-sheet" key={paper} ref={beginInView}>
        <div className="button-row">
          <Button className="word-button" onPress={() => setPaper('proof')}>
            Back to the proof
          </Button>
          <Button className="word-button inked" onPress={() => print()}>
            Print on paper
          </Button>
        </div>
        {paper === 'report' ? <ClientReport {...about} /> : <RecallSheet {...about} />}
      </main>
    );
  }
  return (
    <main className="proof-sheet">
      <PrintedFiles printed={printed} song={song.name} />
      <ProofScreen
        {...{ proof, treatment, solution: solved?.solution ?? null }}
        onReport={() => setPaper('report')}
        onRecall={() => setPaper('recall')}
        onPrint={() => workbench.raise('print')}
      />
    </main>
  );
}

function NothingPrinted({ state, workbench }: Pick<ProofSheetProps, 'state' | 'workbench'>) {
  const { solved } = state;
  const may = mayPrint(state);
  return (
    <main className="proof-sheet">
      <h2>Nothing is printed yet</h2>
      <p className="sentence">
        Here will stand every hit before and after, the six measures, what was gained and lost, and the files, measured
        again from the prints. {solved === null ? 'Agree to a finding or a wish and solve it first.' : ''}
      </p>
      <Button className="word-button inked" isDisabled={!may} onPress={() => workbench.raise('print')}>
        Print
      </Button>
    </main>
  );
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
