import type { Drawing, Label } from '../marks/drawing.js';
import { diamondMark } from '../marks/diamond-mark.js';
import { guesserChances, sayChance } from './guessing.js';

/** How often a guesser gets each number right; from the result upward filled, the result marked. */
export function chancesDrawing(right: number, trials: number, width: number, height: number): Drawing {
  const chances = guesserChances(trials);
  const highest = Math.max(...chances);
  const left = 34;
  const bottom = height - 18;
  const step = (width - left - 6) / chances.length;
  const top = (chance: number) => bottom - ((bottom - 22) * chance) / highest;
  const bars = chances.map((chance, k) => ({
    path: `M${left + k * step + 0.19 * step} ${bottom}V${top(chance)}h${0.62 * step}V${bottom}Z`,
    ink: 'ink-2' as const,
    width: 1,
    fill: k >= right ? ('ink' as const) : ('paper' as const),
  }));
  const every = Math.ceil(trials / 8);
  const feet = chances.flatMap((_, k) =>
    k % every === 0 || k === right
      ? [
          {
            x: left + (k + 0.5) * step,
            y: height - 3,
            text: `${k}`,
            ink: 'ink-2' as const,
            anchor: 'middle' as const,
            strong: k === right,
          },
        ]
      : [],
  );
  const x = left + (right + 0.5) * step;
  const y = top(chances[right]!) - 10;
  return {
    strokes: [
      { path: `M${left} ${bottom}H${width - 6}`, ink: 'rule-strong', width: 1 },
      ...bars,
      diamondMark(x, y, 'treated'),
    ],
    labels: [
      ...feet,
      ...yoursBeside(right, trials, x, y, width),
      { x: left - 6, y: bottom + 4, text: '0\u00a0%', ink: 'ink-2', anchor: 'end' },
      { x: left - 6, y: top(highest) + 4, text: `${Math.round(100 * highest)}\u00a0%`, ink: 'ink-2', anchor: 'end' },
    ],
  };
}

/** Beside the mark, on the side that has room. */
function yoursBeside(right: number, trials: number, x: number, y: number, width: number): Label[] {
  const atLeft = x > width - 130;
  const place = { x: x + (atLeft ? -10 : 10), anchor: atLeft ? ('end' as const) : ('start' as const), halo: true };
  return [
    { ...place, y: y - 2, text: `yours: ${right}`, ink: 'ink' },
    { ...place, y: y + 11, text: sayChance(right, trials), ink: 'ink' },
  ];
}
