import { KeysSheet } from '../keys/KeysSheet.js';
import type { WorkbenchState } from '../state/workbench-state.js';
import type { Workbench } from '../state/workbench.js';
import { VersionsSheet } from '../versions/VersionsSheet.js';
import { RaisedSheet } from './RaisedSheet.js';

export interface RaisedProps {
  readonly state: WorkbenchState;
  readonly workbench: Workbench;
}

/** What rises over the sheet at the moment. */
export function Raised({ state, workbench }: RaisedProps) {
  const { raised, song, history } = state;
  const onClose = () => workbench.raise(null);
  if (raised === 'versions' && song !== null) {
    return (
      <RaisedSheet title="Versions" scope="kept as on a drawing, newest first" onClose={onClose}>
        <VersionsSheet
          session={history.session}
          untreated={song.untreated}
          rowsNow={workbench.rowsNow()}
          matchNow_dB={workbench.matchNow_dB()}
          mayEdit={!state.readsOnly}
          onName={(name) => workbench.nameVersion(name)}
          onBringBack={(revision, mark) => workbench.bringBack(revision, mark)}
          onHear={workbench.audition}
        />
      </RaisedSheet>
    );
  }
  return (
    <RaisedSheet title="Keys" scope="what each does; it goes with Esc" onClose={onClose}>
      <KeysSheet />
    </RaisedSheet>
  );
}
