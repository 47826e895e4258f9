import { useSyncExternalStore } from 'react';

/** Width and height of the browser's window in CSS pixels. */
export function useWindowSize(): { readonly width: number; readonly height: number } {
  const width = useSyncExternalStore(onResize, () => window.innerWidth);
  const height = useSyncExternalStore(onResize, () => window.innerHeight);
  return { width, height };
}

function onResize(listener: () => void): () => void {
  window.addEventListener('resize', listener);
  return () => window.removeEventListener('resize', listener);
}
