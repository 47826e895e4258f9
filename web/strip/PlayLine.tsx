import { useEffect, useRef } from 'react';
import { placeAt } from './place-at.js';
import { lengthOf, moved } from './strip-view.js';
import type { StripWindow } from './strip-window.js';

interface PlayLineProps {
  readonly at_s: () => number | null;
  readonly window: StripWindow;
  readonly duration_s: number;
}

/** Where one is listening: the line moves, the page does not, until the line leaves at the right. */
export function PlayLine({ at_s, window: stripWindow, duration_s }: PlayLineProps) {
  const line = useRef<HTMLSpanElement>(null);
  useEffect(() => {
    let frame = 0;
    let before: number | null = null;
    const put = (): void => {
      const now = at_s();
      const { view } = stripWindow;
      if (now !== null && before !== null && before <= view.to_s && now > view.to_s) {
        stripWindow.set(moved(view, 0.95 * lengthOf(view), duration_s));
      }
      before = now;
      placeAt(line.current, stripWindow.view, now);
      frame = requestAnimationFrame(put);
    };
    put();
    return () => cancelAnimationFrame(frame);
  }, [at_s, stripWindow, duration_s]);
  return <span ref={line} className="strip-play-line" />;
}
