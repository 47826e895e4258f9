import assert from 'node:assert/strict';
import { test } from 'node:test';
import { ESLint } from 'eslint';
import { files, root, textOf } from './repository.js';

/**
 * A ban that never fires protects nothing: each is shown a source that breaks it, and one that comes near and is allowed.
 * Functions that differ between engines: measured for this project on Node and two browsers (docs/decisions.md).
 */
const eslint = new ESLint({ cwd: root });

async function rulesBrokenBy(source: string, filePath: string): Promise<string[]> {
  const [result] = await eslint.lintText(source, { filePath: `${root}/${filePath}` });
  assert.ok(result, `${filePath} was not linted`);
  const fatal = result.messages.find((message) => message.fatal);
  assert.equal(fatal, undefined, `the probe does not parse: ${fatal?.message}`);
  return result.messages.map((message) => message.ruleId ?? message.message);
}

const syntax = 'no-restricted-syntax';
const inexact = [
  ...['acos', 'acosh', 'asin', 'asinh', 'atan', 'atan2', 'atanh', 'cbrt', 'cos', 'cosh', 'exp', 'expm1', 'hypot'],
  ...['log', 'log10', 'log1p', 'log2', 'pow', 'random', 'sin', 'sinh', 'tan', 'tanh'],
];
const exact = ['abs', 'ceil', 'floor', 'fround', 'imul', 'max', 'min', 'round', 'sign', 'sqrt', 'trunc', 'clz32'];

for (const folder of ['core/units', 'core/dsp', 'core/measure', 'core/treatment', 'demo']) {
  test(`${folder}: every inexact function of Math is refused, every exact one allowed`, async () => {
    for (const name of inexact) {
      const broken = await rulesBrokenBy(`export const y = Math.${name}(0.5, 2);`, `${folder}/probe.ts`);
      assert.deepEqual(broken, [syntax], name);
    }
    const allowed = exact.map((name) => `export const ${name} = Math.${name}(0.5);`).join('\n');
    assert.deepEqual(await rulesBrokenBy(allowed, `${folder}/probe.ts`), []);
  });
}

test('Math and every member its engine has is either known exact or banned', () => {
  const functions = Object.getOwnPropertyNames(Math).filter((name) => typeof Reflect.get(Math, name) === 'function');
  const later = ['f16round', 'sumPrecise'];
  assert.deepEqual(
    functions.filter((name) => ![...inexact, ...exact, ...later].includes(name)),
    [],
  );
});

const bans: readonly (readonly [what: string, source: string, path: string, rule: string])[] = [
  ['**', 'export const f = (x: number) => x ** 2;', 'core/dsp/probe.ts', syntax],
  ['**=', 'export function f(x: number) { x **= 2; return x; }', 'core/dsp/probe.ts', syntax],
  ['Math by computed name', "export const f = (x: number) => Math['sin'](x);", 'core/dsp/probe.ts', syntax],
  ['Math taken apart', 'const { sin } = Math; export const f = sin;', 'core/dsp/probe.ts', syntax],
  ['Math by another name', 'const m = Math; export const f = m.sin;', 'core/dsp/probe.ts', syntax],
  ['Math handed on', 'export const f = Reflect.get(Math, "sin");', 'core/dsp/probe.ts', syntax],
  ['Math through globalThis', 'export const f = globalThis.Math.sin;', 'core/dsp/probe.ts', syntax],
  ['a clock', 'export const f = () => Date.now();', 'core/job/probe-clock.ts', syntax],
  ['a date', 'export const f = () => new Date();', 'core/song/probe.ts', syntax],
  ['a clock by another name', 'const D = Date; export const f = () => D.now();', 'demo/probe.ts', syntax],
  ['order of a locale', "export const f = (a: string) => a.localeCompare('b');", 'core/song/probe.ts', syntax],
  ['an own excuse', '// eslint-disable-next-line eqeqeq\nexport const f = 1 == 1;', 'core/dsp/probe.ts', 'eqeqeq'],
  ['console in core', 'export const f = () => console.log(1);', 'core/dsp/probe.ts', 'no-console'],
];

