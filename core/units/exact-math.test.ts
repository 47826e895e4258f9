import assert from 'node:assert/strict';
import { test } from 'node:test';
import * as exact from './exact-math.js';
import { SeededRandom } from './seeded-random.js';

/** Distance in units in the last place of `expected`; equal specials are at distance 0. */
function ulps(actual: number, expected: number): number {
  if (Object.is(actual, expected) || actual === expected) return 0;
  const magnitude = Math.abs(expected);
  const exponent = Math.max(-1022, Math.floor(Math.log2(magnitude)));
  return Math.abs(actual - expected) / 2 ** (exponent - 52);
}

type OneArgument = (x: number) => number;

// The limits are the worst found over these seeded inputs, rounded up; `Math.*` itself is within 1 ulp of the truth
// (10^6 inputs per function, measured for this project). Near a zero of the function the result is judged against 1e-3.
const functions: readonly (readonly [
  name: string,
  ours: OneArgument,
  theirs: OneArgument,
  low: number,
  high: number,
  limit: number,
])[] = [
  ['exp2', exact.exp2, (x) => 2 ** x, -60, 60, 2],
  ['exp', exact.exp, Math.exp, -40, 40, 2],
  ['exp10', exact.exp10, (x) => 10 ** x, -3, 3, 10],
  ['log2', exact.log2, Math.log2, 1e-6, 50, 2],
  ['ln', exact.ln, Math.log, 1e-6, 50, 3],
  ['log10', exact.log10, Math.log10, 1e-6, 50, 3],
  ['sin', exact.sin, Math.sin, -50, 50, 2],
  ['cos', exact.cos, Math.cos, -50, 50, 2],
  ['tan', exact.tan, Math.tan, -1.5, 1.5, 3],
  ['atan', exact.atan, Math.atan, -20, 20, 3],
];

for (const [name, ours, theirs, low, high, limit] of functions) {
  test(`${name} stays within ${limit} ulp of Math on ${low}..${high}`, () => {
    const random = new SeededRandom(name.length * 7919);
    let worst = 0;
    let worstAt = 0;
    for (let i = 0; i < 50_000; i++) {
      const x = random.between(low, high);
      const expected = theirs(x);
      if (Math.abs(expected) < 1e-3) continue;
      const distance = ulps(ours(x), expected);
      if (distance > worst) [worst, worstAt] = [distance, x];
    }
    assert.ok(worst <= limit, `${worst} ulp at ${worstAt}`);
    assert.ok(worst > 0, 'a function equal to Math everywhere is Math, which engines do not share');
  });
}

test('power follows Math.pow; its error grows with the size of the exponent, a few ulp per octave of result', () => {
  const random = new SeededRandom(2);
  for (let i = 0; i < 20_000; i++) {
    const base = random.between(0.01, 20);
    const exponent = random.between(-4, 4);
    const expected = base ** exponent;
    // log2 is right to 2 ulp of itself; times the exponent and ln 2 that many ulp reach the result, plus 2 of exp2
    const octaves = Math.abs(exponent * Math.log2(base));
    const limit = 3 + 4 * Math.max(1, octaves);
    assert.ok(ulps(exact.power(base, exponent), expected) <= limit, `${base} ** ${exponent}`);
  }
});

test('whole powers of two are exact, both ways, down to the smallest number', () => {
  for (let n = -1074; n <= 1023; n++) {
    assert.equal(exact.exp2(n), 2 ** n, `2 ** ${n}`);
    assert.equal(exact.log2(2 ** n), n, `log2 of 2 ** ${n}`);
  }
});

