import { startTransition, useEffect, useState } from 'react';

/** False while a sheet is drawn for the first time, true a frame later: a part that can wait so long is laid out by itself. */
export function useNextFrame(): boolean {
  const [hasCome, setHasCome] = useState(false);
  useEffect(() => {
    let frame = requestAnimationFrame(() => {
      frame = requestAnimationFrame(() => startTransition(() => setHasCome(true)));
    });
    return () => cancelAnimationFrame(frame);
  }, []);
  return hasCome;
}
