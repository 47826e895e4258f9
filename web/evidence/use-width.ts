import { useLayoutEffect, useRef, useState, type RefObject } from 'react';

/** The width of an element in whole CSS pixels, kept up to date; 0 before it is laid out. */
export function useWidth(): readonly [RefObject<HTMLElement | null>, number] {
  const element = useRef<HTMLElement>(null);
  const [width, setWidth] = useState(0);
  useLayoutEffect(() => {
    const { current } = element;
    if (current === null) return undefined;
    const measure = (): void => setWidth(Math.floor(current.clientWidth));
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(current);
    return () => observer.disconnect();
  }, []);
  return [element, width];
}
