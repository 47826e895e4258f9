/** How the path takes its room, in pixels. */
export interface PathLayout {
  /** Strands lie over the open stage, run down beside it, or run down before it in a single column. */
  readonly form: 'lying' | 'beside' | 'single';
  /** Drawn close: head and rest stand on the strands' own paper, settings in two columns. */
  readonly low: boolean;
  readonly strands: { readonly width: number; readonly depth: number };
  readonly figure: { readonly width: number; readonly height: number };
}

const LYING_FROM = 1160;
const BESIDE_FROM = 640;
const LOW_UNDER = 540;
const HEAD = 34;
const STRANDS_BESIDE = 348;

/** Lying strands share the height with the open stage; upright ones take what they need, so that only the width counts. */
export function pathLayout(width: number, height: number): PathLayout {
  if (width < BESIDE_FROM) {
    return { form: 'single', low: false, strands: { width, depth: 0 }, figure: { width, height: 220 } };
  }
  if (width < LYING_FROM) {
    const strands = { width: STRANDS_BESIDE, depth: 0 };
    return { form: 'beside', low: false, strands, figure: { width: width - STRANDS_BESIDE - 20, height: 200 } };
  }
  const low = height < LOW_UNDER;
  const head = low ? 0 : HEAD;
  const depth = within(Math.round(0.58 * (height - head)), 276, 372);
  const left = height - head - depth;
  const figure = { width: Math.round(width * 0.265) - 36, height: within(left - 48, 110, 210) };
  return { form: 'lying', low, strands: { width, depth }, figure };
}

function within(value: number, least: number, most: number): number {
  return Math.max(least, Math.min(most, value));
}
