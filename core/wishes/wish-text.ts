import { PlainError } from '../units/plain-error.js';
import { statisticAt } from './statistics.js';
import type { Wish } from './wish.js';

/** How far a value is judged equal to a limit: what rounding of binary numbers can do, and nothing more. */
const EQUAL = 1e-9;

const NUMBER = String.raw`[+\-\u2212]?(?:\d+(?:[.]\d+)?|[.]\d+)`;
const UNIT = String.raw`(?:%|dB|LU|LUFS|Hz|dBTP|dBFS|ms|st|cents?)?`;
const ONE_LIMIT = new RegExp(String.raw`^(>=|≥|<=|≤)\s*(${NUMBER})\s*(${UNIT})$`, 'iu');
const RANGE = new RegExp(String.raw`^(${NUMBER})?\s*(?:\.\.|…)\s*(${NUMBER})?\s*(${UNIT})$`, 'iu');

/**
 * Reads a wanted result: `>= 90 %`, `<= 1 dB`, `3..5`, `-14..`, `..2`. A share is 0..1 in data: `90 %` and `0.9` are the same.
 * @throws PlainError where it is no wish, the unit is another than the statistic's, or the lower limit is above the upper.
 */
export function parseWish(statistic: string, text: string): Wish {
  const trimmed = text.trim();
  const limits = limitsIn(trimmed);
  if (limits === null) throw refusal(statistic, text, 'This is not a wanted result.');
  const { low, high, unit } = limits;
  const declared = statisticAt(statistic)?.unit;
  if (unit !== '' && declared !== undefined && unit.toLowerCase() !== declared.toLowerCase()) {
    throw refusal(statistic, text, `${statistic} is in ${declared}, not in ${unit}.`);
  }
  if (low !== null && high !== null && low > high)
    throw refusal(statistic, text, 'The lower limit is above the upper.');
  const scale = unit === '%' ? 0.01 : 1;
  return { statistic, low: low === null ? null : low * scale, high: high === null ? null : high * scale };
}

function limitsIn(text: string): { low: number | null; high: number | null; unit: string } | null {
  const one = ONE_LIMIT.exec(text);
  if (one) {
    const value = numberIn(one[2]!);
    const atLeast = one[1] === '>=' || one[1] === '≥';
    return { low: atLeast ? value : null, high: atLeast ? null : value, unit: one[3]! };
  }
  const range = RANGE.exec(text);
  if (!range || (range[1] === undefined && range[2] === undefined)) return null;
  return { low: limitIn(range[1]), high: limitIn(range[2]), unit: range[3]! };
}

function limitIn(text: string | undefined): number | null {
  return text === undefined ? null : numberIn(text);
}

function numberIn(text: string): number {
  return Number(text.replace('\u2212', '-'));
}

function refusal(statistic: string, text: string, reason: string): PlainError {
  return new PlainError(
    `--wish ${statistic}="${text}"`,
    reason,
    'Write >= 90 %, <= 1, 3..5, or -14.. for a range open at the top.',
  );
}

/** Reads `clearance.share2dB=>= 90 %`: an address, `=`, and a wanted result. */
export function parseWishAssignment(text: string): Wish {
  const at = text.indexOf('=');
  const statistic = text.slice(0, Math.max(0, at)).trim();
  if (!/^[a-z][\w-]*(\.[\w-]+)+$/i.test(statistic)) {
    throw new PlainError(
      `--wish ${text}`,
      'It takes the name of a figure and what is wanted of it.',
      'Write it like --wish clearance.share2dB=">= 90 %".',
    );
  }
  return parseWish(statistic, text.slice(at + 1));
}

/** The text form of a wish, which `parseWish` reads back: shares as per cent, other figures with their unit. */
export function formatWish({ statistic, low, high }: Wish): string {
  const unit = statisticAt(statistic)?.unit ?? '';
  const shown = (limit: number) => String(unit === '%' ? Number((limit * 100).toPrecision(12)) : limit);
  const behind = unit === '' ? '' : ` ${unit}`;
  if (low !== null && high !== null) return `${shown(low)}..${shown(high)}${behind}`;
  if (low !== null) return `>= ${shown(low)}${behind}`;
  return high === null ? 'anything' : `<= ${shown(high)}${behind}`;
}

/** Whether a value meets a wish, limits included. */
export function met(wish: Wish, value: number): boolean {
  return shortfall(wish, value) === 0;
}

/** How far a value is from the nearest limit it misses, in the statistic's unit; 0 where the wish is met, NaN for NaN. */
export function shortfall({ low, high }: Wish, value: number): number {
  if (low !== null && value < low - EQUAL * Math.max(1, Math.abs(low))) return low - value;
  if (high !== null && value > high + EQUAL * Math.max(1, Math.abs(high))) return value - high;
  return value !== value ? NaN : 0;
}
