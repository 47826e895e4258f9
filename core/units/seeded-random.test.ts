import assert from 'node:assert/strict';
import { test } from 'node:test';
import { SeededRandom } from './seeded-random.js';

test('the generator gives the sequence of its authors’ C source from the state 1, 2, 3, 4', () => {
  const random = new SeededRandom(0);
  Object.assign(random, { a: 1, b: 2, c: 3, d: 4 });
  assert.deepEqual(
    Array.from({ length: 5 }, () => random.uint32()),
    [11520, 0, 5927040, 70819200, 2031721883],
  );
});

test('seeds give known sequences', () => {
  // printed by the authors' C source with the state filled by splitmix32 from the seed
  const known: Readonly<Record<number, readonly number[]>> = {
    0: [1789933344, 44971166, 2521387044, 3848737593, 1138324114, 749234105],
    1: [393288148, 2174103013, 3814759091, 2092745082, 1865176206, 2179171167],
    42: [660444221, 3652823732, 77672526, 910233633, 2297337756, 3786072677],
    4294967295: [4104197751, 1825856343, 1152209388, 2427537429, 3685145430, 609215610],
  };
  for (const [seed, expected] of Object.entries(known)) {
    const random = new SeededRandom(Number(seed));
    assert.deepEqual(
      expected.map(() => random.uint32()),
      expected,
      `seed ${seed}`,
    );
  }
});

test('uniform, between, below and normal keep their ranges and moments', () => {
  const random = new SeededRandom(9);
  const count = 100_000;
  let sum = 0;
  let squares = 0;
  for (let i = 0; i < count; i++) {
    const uniform = random.uniform();
    assert.ok(uniform >= 0 && uniform < 1);
    const between = random.between(-2, 3);
    assert.ok(between >= -2 && between < 3);
    const below = random.below(7);
    assert.ok(Number.isInteger(below) && below >= 0 && below < 7);
    const normal = random.normal();
    sum += normal;
    squares += normal * normal;
  }
  // standard errors at this count: 0.0032 of the mean, 0.0045 of the variance; four of them
  assert.ok(Math.abs(sum / count) < 0.013);
  assert.ok(Math.abs(squares / count - 1) < 0.018);
});
