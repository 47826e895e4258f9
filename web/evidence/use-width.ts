import { startTransition, useEffect, useRef, useState, type RefObject } from 'react';

const lastWidths = new Map<string, number>();

/**
 * The width of an element in whole CSS pixels, kept up to date; 0 until the first that stands in such a place is laid out. It is
 * told after the page was laid out by itself, and what is drawn for it is drawn in slices: nobody waits for a figure.
 */
export function useWidth(place: string): readonly [RefObject<HTMLElement | null>, number] {
  const element = useRef<HTMLElement>(null);
  const [width, setWidth] = useState(lastWidths.get(place) ?? 0);
  useEffect(() => {
    const { current } = element;
    if (current === null) return undefined;
    const observer = new ResizeObserver(([entry]) => {
      const now = Math.floor(entry!.contentRect.width);
      lastWidths.set(place, now);
      startTransition(() => setWidth(now));
    });
    observer.observe(current);
    return () => observer.disconnect();
  }, [place]);
  return [element, width];
}
