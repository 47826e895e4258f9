/** The rows that a strip can have, from the top. */
export type StripRowId = 'bars' | 'clearance' | 'notes' | 'lows';

export const STRIP_ROWS: readonly StripRowId[] = ['bars', 'clearance', 'notes', 'lows'];

export interface StripRow {
  readonly id: StripRowId;
  readonly top: number;
  readonly height: number;
}

export interface StripLayout {
  readonly rows: readonly StripRow[];
  readonly height: number;
  /** Room for names at the left and units at the right; none on a phone, where names stand in a caption. */
  readonly gutter: number;
  readonly margin: number;
  /** Third octaves shown in the row of the lows. */
  readonly bandsShown: 3 | 5;
}

const GAP = 13;
const GUTTER = 122;
const MARGIN = 50;

/** Heights of the rows: full on a tall window, close on a low or narrow one. */
export function stripLayout(ids: readonly StripRowId[], windowWidth: number, windowHeight: number): StripLayout {
  const close = windowHeight < 800 || windowWidth < 1000;
  const heights: Record<StripRowId, number> = close
    ? { bars: 15, clearance: 54, notes: 70, lows: 28 }
    : { bars: 16, clearance: 70, notes: 92, lows: 48 };
  let top = 0;
  const rows = STRIP_ROWS.filter((id) => ids.includes(id)).map((id) => {
    const row = { id, top, height: heights[id] };
    top += heights[id] + (id === 'bars' ? 4 : GAP);
    return row;
  });
  const named = windowWidth >= 600;
  return {
    rows,
    height: top - GAP + 4,
    gutter: named ? GUTTER : 0,
    margin: named ? MARGIN : 0,
    bandsShown: close ? 3 : 5,
  };
}

export function rowNamed(layout: StripLayout, id: StripRowId): StripRow | undefined {
  return layout.rows.find((row) => row.id === id);
}
