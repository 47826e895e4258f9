import { memo } from 'react';
import type { HeardPart } from '../../protocol/heard-part.js';
import type { Listening } from '../listen/listening.js';
import { rowBalloons } from '../screens/findings/row-balloons.js';
import { wishEdit } from '../state/session-edits.js';
import { standingWishes } from '../state/standing-wishes.js';
import type { WorkbenchState } from '../state/workbench-state.js';
import type { Workbench } from '../state/workbench.js';
import { SongStrip, type StripLoop } from '../strip/SongStrip.js';
import type { WantedClear } from '../strip/StripMargins.js';
import type { StripSong } from '../strip/strip-song.js';
import type { StripWindow } from '../strip/strip-window.js';
import { EmptyStrip } from './EmptyStrip.js';
import { Raised } from './Raised.js';
import { readySheets } from './ready-sheets.js';
import { Sheets } from './Sheets.js';
import { songFacts } from './song-facts.js';
import { WorkingArea } from './WorkingArea.js';

export interface DrawnSheetProps {
  readonly state: WorkbenchState;
  readonly workbench: Workbench;
  readonly strip: StripSong | null;
  readonly window: StripWindow | null;
  readonly loop: StripLoop | null;
  readonly title: string;
  /** What is heard by itself, and without which stage: shown where the path is drawn. */
  readonly solo: HeardPart;
  readonly without: string | null;
  /** Where the song is heard at this moment; null while nothing sounds. */
  playingAt_s(): number | null;
  onLoop(loop: StripLoop | null): void;
  onHear(from_s: number, to_s: number): void;
  onListenFrom(time_s: number): void;
  onListening(change: Partial<Listening>): void;
}

/** Head, strip and the sheet that is shown: all that is drawn of a song, and nothing that is heard. */
export const DrawnSheet = memo(function DrawnSheet(props: DrawnSheetProps) {
  const { state, workbench, strip, window, title, onHear, solo, without, onListening, ...heard } = props;
  const { song, sheet, raised } = state;
  return (
    <Sheets
      sheet={sheet}
      title={title}
      facts={song === null ? NO_FACTS : songFacts(song)}
      ready={readySheets(state)}
      onSheet={(next) => workbench.show(next)}
      strip={raised === null && <Strip {...{ state, workbench, strip, window, ...heard }} />}
    >
      {raised === null ? (
        <WorkingArea {...{ state, workbench, strip, window, onHear, solo, without, onListening }} />
      ) : (
        <Raised {...{ state, workbench }} />
      )}
    </Sheets>
  );
});

const NO_FACTS =
  'This sheet fills from the top: the song, what was found in it, the evidence, what to do, and what it did.';

type StripProps = Omit<DrawnSheetProps, 'title' | 'onHear' | 'solo' | 'without' | 'onListening'>;

function Strip({ state, workbench, strip, window, ...heard }: StripProps) {
  const { song, source, sheet, chosenFinding } = state;
  if (source === null) return <EmptyStrip />;
  if (song === null || strip === null || window === null) return null;
  if (sheet === 'proof' || sheet === 'stems') return null;
  const shown = { ...heard, song: strip, window, wantedClear: wantedClear(state, workbench) };
  if (sheet === 'path') return <SongStrip {...shown} rows={PATH_ROWS} />;
  return <SongStrip {...shown} balloons={rowBalloons(song.faults.findings, chosenFinding)} />;
}

/** The wish on the share of clear hits, where there is one: it is changed on the row of the hits. */
function wantedClear({ history, solved }: WorkbenchState, workbench: Workbench): WantedClear | null {
  const share = standingWishes(history.session, solved?.solution ?? null).get(CLEAR_SHARE)?.low ?? null;
  if (share === null) return null;
  return { share, onShare: (low) => workbench.deciding.edit(wishEdit({ statistic: CLEAR_SHARE, low, high: null })) };
}

const CLEAR_SHARE = 'clearance.share2dB';
const PATH_ROWS = ['bars', 'clearance'] as const;
