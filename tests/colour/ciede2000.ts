import type { Lab } from './srgb.js';

const TURN = 2 * Math.PI;
const degrees = (angle: number): number => (angle * Math.PI) / 180;

/** CIEDE2000 with all weights 1. Sharma, Wu, Dalal, "The CIEDE2000 color-difference formula", Color Research & Application 30 (2005). */
export function ciede2000([l1, a1, b1]: Lab, [l2, a2, b2]: Lab): number {
  const meanC7 = ((Math.hypot(a1, b1) + Math.hypot(a2, b2)) / 2) ** 7;
  const g = 0.5 * (1 - Math.sqrt(meanC7 / (meanC7 + 25 ** 7)));
  const one = polar((1 + g) * a1, b1);
  const two = polar((1 + g) * a2, b2);
  const grey = one.chroma * two.chroma === 0;
  const turn = grey ? 0 : nearTurn(two.hue - one.hue);
  const deltaL = l2 - l1;
  const deltaC = two.chroma - one.chroma;
  const deltaH = 2 * Math.sqrt(one.chroma * two.chroma) * Math.sin(turn / 2);
  const l = (l1 + l2) / 2;
  const c = (one.chroma + two.chroma) / 2;
  const h = grey ? one.hue + two.hue : meanHue(one.hue, two.hue);
  const t =
    1 -
    0.17 * Math.cos(h - degrees(30)) +
    0.24 * Math.cos(2 * h) +
    0.32 * Math.cos(3 * h + degrees(6)) -
    0.2 * Math.cos(4 * h - degrees(63));
  const sL = 1 + (0.015 * (l - 50) ** 2) / Math.sqrt(20 + (l - 50) ** 2);
  const sC = 1 + 0.045 * c;
  const sH = 1 + 0.015 * c * t;
  const spread = degrees(30) * Math.exp(-((((h * 180) / Math.PI - 275) / 25) ** 2));
  const rT = -2 * Math.sqrt(c ** 7 / (c ** 7 + 25 ** 7)) * Math.sin(2 * spread);
  const [x, y, z] = [deltaL / sL, deltaC / sC, deltaH / sH];
  return Math.sqrt(x * x + y * y + z * z + rT * y * z);
}

function polar(a: number, b: number): { readonly chroma: number; readonly hue: number } {
  const hue = a === 0 && b === 0 ? 0 : Math.atan2(b, a);
  return { chroma: Math.hypot(a, b), hue: hue < 0 ? hue + TURN : hue };
}

function nearTurn(turn: number): number {
  return turn > Math.PI ? turn - TURN : turn < -Math.PI ? turn + TURN : turn;
}

function meanHue(one: number, two: number): number {
  const sum = one + two;
  if (Math.abs(one - two) <= Math.PI) return sum / 2;
  return sum < TURN ? (sum + TURN) / 2 : (sum - TURN) / 2;
}
