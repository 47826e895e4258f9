import { useDeferredValue, useEffect, useMemo, useState, type ReactNode } from 'react';
import type { Treatment } from '../../core/treatment/treatment.js';
import { isOfFiles, plainTreatment } from '../audio/plain-treatment.js';
import { wholeMixMatch } from '../listen/heard-match.js';
import { useWorkbench, useWorkbenchState } from '../state/use-workbench.js';
import type { Sheet, WorkbenchState } from '../state/workbench-state.js';
import { openingView } from '../strip/opening-view.js';
import type { StripLoop } from '../strip/SongStrip.js';
import { stripSong, type StripSong } from '../strip/strip-song.js';
import { StripWindow } from '../strip/strip-window.js';
import { versionNow } from '../versions/version-rows.js';
import { isMeasured } from '../../core/units/reading.js';
import { DecisionBar } from './DecisionBar.js';
import { DrawnSheet } from './DrawnSheet.js';
import { KeepingNotice } from './KeepingNotice.js';
import { SoundBar } from './SoundBar.js';
import { TitleBlock } from './TitleBlock.js';
import { readySheets } from './ready-sheets.js';
import { useLiveSound } from './use-live-sound.js';
import type { MatchGround } from './use-match.js';
import { useSheetKeys } from './use-sheet-keys.js';
import { useStable } from './use-stable.js';
import './sheet.css';
import './sheet-layout.css';

/** The whole sheet: head, strip, the sheet that is shown, and the bar at the foot. */
export function WorkbenchApp() {
  const workbench = useWorkbench();
  const state = useWorkbenchState();
  // the sheet is drawn in slices, a moment behind: what is heard, decided and typed never waits for it
  const drawn = useDeferredValue(state);
  useSheetKeys(state, workbench, readySheets(state));
  const strip = useStrip(drawn);
  const window = useMemo(
    () => (strip === null ? null : new StripWindow(openingView(strip, globalThis.innerWidth))),
    // the view stays where it is while more is measured and when the treated hits come
    [drawn.song?.lows],
  );
  const [loop, setLoop] = useState<StripLoop | null>(null);
  const [listeningOpen, setListeningOpen] = useState(false);
  const { song, sounding, source, sheet, listed, history, solved } = state;
  const treatment = useHeardTreatment(state);
  const ready = song !== null && (state.work === null || state.work.task === 'solve');
  const { auditioned } = state;
  const played = auditioned?.treatment ?? treatment;
  const given = useMemo(() => givenMatch(state), [auditioned, solved]);
  const live = useLiveSound({ song: sounding, of: song?.lows, treatment: played, given, ready }, workbench.hearing);
  const [loopBefore, setLoopBefore] = useState<StripLoop | null>(null);
  // a loop belongs to its song
  const isOpen = source !== null;
  useEffect(() => {
    if (isOpen) return;
    setLoop(null);
    setLoopBefore(null);
  }, [isOpen]);
  const loopOver = (next: StripLoop | null) => {
    // a blind compare keeps the loop that was agreed
    if (live.blind !== null) return;
    setLoop(next);
    if (next !== null) setLoopBefore(next);
    if (next === null) live.unloop();
    else live.loop(next[0], next[1]);
  };
  const hear = (from_s: number, to_s: number) => {
    loopOver([from_s, to_s]);
    if (!live.playback.read().playing) live.toggle();
  };
  const title = song?.name ?? listed?.name ?? (source === null ? 'No song yet' : sourceName(source));
  const version = useMemo(() => versionNow(history.session), [history.session]);
  const titleBlock = (
    <TitleBlock
      song={title}
      sheet={`${SHEET_NUMBER[sheet]} of 4`}
      version={version}
      saved_ms={state.saved_ms}
      onVersions={song === null ? null : () => workbench.raise(state.raised === 'versions' ? null : 'versions')}
      onKeys={() => workbench.raise(state.raised === 'keys' ? null : 'keys')}
    />
  );
  return (
    // told in the document, so that whoever drives the page from outside reads only what stands
    <div className="sheet" data-drawn={drawn === state}>
      <DrawnSheet
        {...{ workbench, strip, window, loop, title }}
        state={drawn}
        solo={live.listening.solo}
        without={live.listening.without}
        onLoop={useStable(loopOver)}
        onHear={useStable(hear)}
        onListenFrom={useStable(live.locate)}
        onListening={useStable(live.change)}
        playingAt_s={useStable(live.playingAt_s)}
      />
      <div className="foot">
        <KeepingNotice {...{ state, workbench }} />
        {song !== null && !state.readsOnly && !listeningOpen && <DecisionBar {...{ state, workbench }} />}
        {sounding === null ? (
          <SilentBar>{titleBlock}</SilentBar>
        ) : (
          <SoundBar
            {...{ live, strip, song, loop, sounding, loopBefore }}
            key={sounding.name}
            after={solved?.solution.after ?? null}
            finding={openFinding(state)}
            inSight={inSight(window)}
            sheetOpen={listeningOpen}
            compares={history.session.blindCompares}
            askLoudness={workbench.hearing.loudness}
            onSheet={setListeningOpen}
            onLoop={loopOver}
            onCompare={(record) => workbench.hearing.keepCompare(record)}
          >
            {titleBlock}
          </SoundBar>
        )}
      </div>
    </div>
  );
}

/** The match of the whole mix that is known beforehand: of the version that is heard, or of what was solved. */
function givenMatch({ auditioned, solved }: WorkbenchState): MatchGround['given'] {
  if (auditioned === null)
    return solved === null ? null : { treatment: solved.solution.treatment, match: solved.match };
  return { treatment: auditioned.treatment, match: wholeMixMatch(auditioned.match_dB) };
}

function openFinding({ song, chosenFinding }: WorkbenchState) {
  const finding = song?.faults.findings[chosenFinding];
  return finding === undefined ? null : { finding, number: chosenFinding + 1 };
}

function inSight(window: StripWindow | null): StripLoop {
  return window === null ? [0, 1] : [window.view.from_s, window.view.to_s];
}

function SilentBar({ children }: { readonly children: ReactNode }) {
  return (
    <footer className="bar">
      <p>Nothing to hear yet. The monitor starts at −20&nbsp;dB, ramps up and is limited.</p>
      {children}
    </footer>
  );
}

const SHEET_NUMBER: Readonly<Record<Sheet, number>> = { stems: 1, findings: 2, path: 3, proof: 4 };

function sourceName(source: NonNullable<WorkbenchState['source']>): string {
  return source.kind === 'demo' ? 'The demo song' : source.name;
}

/** What is played: as decided where the decisions are of these files, else the song as it came. */
function useHeardTreatment({ song, sounding, history }: WorkbenchState): Treatment | null {
  const { treatment } = history.session;
  return useMemo(() => {
    if (sounding === null) return null;
    if (treatment !== null && isOfFiles(treatment, sounding)) return treatment;
    return song?.untreated ?? plainTreatment(sounding);
  }, [treatment, song, sounding]);
}

function useStrip({ song, solved }: WorkbenchState): StripSong | null {
  return useMemo(() => {
    if (song === null) return null;
    const after = solved?.solution.after.clearance;
    const treated = after !== undefined && isMeasured(after) ? after : null;
    return stripSong(song.measured, song.frameCount / song.sampleRate_Hz, song.lows, treated);
  }, [song, solved]);
}
