import { Button } from 'react-aria-components';
import type { Role } from '../../../core/song/song.js';
import type { InspectedSong, ListedSong, Trouble } from '../../../protocol/job-messages.js';
import { TroubleNote } from '../../app/TroubleNote.js';
import { ProgressLine } from '../../app/ProgressLine.js';
import type { Work } from '../../state/worker-client.js';
import { StemsTable } from './StemsTable.js';
import { stemRows } from './stem-rows.js';
import './stems.css';

export interface StemsScreenProps {
  readonly listed: ListedSong | null;
  readonly song: InspectedSong | null;
  readonly byHand: ReadonlyMap<string, Role>;
  readonly work: Work | null;
  readonly trouble: Trouble | null;
  onRole(file: string, role: Role): void;
  onMeasure(): void;
  onStop(): void;
  onClose(): void;
  onFindings(): void;
}

/** What the stems are, what they are taken for and why. */
export function StemsScreen(props: StemsScreenProps) {
  const { listed, song, byHand, work, trouble } = props;
  return (
    <main className="stems-screen">
      <div className="screen-head">
        <h2>
          What the stems are <small>roles are guesses with their reason; change any of them</small>
        </h2>
        <Button className="word-button slim" onPress={props.onClose}>
          Open another song
        </Button>
      </div>
      {listed !== null && <StemsTable rows={stemRows(listed, song, byHand)} onRole={props.onRole} />}
      {trouble !== null && (
        <TroubleNote trouble={trouble}>
          {listed !== null && (
            <Button className="word-button" onPress={props.onMeasure}>
              Measure again
            </Button>
          )}
        </TroubleNote>
      )}
      {work !== null && <ProgressLine work={work} onStop={props.onStop} />}
      {song !== null && <FoundSoFar song={song} onFindings={props.onFindings} />}
    </main>
  );
}

function FoundSoFar({ song, onFindings }: { readonly song: InspectedSong; onFindings(): void }) {
  const { findings } = song.faults;
  return (
    <section className="found">
      {song.remarks.map((remark) => (
        <p key={remark} className="sentence">
          {remark}
        </p>
      ))}
      <p className="sentence">
        {findings.length === 0
          ? 'Nothing to mend: every measure lies within its tolerance.'
          : `${findings.length} ${findings.length === 1 ? 'finding' : 'findings'}, the dearest: ${findings[0]!.sentence}`}
      </p>
      <Button className="word-button inked" onPress={onFindings}>
        See the findings
      </Button>
    </section>
  );
}
