import { createContext, useContext, useSyncExternalStore } from 'react';
import type { WorkbenchState } from './workbench-state.js';
import type { Workbench } from './workbench.js';

export const WorkbenchContext = createContext<Workbench | null>(null);

export function useWorkbench(): Workbench {
  const workbench = useContext(WorkbenchContext);
  if (workbench === null) throw new Error('no workbench stands above this part');
  return workbench;
}

export function useWorkbenchState(): WorkbenchState {
  const { store } = useWorkbench();
  return useSyncExternalStore(store.subscribe, store.read);
}
