import { useCallback, useEffect, useLayoutEffect, useRef, type KeyboardEvent } from 'react';
import { barAt, clockText, stretchText } from './beat-grid.js';
import { StripCanvas } from './StripCanvas.js';
import type { StripLayout } from './strip-rows.js';
import type { StripSong } from './strip-song.js';
import { heldInside, lengthOf, moved, zoomed } from './strip-view.js';
import type { StripWindow } from './strip-window.js';
import { wholeSongLine } from './whole-song-line.js';

interface WholeSongProps {
  readonly song: StripSong;
  readonly window: StripWindow;
  readonly layout: StripLayout;
}

const HEIGHT = 36;
const LINE_y = 14;

/** The whole song in one line with the box that shows which part of it the strip draws. */
export function WholeSong({ song, window: stripWindow, layout }: WholeSongProps) {
  const scene = useCallback(
    (width: number) => [() => wholeSongLine(song.hits, song.grid, song.duration_s, width, LINE_y)],
    [song],
  );
  const length = song.grid === null ? clockText(song.duration_s) : `${barAt(song.grid, song.duration_s - 0.01)} bars`;
  return (
    <div className="whole-song" style={{ gridTemplateColumns: `${layout.gutter}px minmax(0, 1fr) ${layout.margin}px` }}>
      {layout.gutter > 0 ? <span className="whole-song-name">Whole song</span> : <span />}
      <div className="whole-song-line">
        <StripCanvas scene={scene} height={HEIGHT} />
        <ViewBox song={song} window={stripWindow} />
      </div>
      {layout.margin > 0 ? <span className="whole-song-length">{length}</span> : <span />}
    </div>
  );
}

/** The box: dragged or moved with the arrows, wider and narrower with + and −. */
function ViewBox({ song, window: stripWindow }: Omit<WholeSongProps, 'layout'>) {
  const box = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    const put = (): void => {
      const element = box.current;
      if (element === null) return;
      const { from_s, to_s } = stripWindow.view;
      element.style.left = `${(100 * from_s) / song.duration_s}%`;
      element.style.width = `${(100 * (to_s - from_s)) / song.duration_s}%`;
      element.setAttribute('aria-valuenow', from_s.toFixed(1));
      element.setAttribute('aria-valuetext', stretchText(song.grid, from_s, to_s));
    };
    put();
    return stripWindow.subscribe(put);
  }, [song, stripWindow]);
  useBoxDrag(box, song, stripWindow);
  const onKeyDown = (event: KeyboardEvent): void => {
    const { view } = stripWindow;
    const step_s = lengthOf(view) * (event.shiftKey ? 1 : 0.25);
    const next = {
      ArrowLeft: () => moved(view, -step_s, song.duration_s),
      ArrowRight: () => moved(view, step_s, song.duration_s),
      Home: () => moved(view, -song.duration_s, song.duration_s),
      End: () => moved(view, song.duration_s, song.duration_s),
      '+': () => zoomed(view, 0.5, (view.from_s + view.to_s) / 2, song.duration_s),
      '-': () => zoomed(view, 2, (view.from_s + view.to_s) / 2, song.duration_s),
      '0': () => heldInside({ from_s: 0, to_s: song.duration_s }, song.duration_s),
    }[event.key];
    if (next === undefined || event.altKey || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    stripWindow.set(next());
  };
  return (
    <div
      ref={box}
      className="view-box"
      role="slider"
      tabIndex={0}
      aria-label="Part of the song in sight"
      aria-valuemin={0}
      aria-valuemax={song.duration_s}
      onKeyDown={onKeyDown}
    />
  );
}

/** Dragging the box moves it; a press beside it puts it there. */
function useBoxDrag(box: { readonly current: HTMLDivElement | null }, song: StripSong, stripWindow: StripWindow): void {
  useEffect(() => {
    const line = box.current?.parentElement;
    if (line === null || line === undefined) return undefined;
    let grip_s: number | null = null;
    const at = (event: PointerEvent): number => {
      const { left, width } = line.getBoundingClientRect();
      return ((event.clientX - left) / width) * song.duration_s;
    };
    const put = (from_s: number): void =>
      stripWindow.set(heldInside({ from_s, to_s: from_s + lengthOf(stripWindow.view) }, song.duration_s));
    const down = (event: PointerEvent): void => {
      line.setPointerCapture(event.pointerId);
      const { from_s, to_s } = stripWindow.view;
      const time_s = at(event);
      grip_s = time_s >= from_s && time_s <= to_s ? time_s - from_s : (to_s - from_s) / 2;
      put(time_s - grip_s);
    };
    const move = (event: PointerEvent): void => {
      if (grip_s !== null) put(at(event) - grip_s);
    };
    const up = (): void => {
      grip_s = null;
    };
    line.addEventListener('pointerdown', down);
    line.addEventListener('pointermove', move);
    line.addEventListener('pointerup', up);
    line.addEventListener('pointercancel', up);
    return () => {
      line.removeEventListener('pointerdown', down);
      line.removeEventListener('pointermove', move);
      line.removeEventListener('pointerup', up);
      line.removeEventListener('pointercancel', up);
    };
  }, [box, song, stripWindow]);
}
