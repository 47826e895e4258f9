import { Button } from 'react-aria-components';
import { isUnsolved, mayPrint, maySolve, type WorkbenchState } from '../state/workbench-state.js';
import type { Workbench } from '../state/workbench.js';

/** What was decided can be taken back by name; everything can be treated at once; what is agreed to is solved, then printed. */
export function DecisionBar({ state, workbench }: { readonly state: WorkbenchState; readonly workbench: Workbench }) {
  const { done, undone } = state.history;
  const unsolved = isUnsolved(state);
  const back = done.at(-1);
  const again = undone.at(-1);
  return (
    <div className="decision-bar">
      <Button className="word-button slim" isDisabled={back === undefined} onPress={() => workbench.deciding.undo()}>
        {back === undefined ? 'Undo' : `Undo: ${back.name}`}
      </Button>
      <Button className="word-button slim" isDisabled={again === undefined} onPress={() => workbench.deciding.redo()}>
        {again === undefined ? 'Redo' : `Redo: ${again.name}`}
      </Button>
      <span className="spring" />
      {state.sheet === 'findings' && (
        <Button
          className="word-button slim"
          isDisabled={state.work?.task === 'inspect'}
          onPress={() => workbench.deciding.treatAll()}
        >
          Treat everything found
        </Button>
      )}
      <Button
        className={unsolved ? 'word-button slim inked' : 'word-button slim'}
        isDisabled={!maySolve(state)}
        onPress={() => void workbench.treating.solve()}
      >
        Solve
      </Button>
      <Button className="word-button slim" isDisabled={!mayPrint(state)} onPress={() => workbench.raise('print')}>
        Print
      </Button>
    </div>
  );
}
