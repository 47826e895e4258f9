const NO_BREAK_SPACE = '\u00a0';
const MINUS = '\u2212';

/** A figure as sentences give it: `4.9 dB`, `−17.2 LU`, `31 %`; true minus, no-break space before the unit. */
export function sayFigure(value: number, unit: string, digits = 1): string {
  return `${sayNumber(value, digits)}${NO_BREAK_SPACE}${unit}`;
}

export function sayNumber(value: number, digits = 1): string {
  const text = Math.abs(value).toFixed(digits);
  return value < 0 && Number(text) !== 0 ? `${MINUS}${text}` : text;
}

/** A share 0..1 in whole per cent. */
export function sayShare(share: number): string {
  return sayFigure(100 * share, '%', 0);
}

/** `1 note`, `12 notes`. */
export function sayCount(count: number, one: string, several = `${one}s`): string {
  return `${count}${NO_BREAK_SPACE}${count === 1 ? one : several}`;
}
