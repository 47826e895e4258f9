import { useLayoutEffect, useRef } from 'react';
import { stretchText } from './beat-grid.js';
import type { StripLoop } from './SongStrip.js';
import type { StripSong } from './strip-song.js';
import { x_of } from './strip-view.js';
import type { StripWindow } from './strip-window.js';

interface LoopMarkProps {
  readonly loop: StripLoop | null;
  readonly window: StripWindow;
  readonly song: StripSong;
}

/** The loop: a measured length with dashed ends over all rows. */
export function LoopMark({ loop, window: stripWindow, song }: LoopMarkProps) {
  const mark = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    const put = (): void => {
      const element = mark.current;
      if (element === null || loop === null) return;
      const left = x_of(stripWindow.view, 100, loop[0]);
      const right = x_of(stripWindow.view, 100, loop[1]);
      element.hidden = right < 0 || left > 100;
      element.style.left = `${left}%`;
      element.style.width = `${Math.max(0, right - left)}%`;
    };
    put();
    return stripWindow.subscribe(put);
  }, [loop, stripWindow]);
  if (loop === null) return null;
  return (
    <div ref={mark} className="strip-loop">
      <span>loop, {stretchText(song.grid, loop[0], loop[1])}</span>
    </div>
  );
}
