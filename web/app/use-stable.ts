import { useCallback, useLayoutEffect, useRef } from 'react';

/** The same function for as long as its owner stands, which does what the latest one given does. Not to be called while drawing. */
export function useStable<Args extends unknown[], Result>(
  latest: (...args: Args) => Result,
): (...args: Args) => Result {
  const kept = useRef(latest);
  useLayoutEffect(() => {
    kept.current = latest;
  });
  return useCallback((...args: Args) => kept.current(...args), []);
}
