export interface Column {
  readonly title: string;
  /** Figures stand to the right, words to the left. */
  readonly align?: 'left' | 'right';
}

const GAP = 2;

/**
 * A plain table: a head, then the rows, columns as wide as their widest cell. Where it would pass `width`, the widest column of
 * words is wrapped. No colour and no rules, so that it reads the same in a pipe.
 */
export function formatTable(columns: readonly Column[], rows: readonly (readonly string[])[], width: number): string {
  const cells = [columns.map(({ title }) => title), ...rows];
  const widths = fittedWidths(columns, cells, width);
  return cells.map((row) => formatRow(columns, row, widths)).join('');
}

function fittedWidths(columns: readonly Column[], cells: readonly (readonly string[])[], width: number): number[] {
  const widths = columns.map((_, i) => Math.max(...cells.map((row) => textWidth(row[i] ?? ''))));
  const words = columns.flatMap(({ align }, i) => (align === 'right' ? [] : [i]));
  const excess = () => widths.reduce((sum, one) => sum + one, GAP * (columns.length - 1)) - width;
  while (excess() > 0 && words.length > 0) {
    const widest = words.reduce((best, i) => (widths[i]! > widths[best]! ? i : best));
    if (widths[widest]! <= 12) break;
    widths[widest] = Math.max(12, widths[widest]! - excess(), secondWidest(words, widths, widest));
    if (widths[widest]! === secondWidest(words, widths, widest)) widths[widest]!--;
  }
  return widths;
}

function secondWidest(words: readonly number[], widths: readonly number[], widest: number): number {
  return Math.max(0, ...words.filter((i) => i !== widest).map((i) => widths[i]!));
}

function formatRow(columns: readonly Column[], row: readonly string[], widths: readonly number[]): string {
  const wrapped = columns.map((_, i) => wrapText(row[i] ?? '', widths[i]!));
  const height = Math.max(...wrapped.map((lines) => lines.length));
  let text = '';
  for (let line = 0; line < height; line++) {
    const parts = columns.map(({ align }, i) => padded(wrapped[i]![line] ?? '', widths[i]!, align ?? 'left'));
    text += `${parts.join(' '.repeat(GAP)).trimEnd()}\n`;
  }
  return text;
}

function padded(text: string, width: number, align: 'left' | 'right'): string {
  const space = ' '.repeat(Math.max(0, width - textWidth(text)));
  return align === 'right' ? space + text : text + space;
}

/** Lines of at most `width` columns, broken between words; a longer word is broken within. */
export function wrapText(text: string, width: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(/\s+/).flatMap((one) => pieces(one, width))) {
    if (line !== '' && textWidth(line) + 1 + textWidth(word) > width) {
      lines.push(line);
      line = word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  return [...lines, line];
}

function pieces(word: string, width: number): string[] {
  const letters = [...word];
  if (letters.length <= width) return [word];
  return Array.from({ length: Math.ceil(letters.length / width) }, (_, i) =>
    letters.slice(i * width, (i + 1) * width).join(''),
  );
}

function textWidth(text: string): number {
  return [...text].length;
}
