/**
 * Kaiser window w[n] = I0(beta sqrt(1 - r^2)) / I0(beta), r = -1..1 over the window's length.
 * J. F. Kaiser, "Nonrecursive Digital Filter Design Using the I0-sinh Window Function", ISCAS 1974.
 */
export function kaiser(position: number, beta: number): number {
  const inside = 1 - position * position;
  return inside <= 0 ? (inside === 0 ? 1 / besselI0(beta) : 0) : besselI0(beta * Math.sqrt(inside)) / besselI0(beta);
}

/** Modified Bessel function of the first kind, order 0, by its power series sum ((x/2)^k / k!)^2. */
export function besselI0(x: number): number {
  let term = 1;
  let sum = 1;
  for (let k = 1; k < 200; k++) {
    const factor = x / (2 * k);
    term *= factor * factor;
    sum += term;
    if (term < sum * 1e-17) break;
  }
  return sum;
}
