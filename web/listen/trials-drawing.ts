import type { Drawing } from '../marks/drawing.js';

const LINE_y = 30;

/** One mark for each trial, in order: right stands on the line, wrong hangs hollow under it. */
export function trialsDrawing(right: readonly boolean[], width: number): Drawing {
  const step = Math.min(28, (width - 12) / right.length);
  const x = (i: number) => 6 + (i + 0.5) * step;
  const every = right.length > 12 ? 2 : 1;
  return {
    strokes: [
      { path: `M6 ${LINE_y}H${6 + step * right.length}`, ink: 'rule-strong', width: 1 },
      ...right.map((one, i) =>
        one
          ? { path: `M${x(i)} ${LINE_y}V8M${x(i) - 4} 8h8`, ink: 'ink' as const, width: 2.2 }
          : {
              path: `M${x(i)} ${LINE_y}v3.5m-3.5 3.5a3.5 3.5 0 1 0 7 0a3.5 3.5 0 1 0 -7 0`,
              ink: 'ink' as const,
              width: 1.4,
              fill: 'paper' as const,
            },
      ),
    ],
    labels: right.flatMap((_, i) =>
      i % every === 0
        ? [{ x: x(i), y: LINE_y + 21, text: `${i + 1}`, ink: 'ink-2' as const, anchor: 'middle' as const }]
        : [],
    ),
  };
}
