import type { Stroke } from './drawing.js';

/** Source is a hollow diamond, treated a filled one. */
export function diamondMark(x: number, y: number, which: 'source' | 'treated', radius = 5): Stroke {
  const path = `M${x} ${y - radius}l${radius} ${radius}l${-radius} ${radius}l${-radius} ${-radius}Z`;
  return { path, ink: 'ink', width: 1.5, fill: which === 'source' ? 'paper' : 'ink' };
}
