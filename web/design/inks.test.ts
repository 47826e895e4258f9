import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { ciede2000 } from '../../tests/colour/ciede2000.js';
import { DEFICIENCIES, seenAs } from '../../tests/colour/deficient-vision.js';
import { contrast, labOf, linearRgb, type Lab } from '../../tests/colour/srgb.js';
import { repositoryRoot } from '../../tests/repository-root.js';

type Tokens = Readonly<Record<string, string>>;

const css = readFileSync(join(repositoryRoot, 'web/design/tokens.css'), 'utf8');
const light = tokensIn(/:root,\s*\.on-white\s*\{([^}]*)\}/);
const papers: Readonly<Record<string, Tokens>> = {
  light,
  dark: { ...light, ...tokensIn(/:root\[data-paper='dark'\]\s*\{([^}]*)\}/) },
  'on white': { ...light, ...tokensIn(/\n\.on-white\s*\{([^}]*)\}\s*$/) },
};

function tokensIn(block: RegExp): Tokens {
  const text = block.exec(css)?.[1];
  assert.ok(text !== undefined, `tokens.css holds ${block}`);
  return Object.fromEntries([...text.matchAll(/--([\w-]+):\s*([^;]+);/g)].map(([, name, value]) => [name!, value!]));
}

function colour(tokens: Tokens, name: string): string {
  const value = tokens[name];
  assert.ok(value !== undefined, `there is no --${name}`);
  return value;
}

/** Sharma, Wu, Dalal 2005, table 1, to four decimals (from memory): both hue turns, greys, dark and bright pairs. */
const PUBLISHED: readonly (readonly [one: Lab, other: Lab, difference: number])[] = [
  [[50, 2.6772, -79.7751], [50, 0, -82.7485], 2.0425],
  [[50, 3.1571, -77.2803], [50, 0, -82.7485], 2.8615],
  [[50, 2.8361, -74.02], [50, 0, -82.7485], 3.4412],
  [[50, -1.3802, -84.2814], [50, 0, -82.7485], 1],
  [[50, 0, 0], [50, -1, 2], 2.3669],
  [[50, 2.49, -0.001], [50, -2.49, 0.0009], 7.1792],
  [[50, 2.49, -0.001], [50, -2.49, 0.0011], 7.2195],
  [[50, -0.001, 2.49], [50, 0.0009, -2.49], 4.8045],
  [[50, -0.001, 2.49], [50, 0.0011, -2.49], 4.7461],
  [[50, 2.5, 0], [50, 0, -2.5], 4.3065],
  [[50, 2.5, 0], [73, 25, -18], 27.1492],
  [[50, 2.5, 0], [61, -5, 29], 22.8977],
  [[50, 2.5, 0], [56, -27, -3], 31.903],
  [[50, 2.5, 0], [58, 24, 15], 19.4535],
  [[60.2574, -34.0099, 36.2677], [60.4626, -34.1751, 39.4387], 1.2644],
  [[35.0831, -44.1164, 3.7933], [35.0232, -40.0716, 1.5901], 1.8645],
  [[22.7233, 20.0904, -46.694], [23.0331, 14.973, -42.5619], 2.0373],
  [[90.8027, -2.0831, 1.441], [91.1528, -1.6435, 0.0447], 1.4441],
  [[2.0776, 0.0795, -1.135], [0.9033, -0.0636, -0.5514], 0.9082],
];

test('the colour difference is the published one', () => {
  for (const [one, other, difference] of PUBLISHED) {
    assert.ok(Math.abs(ciede2000(one, other) - difference) <= 0.00005, `${one.join()} ${other.join()}`);
    assert.ok(Math.abs(ciede2000(other, one) - difference) <= 0.00005, 'the same both ways');
  }
});

test('white has no colour and a contrast of 21 to black', () => {
  const [lightness, a, b] = labOf(linearRgb('#fff'));
  assert.ok(Math.abs(lightness - 100) < 0.01 && Math.hypot(a, b) < 0.02);
  assert.ok(Math.abs(contrast('#ffffff', '#000') - 21) < 1e-9);
});

/** The inks that say who: 10 units and more apart, the smallest distance at which none is taken for another by its colour alone. */
const WHO = ['kick', 'bass', 'wanted'] as const;
const LEAST_DISTANCE = 10;

for (const paper of ['light', 'dark']) {
  for (const [deficiency, matrix] of Object.entries(DEFICIENCIES)) {
    test(`kick, bass and wanted stay apart in ${paper} under ${deficiency}`, () => {
      const [kick, bass, wanted] = WHO.map((name) => labOf(seenAs(matrix, linearRgb(colour(papers[paper]!, name)))));
      const distances = [ciede2000(kick!, bass!), ciede2000(kick!, wanted!), ciede2000(bass!, wanted!)];
      assert.ok(Math.min(...distances) >= LEAST_DISTANCE, distances.map((d) => d.toFixed(1)).join(', '));
    });
  }
}

/** What is read, and the grounds it stands on; WCAG 2.2, 1.4.3: 4.5 to 1 for text of these sizes. */
const TEXT = ['ink', 'ink-2', 'ink-3', 'kick', 'bass', 'wanted'] as const;
const GROUNDS = ['paper', 'plate'] as const;

for (const [paper, tokens] of Object.entries(papers)) {
  test(`every ink of text has a contrast of 4.5 to its grounds, ${paper}`, () => {
    for (const ground of GROUNDS) {
      for (const ink of TEXT) {
        const ratio = contrast(colour(tokens, ink), colour(tokens, ground));
        assert.ok(ratio >= 4.5, `${ink} on ${ground}: ${ratio.toFixed(2)}`);
      }
    }
    assert.ok(contrast(colour(tokens, 'on-act'), colour(tokens, 'act')) >= 4.5, 'the inked button');
    assert.ok(contrast(colour(tokens, 'ink'), colour(tokens, 'band')) >= 4.5, 'figures over a tolerance');
  });

  test(`edges of controls have a contrast of 3 to their grounds, ${paper}`, () => {
    // WCAG 2.2, 1.4.11
    for (const ground of GROUNDS) {
      const ratio = contrast(colour(tokens, 'rule-strong'), colour(tokens, ground));
      assert.ok(ratio >= 3, `rule-strong on ${ground}: ${ratio.toFixed(2)}`);
    }
  });
}
