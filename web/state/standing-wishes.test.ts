import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Solution } from '../../core/solve/solve-song.js';
import { standingWishes } from './standing-wishes.js';

const wish = (statistic: string, low: number) => ({ statistic, low, high: null });

test('what was wished by hand stands before what a stage was asked for; as it was asked, not as it was worked with', () => {
  const stages = [
    { request: { asked: wish('clearance.share2dB', 0.9), wish: wish('clearance.share2dB', 0.95) } },
    { request: { asked: null, wish: wish('carry.laptop_LU', -14) } },
    { request: { asked: null, wish: null } },
  ] as unknown as Solution['stages'];
  const standing = standingWishes({ wishes: [wish('carry.laptop_LU', -12)] }, { stages });
  assert.deepEqual(
    [...standing.values()].map(({ statistic, low }) => [statistic, low]),
    [
      ['clearance.share2dB', 0.9],
      ['carry.laptop_LU', -12],
    ],
  );
  assert.equal(standingWishes({ wishes: [] }, null).size, 0);
});
