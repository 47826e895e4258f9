import { useEffect } from 'react';
import type { Workbench } from '../state/workbench.js';

/** Ctrl or Cmd with Z takes back, with Shift or Y does again; never while text is typed. */
export function useUndoKeys(workbench: Workbench): void {
  useEffect(() => {
    const hear = (event: KeyboardEvent) => {
      if (!(event.ctrlKey || event.metaKey) || event.altKey || isTyping(event.target)) return;
      const key = event.key.toLowerCase();
      if (key === 'z' && !event.shiftKey) workbench.undo();
      else if (key === 'y' || (key === 'z' && event.shiftKey)) workbench.redo();
      else return;
      event.preventDefault();
    };
    addEventListener('keydown', hear);
    return () => removeEventListener('keydown', hear);
  }, [workbench]);
}

function isTyping(target: EventTarget | null): boolean {
  return target instanceof HTMLInputElement || target instanceof HTMLTextAreaElement;
}
