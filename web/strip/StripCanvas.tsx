import { useEffect, useRef } from 'react';
import { StripPainter, type Scene } from './strip-painter.js';
import type { StripWindow } from './strip-window.js';

interface StripCanvasProps {
  readonly scene: Scene;
  readonly height: number;
  /** Repainted when it moves; none for a picture that stands still. */
  readonly moves?: StripWindow;
}

/** A canvas that paints a scene outside React: React hears of neither frames nor views. */
export function StripCanvas({ scene, height, moves }: StripCanvasProps) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const painter = useRef<StripPainter>(null);
  useEffect(() => {
    const own = new StripPainter(canvas.current!);
    painter.current = own;
    const ended = moves?.subscribe(own.move);
    return () => {
      ended?.();
      own.stop();
      painter.current = null;
    };
  }, [moves]);
  useEffect(() => painter.current?.show(scene), [scene, moves]);
  return <canvas ref={canvas} className="strip-canvas" style={{ height }} aria-hidden="true" />;
}
