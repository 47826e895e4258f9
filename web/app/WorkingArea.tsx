import { useMemo } from 'react';
import type { Listening } from '../listen/listening.js';
import { FindingsScreen } from '../screens/findings/FindingsScreen.js';
import { PathScreen } from '../screens/path/PathScreen.js';
import type { SolvingState } from '../screens/path/path-props.js';
import { EmptySheet } from '../screens/stems/EmptySheet.js';
import { partOf, strandOf } from '../screens/path/soloed-strand.js';
import { StemsScreen } from '../screens/stems/StemsScreen.js';
import { decideEdit, wishEdit } from '../state/session-edits.js';
import { standingWishes } from '../state/standing-wishes.js';
import type { Work } from '../state/worker-client.js';
import { isStopped, isUnsolved, type WorkbenchState } from '../state/workbench-state.js';
import type { Workbench } from '../state/workbench.js';
import type { HeardPart } from '../../protocol/heard-part.js';
import type { InspectedSong } from '../../protocol/job-messages.js';
import type { StripSong } from '../strip/strip-song.js';
import type { StripWindow } from '../strip/strip-window.js';
import { ProgressLine } from './ProgressLine.js';
import { ProofSheet } from './ProofSheet.js';
import { TroubleNote } from './TroubleNote.js';

export interface WorkingAreaProps {
  readonly state: WorkbenchState;
  readonly workbench: Workbench;
  readonly strip: StripSong | null;
  readonly window: StripWindow | null;
  readonly solo: HeardPart;
  readonly without: string | null;
  onHear(from_s: number, to_s: number): void;
  onListening(change: Partial<Listening>): void;
}

/** The sheet that is shown, given its share of the state. */
export function WorkingArea(props: WorkingAreaProps) {
  const { state, workbench, strip } = props;
  const { song, source, sheet } = state;
  if (source === null) return <EmptySheet onOpen={workbench.song.open} recentSongs={workbench.song.recentSongs} />;
  const trouble = state.trouble?.sheet === sheet ? state.trouble.trouble : null;
  if (sheet === 'stems' || song === null || strip === null) {
    return (
      <StemsScreen
        {...{ listed: state.listed, soFar: state.soFar, song, strip, byHand: state.roles, work: state.work, trouble }}
        monoStems_dB={state.history.session.monoStems_dB}
        onMono={(level_dB) => void workbench.song.standMono(level_dB)}
        onRole={(file, role) => void workbench.song.giveRole(file, role)}
        onMeasure={() => void workbench.song.measure()}
        onOpenAgain={() => void workbench.song.openAgain()}
        onStop={() => void workbench.song.stop()}
        onClose={() => workbench.song.close()}
        onFindings={() => workbench.show('findings')}
      />
    );
  }
  return (
    <>
      {trouble !== null && <TroubleNote trouble={trouble} onOpenAgain={() => void workbench.song.openAgain()} />}
      {state.work !== null && <ProgressLine work={state.work} onStop={() => void workbench.song.stop()} />}
      {isStopped(state) && (
        <p className="sentence kept-best" role="status">
          {state.solved?.solution.stopped} Solve goes on to the end.
        </p>
      )}
      {sheet === 'findings' && <Findings {...props} song={song} strip={strip} />}
      {sheet === 'path' && <Path {...props} song={song} />}
      {sheet === 'proof' && <ProofSheet {...{ state, workbench, song }} />}
    </>
  );
}

function Findings({
  state,
  workbench,
  strip,
  window,
  song,
  onHear,
}: WorkingAreaProps & { song: InspectedSong; strip: StripSong }) {
  const { solved, history, chosenFinding } = state;
  const wishes = useMemo(() => standingWishes(history.session, solved?.solution ?? null), [history.session, solved]);
  return (
    <FindingsScreen
      wishes={wishes}
      onWish={(wish) => workbench.deciding.edit(wishEdit(wish))}
      song={strip}
      measured={song.measured}
      faults={song.faults}
      decisions={history.session.decisions}
      solution={solved?.solution ?? null}
      faultsAfter={solved?.faultsAfter ?? null}
      chosen={chosenFinding}
      mayDecide={!state.readsOnly}
      onChoose={(index) => workbench.choose(index)}
      onDecide={(finding, action, reason) => workbench.deciding.edit(decideEdit(finding, action, reason))}
      onHear={onHear}
      onGoTo={(time_s) => window?.set(around(time_s, window.view, strip.duration_s))}
    />
  );
}

function Path({ state, workbench, song, solo, without, onListening }: WorkingAreaProps & { song: InspectedSong }) {
  const { solved, history, work } = state;
  const byHand = useMemo(
    () => new Set(history.session.settings.map(({ address }) => address)),
    [history.session.settings],
  );
  const wishes = useMemo(() => standingWishes(history.session, solved?.solution ?? null), [history.session, solved]);
  return (
    <main>
      <PathScreen
        wishes={wishes}
        treatment={history.session.treatment ?? song.untreated}
        solution={solved?.solution ?? null}
        measured={song.measured}
        solving={work === null ? null : solvingOf(work)}
        open={state.openStage}
        soloed={strandOf(solo)}
        without={without}
        byHand={byHand}
        onOpen={(openStage) => workbench.openStage(openStage)}
        onSolo={(strand) => onListening({ solo: partOf(strand) })}
        onWithout={(next) => onListening({ without: next, side: 'treated', difference: false, reference: null })}
        unsolved={isUnsolved(state)}
        onSetting={(address, value) => workbench.deciding.setByHand(address, value)}
        onRelease={(address, found) => workbench.deciding.release(address, found)}
        onWish={(_address, wish) => workbench.deciding.edit(wishEdit(wish))}
        onStage={(address, on) => workbench.deciding.switchStage(address, on)}
        onOrder={(addresses) => workbench.deciding.orderStages(addresses)}
        onSolve={() => void workbench.treating.solve()}
      />
    </main>
  );
}

function solvingOf({ solving }: Work): SolvingState {
  return { address: solving?.stage ?? null };
}

/** The same length of song, with a time in its middle. */
function around(time_s: number, view: { from_s: number; to_s: number }, duration_s: number) {
  const length_s = view.to_s - view.from_s;
  const from_s = Math.max(0, Math.min(duration_s - length_s, time_s - length_s / 2));
  return { from_s, to_s: from_s + length_s };
}
