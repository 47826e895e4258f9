/** A strand's knot: how far along the flow, and where across it. */
export interface Knot {
  readonly along: number;
  readonly across: number;
}

/** A place on the paper: lying strands run to the right, upright ones down. */
export function onPaper({ along, across }: Knot, upright: boolean): readonly [x: number, y: number] {
  return upright ? [across, along] : [along, across];
}

/** A smooth line through the knots, level with the flow at each of them. */
export function coursePath(knots: readonly Knot[], upright: boolean): string {
  return knots
    .map((knot, i) => {
      const [x, y] = onPaper(knot, upright);
      const before = knots[i - 1];
      if (before === undefined) return `M${tenth(x)} ${tenth(y)}`;
      if (before.across === knot.across) return `L${tenth(x)} ${tenth(y)}`;
      const middle = (before.along + knot.along) / 2;
      const [x1, y1] = onPaper({ along: middle, across: before.across }, upright);
      const [x2, y2] = onPaper({ along: middle, across: knot.across }, upright);
      return `C${[x1, y1, x2, y2, x, y].map(tenth).join(' ')}`;
    })
    .join('');
}

/** The part of a course from one place along the flow to another. */
export function partOf(knots: readonly Knot[], from: number, to: number): Knot[] {
  const inside = knots.filter(({ along }) => along > from && along < to);
  return [{ along: from, across: acrossAt(knots, from) }, ...inside, { along: to, across: acrossAt(knots, to) }];
}

/** Where a course lies across the flow at a place along it. */
export function acrossAt(knots: readonly Knot[], along: number): number {
  const next = knots.findIndex((knot) => knot.along >= along);
  if (next === 0) return knots[0]!.across;
  if (next < 0) return knots[knots.length - 1]!.across;
  const [a, b] = [knots[next - 1]!, knots[next]!];
  const share = b.along === a.along ? 1 : (along - a.along) / (b.along - a.along);
  return a.across + (b.across - a.across) * share * share * (3 - 2 * share);
}

function tenth(value: number): number {
  return Math.round(value * 10) / 10;
}
