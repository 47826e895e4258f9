/** SVG path data to a tenth of a pixel. */
export const pathData = {
  line: (x1: number, y1: number, x2: number, y2: number): string => `M${at(x1)} ${at(y1)}L${at(x2)} ${at(y2)}`,
  level: (x1: number, x2: number, y: number): string => `M${at(x1)} ${at(y)}H${at(x2)}`,
  upright: (x: number, y1: number, y2: number): string => `M${at(x)} ${at(y1)}V${at(y2)}`,
  box: (x: number, y: number, width: number, height: number): string =>
    `M${at(x)} ${at(y)}h${at(width)}v${at(height)}h${at(-width)}Z`,
  ring: (x: number, y: number, radius: number): string => {
    const r = at(radius);
    return `M${at(x - radius)} ${at(y)}a${r} ${r} 0 1 0 ${at(2 * radius)} 0a${r} ${r} 0 1 0 ${at(-2 * radius)} 0Z`;
  },
  through: (points: readonly (readonly [number, number])[]): string =>
    points.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${at(x)} ${at(y)}`).join(''),
};

function at(value: number): number {
  return Math.round(value * 10) / 10;
}
