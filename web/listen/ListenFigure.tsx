import type { ReactNode } from 'react';
import { useWidth } from '../evidence/use-width.js';

interface ListenFigureProps {
  readonly height: number;
  /** What it shows, in words; left out where everything in it stands beside it too. */
  readonly says?: string;
  readonly children: (width: number) => ReactNode;
}

const MOST_px = 460;

/** A figure of the listening sheet as wide as its column: drawn anew for each width, never scaled. */
export function ListenFigure({ height, says, children }: ListenFigureProps) {
  const [box, column] = useWidth('listening');
  const width = Math.min(MOST_px, column);
  const spoken = says === undefined ? { 'aria-hidden': true } : { role: 'img', 'aria-label': says };
  return (
    <figure ref={box} className="listen-figure" style={{ minHeight: height }}>
      {width > 0 && (
        <svg width={width} height={height} viewBox={`0 0 ${width} ${height}`} {...spoken}>
          {children(width)}
        </svg>
      )}
    </figure>
  );
}
