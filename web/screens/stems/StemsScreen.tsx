import { useMemo } from 'react';
import { Button } from 'react-aria-components';
import type { Role } from '../../../core/song/song.js';
import type { InspectedSong, ListedSong, Trouble } from '../../../protocol/job-messages.js';
import { TroubleNote } from '../../app/TroubleNote.js';
import { ProgressLine } from '../../app/ProgressLine.js';
import type { Work } from '../../state/worker-client.js';
import type { StripSong } from '../../strip/strip-song.js';
import type { SongSoFar } from '../../state/song-so-far.js';
import { FoundInSong } from './FoundInSong.js';
import { foundSentence } from './found-sentence.js';
import { foundSong } from './found-song.js';
import { MonoStems } from './MonoStems.js';
import { tellingBars } from './stem-bars.js';
import { StemsTable } from './StemsTable.js';
import { stemRows } from './stem-rows.js';
import './stems.css';

export interface StemsScreenProps {
  readonly listed: ListedSong | null;
  /** What is told while the song is measured. */
  readonly soFar: SongSoFar | null;
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
  onOpenAgain(): void;
  onStop(): void;
  onClose(): void;
  onFindings(): void;
}

/** What the stems are, what they are taken for and why. */
export function StemsScreen(props: StemsScreenProps) {
  const { listed, soFar, song, strip, byHand, work, trouble } = props;
  const opened = soFar?.opened ?? null;
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
        <StemsTable rows={stemRows(listed, opened, byHand)} found={found} view={view} onRole={props.onRole} />
      )}
      {opened !== null && <MonoStems stems={opened.stems} level_dB={props.monoStems_dB} onLevel={props.onMono} />}
      {trouble !== null && (
        <TroubleNote trouble={trouble} onOpenAgain={props.onOpenAgain}>
          {listed !== null && (
            <Button className="word-button" onPress={props.onMeasure}>
              Measure again
            </Button>
          )}
        </TroubleNote>
      )}
      {work !== null && <ProgressLine work={work} onStop={props.onStop} />}
      {song !== null && found !== null && <FoundInSong song={song} found={found} />}
      {soFar !== null && <FoundSoFar {...{ soFar }} onFindings={song === null ? null : props.onFindings} />}
    </main>
  );
}

function FoundSoFar({ soFar, onFindings }: { readonly soFar: SongSoFar; readonly onFindings: (() => void) | null }) {
  const isWhole = soFar.measuring?.length === 0;
  return (
    <section className="found">
      {soFar.opened.remarks.map((remark) => (
        <p key={remark} className="sentence">
          {remark}
        </p>
      ))}
      <p className="sentence">{foundSentence(soFar.faults.findings, isWhole)}</p>
      {onFindings !== null && (
        <Button className={isWhole ? 'word-button inked' : 'word-button'} onPress={onFindings}>
          {isWhole ? 'See the findings' : 'See what is found so far'}
        </Button>
      )}
    </section>
  );
}
