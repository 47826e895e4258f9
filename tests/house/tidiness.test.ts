import assert from 'node:assert/strict';

import { statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { test } from 'node:test';
import { files, root, textFiles, textOf } from './repository.js';

const sources = files.filter((path) => /\.(ts|mjs)$/.test(path));

test('every folder with sources, and every folder above it, says in a README what it is for', () => {
  const folders = new Set<string>();
  for (const path of sources) {
    for (let folder = dirname(path); folder !== '.'; folder = dirname(folder)) folders.add(folder);
  }
  assert.ok(folders.size > 10, 'the folders were found');
  assert.deepEqual(
    [...folders].filter((folder) => !files.includes(`${folder}/README.md`)),
    [],
  );
});

/** @returns `path:line` for each line that matches. */
function linesThatMatch(pattern: RegExp, paths: readonly string[]): string[] {
  return paths.flatMap((path) =>
    textOf(path)
      .split('\n')
      .flatMap((line, index) => (pattern.test(line) ? [`${path}:${index + 1}`] : [])),
  );
}

// Written in pieces, so that this file does not hold what it looks for.
const registryHost = new RegExp(
  ['npm' + 'js\\.(org|com)', '[/@"\'` ]regis' + 'try\\.[a-z]', 'yarn' + 'pkg\\.com'].join('|'),
);
const machinePath = new RegExp(
  `(^|[^\\w.~/-])/(${['wo' + 'rk', 'tm' + 'p', 'ro' + 'ot', 'ho' + 'me', 'Us' + 'ers'].join('|')})/\\w`,
);

test('no file names a package registry or a path of somebody’s machine', () => {
  assert.ok(textFiles.includes('package-lock.json') && textFiles.includes('.npmrc'), 'the files are looked at');
  assert.deepEqual(linesThatMatch(registryHost, textFiles), []);
  assert.deepEqual(linesThatMatch(machinePath, textFiles), []);
  assert.deepEqual(linesThatMatch(/"resolved":/, ['package-lock.json']), []);
});

test('the patterns for hosts and paths match what they are for', () => {
  assert.match(`https://${'regis' + 'try'}.example/x`, registryHost);
  assert.doesNotMatch('the list is finding-registry.ts', registryHost);
  assert.match(`see /${'wo' + 'rk'}/notes`, machinePath);
  assert.match(`"/${'tm' + 'p'}/x"`, machinePath);
  assert.doesNotMatch('tests/work/notes and ./tmp/x and https://a.example/home/x', machinePath);
});

test('no test is skipped, left to do or run alone', () => {
  const tests = sources.filter((path) => path.endsWith('.test.ts'));
  assert.ok(tests.length > 0);
  const shortcut = new RegExp(
    `\\.(${['sk' + 'ip', 'on' + 'ly', 'to' + 'do'].join('|')})\\s*\\(|\\b(${'sk' + 'ip'}|${'to' + 'do'})\\s*:|\\b${'on' + 'ly'}\\s*:\\s*true`,
  );
  assert.deepEqual(linesThatMatch(shortcut, tests), []);
  assert.match(`test.${'sk' + 'ip'}('x')`, shortcut);
  assert.match(`{ ${'to' + 'do'}: 'later' }`, shortcut);
});

test('nothing is left to do in a source', () => {
  assert.deepEqual(
    linesThatMatch(
      new RegExp(`\\b(${['TO' + 'DO', 'FIX' + 'ME', 'XX' + 'X', 'not built ' + 'yet'].join('|')})\\b`),
      sources,
    ),
    [],
  );
});

test('no folder or file has a name that says nothing', () => {
  const empty = /(^|[/-])(utils?|helpers?|common|misc|managers?|stuff)([./-]|$)/;
  assert.deepEqual(
    files.filter((path) => empty.test(path)),
    [],
  );
  assert.match('core/utils/x.ts', empty);
});

test('no source is longer than 450 lines', () => {
  const long = sources.filter((path) => textOf(path).split('\n').length > 451);
  assert.deepEqual(long, []);
});

test('what is run directly may be run', () => {
  for (const path of ['.ci/run', 'bin/keelson.mjs']) {
    assert.ok((statSync(join(root, path)).mode & 0o111) === 0o111, `${path} is not executable`);
  }
  assert.match(textOf('bin/keelson.mjs'), /^#!\/usr\/bin\/env node\n/);
  assert.match(textOf('.ci/run'), /\bnpm test\n/);
});