for (const [what, source, path, rule] of bans) {
  test(`refused: ${what}`, async () => {
    // a folder whose lint needs types can only be probed at a file that exists
    const existing = path.startsWith('core/job/') ? 'core/job/ports.ts' : path;
    assert.ok((await rulesBrokenBy(source, existing)).includes(rule));
  });
}

const allocations = {
  'a new object': 'new Float64Array(2);',
  'an array': 'const pair = [left, right];',
  'an object': 'const pair = { left, right };',
  'an arrow function': 'const f = () => left;',
  'a function': 'const f = function () { return left; };',
  'a spread': 'f(...left);',
  'for of': 'for (const value of left) sum(value);',
  'a throw': 'throw error;',
  'a template text': 'const text = `${left}`;',
  'an allocating call': 'const part = left.slice(0, 2);',
};
const hosts: Record<string, (body: string, method: string) => string> = {
  'a class': (body, method) => `export class P { ${method}(left: Float64Array) { ${body} } }`,
  'a class field': (body, method) => `export class P { ${method} = (left: Float64Array) => { ${body} }; }`,
  'an object': (body, method) => `export const p = { ${method}(left: Float64Array) { ${body} } };`,
};

for (const [what, body] of Object.entries(allocations)) {
  test(`refused on the audio thread: ${what}`, async () => {
    for (const host of Object.values(hosts)) {
      for (const method of ['process', 'flush', 'configure']) {
        const broken = await rulesBrokenBy(host(body, method), 'core/dsp/probe.ts');
        assert.ok(broken.includes(syntax), `${method} in ${host('', '')}`);
      }
      assert.ok(!(await rulesBrokenBy(host(body, 'prepare'), 'core/dsp/probe.ts')).includes(syntax), 'elsewhere');
    }
  });
}

const imports: readonly (readonly [source: string, path: string, allowed: boolean])[] = [
  ["import { x } from '../measure/x.js';", 'core/dsp/probe.ts', false],
  ["export * from '../measure/x.js';", 'core/dsp/probe.ts', false],
  ["import { x } from '../units/x.js';", 'core/dsp/probe.ts', true],
  ["import { x } from '../../demo/x.js';", 'core/dsp/probe.ts', false],
  ["import { x } from 'node:fs';", 'core/dsp/probe.ts', false],
  ["import { x } from 'zod';", 'core/song/probe.ts', false],
  ["import { x } from 'zod';", 'core/session/probe.ts', true],
  ["import { x } from 'zodiac';", 'core/session/probe.ts', false],
  ["import { x } from '../core/measure/x.js';", 'demo/probe.ts', false],
  ["import { x } from '../core/units/x.js';", 'demo/probe.ts', true],
];

for (const [source, path, allowed] of imports) {
  test(`${allowed ? 'allowed' : 'refused'}: ${source} in ${path}`, async () => {
    const text = source.startsWith('import') ? `${source}\nexport const y = x;` : source;
    assert.equal((await rulesBrokenBy(text, path)).includes('no-restricted-imports'), !allowed);
  });
}

test('a promise that nobody waits for is refused where files are written', async () => {
  const path = files.find(
    (file) => file.startsWith('core/job/') && !file.endsWith('.test.ts') && file.endsWith('.ts'),
  )!;
  const lost = 'export function f(save: () => Promise<void>) { save(); }';
  assert.deepEqual(await rulesBrokenBy(lost, path), ['@typescript-eslint/no-floating-promises']);
  const kept = 'export async function f(save: () => Promise<void>) { await save(); }';
  assert.deepEqual(await rulesBrokenBy(kept, path), []);
});

test('test files may use Math', async () => {
  assert.deepEqual(await rulesBrokenBy('export const y = Math.sin(1) ** 2;', 'core/dsp/probe.test.ts'), []);
});

test('no source excuses itself from a rule of lint or types', () => {
  const excuse = new RegExp(
    ['eslint' + '-disable', '@ts' + '-ignore', '@ts' + '-nocheck', 'prettier' + '-ignore'].join('|'),
  );
  const own = 'tests/house/lint-bans.test.ts';
  const excused = files.filter((path) => /\.(ts|mjs)$/.test(path) && path !== own && excuse.test(textOf(path)));
  assert.deepEqual(excused, []);
});
