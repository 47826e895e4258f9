/** Linear light, 0 to 1 each. */
export type LinearRgb = readonly [red: number, green: number, blue: number];
export type Lab = readonly [lightness: number, a: number, b: number];

/** Linear light of `#rgb` or `#rrggbb` (IEC 61966-2-1). */
export function linearRgb(hex: string): LinearRgb {
  const digits = /^#([0-9a-f]{3}|[0-9a-f]{6})$/i.exec(hex)?.[1];
  if (digits === undefined) throw new RangeError(`${hex} is no colour in hexadecimal`);
  const step = digits.length / 3;
  const channel = (n: number): number => {
    const part = digits.slice(n * step, (n + 1) * step);
    const value = parseInt(part.length === 1 ? part + part : part, 16) / 255;
    return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
  };
  return [channel(0), channel(1), channel(2)];
}

/** WCAG 2.2, relative luminance. */
export function luminance([red, green, blue]: LinearRgb): number {
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

/** WCAG 2.2, contrast ratio: 1 to 21. */
export function contrast(one: string, other: string): number {
  const [dark, bright] = [luminance(linearRgb(one)), luminance(linearRgb(other))].sort((a, b) => a - b);
  return (bright! + 0.05) / (dark! + 0.05);
}

/** CIE 1976 L*a*b* under D65, by the sRGB primaries. */
export function labOf([red, green, blue]: LinearRgb): Lab {
  const x = (0.4124564 * red + 0.3575761 * green + 0.1804375 * blue) / 0.95047;
  const y = 0.2126729 * red + 0.7151522 * green + 0.072175 * blue;
  const z = (0.0193339 * red + 0.119192 * green + 0.9503041 * blue) / 1.08883;
  const f = (t: number): number => (t > 216 / 24_389 ? Math.cbrt(t) : ((24_389 / 27) * t + 16) / 116);
  return [116 * f(y) - 16, 500 * (f(x) - f(y)), 200 * (f(y) - f(z))];
}
