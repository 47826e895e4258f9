import { KeysSheet } from '../keys/KeysSheet.js';
import { PrintSheet } from '../print/PrintSheet.js';
import { mayPrint, type WorkbenchState } from '../state/workbench-state.js';
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
          rowsNow={workbench.versions.rowsNow()}
          matchNow_dB={workbench.versions.matchNow_dB()}
          mayEdit={!state.readsOnly}
          onName={(name) => workbench.versions.name(name)}
          onBringBack={(revision, mark) => workbench.versions.bringBack(revision, mark)}
          onHear={workbench.versions.audition}
        />
      </RaisedSheet>
    );
  }
  if (raised === 'print' && (song === null || !mayPrint(state))) {
    return (
      <RaisedSheet title="Print" scope="nothing to print as it stands" onClose={onClose}>
        <p className="sentence">Solve what is agreed to first; then it can be printed.</p>
      </RaisedSheet>
    );
  }
  if (raised === 'print' && song !== null) {
    return (
      <RaisedSheet title="Print" scope="defaults keep depth and names; no source is touched" onClose={onClose}>
        <PrintSheet
          song={songToPrint(state)}
          printing={history.session.printing}
          versions={history.session.versions}
          writable={state.listed?.writable ?? false}
          onPrint={(choices) => void workbench.treating.print(choices)}
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

function songToPrint({ song, listed, history }: WorkbenchState) {
  const sizes = (listed?.stems ?? []).flatMap(({ file, size_bytes }) =>
    size_bytes === undefined ? [] : [[file, size_bytes] as const],
  );
  return {
    stems: song!.stems,
    sampleRate_Hz: song!.sampleRate_Hz,
    treatment: history.session.treatment ?? song!.untreated,
    sizes_bytes: new Map(sizes),
  };
}
