import { chooseFiles, chooseFolder } from '../files/choose-source.js';
import type { KeyAction } from '../keys/key-table.js';
import { useKey, useKeyboard } from '../keys/use-keys.js';
import { maySolve, mayPrint, SHEETS, type Sheet, type WorkbenchState } from '../state/workbench-state.js';
import type { Workbench } from '../state/workbench.js';
import { nextOf } from './loop-at.js';
import { useEffect } from 'react';

/** What the keys do to the sheet as a whole: which one is shown, undo, solve, print, what rises over it. */
export function useSheetKeys(state: WorkbenchState, workbench: Workbench, ready: ReadonlySet<Sheet>): void {
  const keyboard = useKeyboard();
  useEffect(() => keyboard.listen(window), [keyboard]);
  const { song, work, raised, chosenFinding } = state;
  const findings = song?.faults.findings ?? [];
  const show = (sheet: Sheet) => (ready.has(sheet) ? () => workbench.show(sheet) : null);
  const [stems, found, path, proof] = SHEETS;
  useKey('stems', show(stems));
  useKey('findings', show(found));
  useKey('path', show(path));
  useKey('proof', show(proof));
  useKey('undo', () => workbench.deciding.undo());
  useKey('redo', () => workbench.deciding.redo());
  useKey('keys', () => workbench.raise(raised === 'keys' ? null : 'keys'));
  useKey('print', mayPrint(state) ? () => workbench.raise('print') : null);
  useKey('name-version', song === null ? null : () => nameVersion(workbench));
  useKey(
    'close',
    raised !== null ? () => workbench.raise(null) : work !== null ? () => void workbench.song.stop() : null,
  );
  useKey('solve', song !== null && maySolve(state) ? () => void workbench.treating.solve() : null);
  const stepTo = (step: 1 | -1) => () => {
    const at = nextOf([...findings.keys()], chosenFinding, step);
    workbench.choose(at);
    workbench.show('findings');
  };
  useKey('next-finding', findings.length > 0 ? stepTo(1) : null);
  useKey('finding-before', findings.length > 0 ? stepTo(-1) : null);
  const open = (choose: typeof chooseFolder) => () =>
    void choose().then((source) => {
      if (source !== null) void workbench.song.open(source);
    });
  useKey('open-folder', open(chooseFolder));
  useKey('add-files', song === null && work === null ? open(chooseFiles) : null);
}

/** The versions rise, and their field takes what is typed. */
function nameVersion(workbench: Workbench): void {
  workbench.raise('versions');
  focusOnceDrawn('version-name');
}

const MOST_FRAMES = 120;

/** The sheet is drawn a moment after it is raised. */
function focusOnceDrawn(id: string, frames = MOST_FRAMES): void {
  requestAnimationFrame(() => {
    const field = document.getElementById(id);
    if (field !== null) field.focus();
    else if (frames > 0) focusOnceDrawn(id, frames - 1);
  });
}

/** The key of each sheet. */
export const SHEET_KEYS: Readonly<Record<Sheet, KeyAction>> = {
  stems: 'stems',
  findings: 'findings',
  path: 'path',
  proof: 'proof',
};
