import type { Drawing, Label } from '../marks/drawing.js';
import { diamondMark } from '../marks/diamond-mark.js';
import { guesserChances, sayChance } from './guessing.js';

const WORDS_y = 12;
const TALLEST_y = 30;

/** How often a guesser gets each number right; from the result upward filled, the result marked. */
export function chancesDrawing(right: number, trials: number, width: number, height: number): Drawing {
  const chances = guesserChances(trials);
  const highest = Math.max(...chances);
  const left = 34;
  const bottom = height - 18;
  const step = (width - left - 6) / chances.length;
  const top = (chance: number) => bottom - ((bottom - TALLEST_y) * chance) / highest;
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
      { path: `M${x} ${WORDS_y - 3}V${y}`, ink: 'rule-strong', width: 1 },
      diamondMark(x, y, 'treated'),
    ],
    labels: [
      ...feet,
      yoursOver(right, trials, x, width),
      { x: left - 6, y: bottom + 4, text: '0\u00a0%', ink: 'ink-2', anchor: 'end' },
      { x: left - 6, y: top(highest) + 4, text: `${Math.round(100 * highest)}\u00a0%`, ink: 'ink-2', anchor: 'end' },
    ],
  };
}

/** Over the bars, where none of them reaches; a hairline leads to the mark. */
function yoursOver(right: number, trials: number, x: number, width: number): Label {
  const text = `yours: ${right}; ${sayChance(right, trials)}`;
  const atLeft = x > width / 2;
  return { x: x + (atLeft ? -10 : 10), y: WORDS_y, text, ink: 'ink', anchor: atLeft ? 'end' : 'start' };
}
