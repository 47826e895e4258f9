import { useMemo } from 'react';
import { Button } from 'react-aria-components';
import type { Role } from '../../../core/song/song.js';
import type { InspectedSong, ListedSong, Trouble } from '../../../protocol/job-messages.js';
import { TroubleNote } from '../../app/TroubleNote.js';
import { ProgressLine } from '../../app/ProgressLine.js';
import type { Work } from '../../state/worker-client.js';
import type { StripSong } from '../../strip/strip-song.js';
import { FoundInSong } from './FoundInSong.js';
import { foundSong } from './found-song.js';
import { MonoStems } from './MonoStems.js';
import { tellingBars } from './stem-bars.js';
import { StemsTable } from './StemsTable.js';
import { stemRows } from './stem-rows.js';
import './stems.css';

export interface StemsScreenProps {
  readonly listed: ListedSong | null;
  readonly song: InspectedSong | null;
  readonly strip: StripSong | null;
  /** How loud mono stems stand in both channels. */
  readonly monoStems_dB: number;
  readonly byHand: ReadonlyMap<string, Role>;
  readonly work: Work | null;
  readonly trouble: Trouble | null;
  onRole(file: string, role: Role): void;
  onMono(level_dB: number): void;
  onMeasure(): void;
  onStop(): void;
  onClose(): void;
  onFindings(): void;
}

/** What the stems are, what they are taken for and why. */
export function StemsScreen(props: StemsScreenProps) {
  const { listed, song, strip, byHand, work, trouble } = props;
  const found = useMemo(() => (song === null || strip === null ? null : foundSong(song, strip)), [song, strip]);
  const view = useMemo(() => (found === null ? null : tellingBars(found)), [found]);
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
      {listed !== null && (
        <StemsTable rows={stemRows(listed, song, byHand)} found={found} view={view} onRole={props.onRole} />
      )}
      {song !== null && <MonoStems stems={song.stems} level_dB={props.monoStems_dB} onLevel={props.onMono} />}
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
      {song !== null && found !== null && <FoundInSong song={song} found={found} />}
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
