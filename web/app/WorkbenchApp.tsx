import { useMemo } from 'react';
import { rowBalloons } from '../screens/findings/row-balloons.js';
import { useWorkbench, useWorkbenchState } from '../state/use-workbench.js';
import type { Sheet, WorkbenchState } from '../state/workbench-state.js';
import { openingView } from '../strip/opening-view.js';
import { SongStrip } from '../strip/SongStrip.js';
import { stripSong, type StripSong } from '../strip/strip-song.js';
import { StripWindow } from '../strip/strip-window.js';
import { isMeasured } from '../../core/units/reading.js';
import { DecisionBar } from './DecisionBar.js';
import { EmptyStrip } from './EmptyStrip.js';
import { Sheets } from './Sheets.js';
import { songFacts } from './song-facts.js';
import { TitleBlock } from './TitleBlock.js';
import { useUndoKeys } from './use-undo-keys.js';
import { WorkingArea } from './WorkingArea.js';
import './sheet.css';

/** The whole sheet: head, strip, the sheet that is shown, and the bar at the foot. */
export function WorkbenchApp() {
  const workbench = useWorkbench();
  const state = useWorkbenchState();
  useUndoKeys(workbench);
  const strip = useStrip(state);
  const window = useMemo(
    () => (strip === null ? null : new StripWindow(openingView(strip, globalThis.innerWidth))),
    // the view stays where it is when the treated hits come
    [state.song],
  );
  const { song, source, sheet, listed, history } = state;
  const title = song?.name ?? listed?.name ?? (source === null ? 'No song yet' : sourceName(source));
  return (
    <div className="sheet">
      <Sheets
        sheet={sheet}
        title={title}
        facts={song === null ? NO_FACTS : songFacts(song)}
        ready={readySheets(state)}
        onSheet={(next) => workbench.show(next)}
        strip={<Strip {...{ state, strip, window }} />}
      >
        <WorkingArea {...{ state, workbench, strip, window }} />
      </Sheets>
      {song !== null && <DecisionBar {...{ state, workbench }} />}
      <footer className="bar">
        <p>Nothing is played yet. Loud lows damage hearing and drivers before they sound loud.</p>
        <TitleBlock
          song={title}
          sheet={`${SHEET_NUMBER[sheet]} of 4`}
          version={history.session.versions.at(-1)?.name ?? 'not printed'}
          saved_ms={state.saved_ms}
        />
      </footer>
    </div>
  );
}

const NO_FACTS =
  'This sheet fills from the top: the song, what was found in it, the evidence, what to do, and what it did.';
const SHEET_NUMBER: Readonly<Record<Sheet, number>> = { stems: 1, findings: 2, path: 3, proof: 4 };

function sourceName(source: NonNullable<WorkbenchState['source']>): string {
  return source.kind === 'demo' ? 'The demo song' : source.name;
}

function readySheets({ song }: WorkbenchState): ReadonlySet<Sheet> {
  return new Set(song === null ? ['stems'] : ['stems', 'findings', 'path', 'proof']);
}

function useStrip({ song, solved }: WorkbenchState): StripSong | null {
  return useMemo(() => {
    if (song === null) return null;
    const after = solved?.solution.after.clearance;
    const treated = after !== undefined && isMeasured(after) ? after : null;
    return stripSong(song.measured, song.frameCount / song.sampleRate_Hz, song.lows, treated);
  }, [song, solved]);
}

interface StripProps {
  readonly state: WorkbenchState;
  readonly strip: StripSong | null;
  readonly window: StripWindow | null;
}

function Strip({ state, strip, window }: StripProps) {
  const { song, source, sheet, chosenFinding } = state;
  if (source === null) return <EmptyStrip />;
  if (song === null || strip === null || window === null) return null;
  if (sheet === 'proof' || sheet === 'stems') return null;
  if (sheet === 'path') return <SongStrip song={strip} window={window} rows={PATH_ROWS} />;
  return <SongStrip song={strip} window={window} balloons={rowBalloons(song.faults.findings, chosenFinding)} />;
}

const PATH_ROWS = ['bars', 'clearance'] as const;
