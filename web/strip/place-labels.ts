import type { Label } from '../marks/drawing.js';

const HEIGHT = 11;
const WIDTH_PER_CHARACTER = 5.8;

/** Keeps the labels that do not run into one kept before: the first in the list win, so the most telling go first. */
export function placeLabels(labels: readonly Label[]): Label[] {
  const kept: { readonly label: Label; readonly box: Box }[] = [];
  for (const label of labels) {
    const box = boxOf(label);
    if (kept.every((other) => apart(other.box, box))) kept.push({ label, box });
  }
  return kept.map(({ label }) => label);
}

/** The label on the other side of its mark where it would run out of the paper at the right. */
export function keptOnPaper(label: Label, mark_x: number, width: number): Label {
  const box = boxOf(label);
  return box.right <= width ? label : { ...label, x: mark_x - (label.x - mark_x), anchor: 'end' };
}

interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

function boxOf({ x, y, text, anchor = 'start' }: Label): Box {
  const width = text.length * WIDTH_PER_CHARACTER;
  const left = anchor === 'start' ? x : anchor === 'middle' ? x - width / 2 : x - width;
  return { left, right: left + width, top: y - HEIGHT, bottom: y + 2 };
}

function apart(a: Box, b: Box): boolean {
  return a.right < b.left || b.right < a.left || a.bottom < b.top || b.bottom < a.top;
}
