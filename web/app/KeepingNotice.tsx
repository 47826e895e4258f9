import { useEffect, useRef } from 'react';
import { Button } from 'react-aria-components';
import { SESSION_FILE, writeSession } from '../../core/session/session-file.js';
import { download } from '../files/download.js';
import { sayKeeping } from '../state/keeping.js';
import type { WorkbenchState } from '../state/workbench-state.js';
import type { Workbench } from '../state/workbench.js';

interface KeepingNoticeProps {
  readonly state: WorkbenchState;
  readonly workbench: Workbench;
}

/** Said calmly above the bar: that another tab edits the song, or that the session is not kept; and what can be done. */
export function KeepingNotice({ state, workbench }: KeepingNoticeProps) {
  const { readsOnly, keeping, history } = state;
  if (readsOnly) return <ReadsOnly refused={state.refusedEdits} onTakeOver={workbench.song.takeOver} />;
  const sentence = keeping === null ? null : sayKeeping(keeping);
  if (sentence === null) return null;
  const save = () =>
    download(SESSION_FILE, new TextEncoder().encode(writeSession(history.session)), 'application/json');
  return (
    <section className="keeping" role="status">
      <p className="sentence">{sentence}</p>
      <Button className="word-button slim" onPress={save}>
        Save the session as a file
      </Button>
    </section>
  );
}

/** An edit that was tried brings the focus here. */
function ReadsOnly({ refused, onTakeOver }: { readonly refused: number; onTakeOver(): void }) {
  const button = useRef<HTMLButtonElement>(null);
  useEffect(() => {
    if (refused > 0) button.current?.focus();
  }, [refused]);
  return (
    <section className="keeping">
      <p className="sentence" role="status">
        This song is open in another tab, which edits it. Here you listen and look; nothing is changed, saved or
        printed. When the other closes, this one goes on.
      </p>
      <Button ref={button} className="word-button slim" onPress={onTakeOver}>
        Edit it here
      </Button>
    </section>
  );
}