test('special values', () => {
  assert.equal(exact.exp2(1024), Infinity);
  assert.equal(exact.exp2(-1075), 0);
  assert.equal(exact.exp2(Infinity), Infinity);
  assert.equal(exact.exp2(-Infinity), 0);
  assert.equal(exact.exp(0), 1);
  assert.equal(exact.exp(1000), Infinity);
  assert.equal(exact.exp(-1000), 0);
  assert.equal(exact.log2(0), -Infinity);
  assert.equal(exact.log2(Infinity), Infinity);
  assert.equal(exact.ln(1), 0);
  assert.equal(exact.log10(1), 0);
  assert.equal(exact.power(0, 2), 0);
  assert.equal(exact.power(0, 0), 1);
  assert.equal(exact.power(0, -1), Infinity);
  assert.equal(exact.sin(0), 0);
  assert.equal(exact.cos(0), 1);
  assert.equal(exact.atan(Infinity), Math.PI / 2);
  assert.equal(exact.atan(-Infinity), -Math.PI / 2);
});

test('what has no value is NaN', () => {
  const all = [
    exact.exp2,
    exact.exp,
    exact.exp10,
    exact.log2,
    exact.ln,
    exact.log10,
    exact.sin,
    exact.cos,
    exact.tan,
    exact.atan,
  ];
  for (const f of all) assert.ok(Number.isNaN(f(NaN)), f.name);
  assert.ok(Number.isNaN(exact.log2(-1)));
  assert.ok(Number.isNaN(exact.sin(Infinity)));
});

test('whole quarter turns in cycles are exact at any distance', () => {
  for (const turns of [0, 1, -1, 12_345, 1e9]) {
    assert.deepEqual(
      [0, 0.25, 0.5, 0.75].map((part) => exact.sinCycles(turns + part) + 0),
      [0, 1, 0, -1],
    );
    assert.deepEqual(
      [0, 0.25, 0.5, 0.75].map((part) => exact.cosCycles(turns + part) + 0),
      [1, 0, -1, 0],
    );
  }
});

test('sine and cosine in cycles follow Math', () => {
  const random = new SeededRandom(3);
  for (let i = 0; i < 20_000; i++) {
    const cycles = random.between(-0.5, 0.5);
    const angle = 2 * Math.PI * cycles;
    // the angle itself is rounded on Math's side: half an ulp of pi
    assert.ok(Math.abs(exact.sinCycles(cycles) - Math.sin(angle)) < 1e-15, `sin ${cycles}`);
    assert.ok(Math.abs(exact.cosCycles(cycles) - Math.cos(angle)) < 1e-15, `cos ${cycles}`);
  }
});

test('sines of many are those of each', () => {
  const random = new SeededRandom(6);
  const cycles = Float64Array.from({ length: 1000 }, () => random.between(-50, 50));
  const all = cycles.slice();
  exact.sinCyclesOfAll(all, 900);
  cycles.forEach((value, i) => assert.equal(all[i], i < 900 ? exact.sinCycles(value) : value));
});

test('sine and cosine in radians hold up to a million', () => {
  const random = new SeededRandom(4);
  for (let i = 0; i < 20_000; i++) {
    const x = random.between(-1e6, 1e6);
    assert.ok(Math.abs(exact.sin(x) - Math.sin(x)) < 1e-15, `sin ${x}`);
    assert.ok(Math.abs(exact.cos(x) - Math.cos(x)) < 1e-15, `cos ${x}`);
  }
});

test('the angle of a point is right in every quarter', () => {
  const random = new SeededRandom(5);
  for (let i = 0; i < 20_000; i++) {
    const [y, x] = [random.between(-3, 3), random.between(-3, 3)];
    assert.ok(Math.abs(exact.atan2(y, x) - Math.atan2(y, x)) < 2e-15, `${y}, ${x}`);
  }
  const axes: readonly (readonly [number, number, number])[] = [
    [0, 1, 0],
    [1, 0, Math.PI / 2],
    [0, -1, Math.PI],
    [-1, 0, -Math.PI / 2],
    [0, 0, 0],
  ];
  for (const [y, x, angle] of axes) assert.equal(exact.atan2(y, x), angle);
});
