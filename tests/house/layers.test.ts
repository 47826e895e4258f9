import assert from 'node:assert/strict';
import { dirname, join, posix } from 'node:path';
import { test } from 'node:test';
import { pathToFileURL } from 'node:url';
import ts from 'typescript';
import { files, root, textOf } from './repository.js';

interface Layer {
  readonly may: readonly string[];
  readonly packages?: readonly string[];
  readonly builtins?: boolean;
}

const { layers } = (await import(pathToFileURL(join(root, 'layers.mjs')).href)) as {
  layers: Record<string, Layer>;
};
const folders = Object.keys(layers);
const sources = files.filter((path) => /\.tsx?$/.test(path) && !path.endsWith('.test.ts') && layerOf(path) !== null);

/** The layer a path belongs to: the longest folder of the table that holds it. */
function layerOf(path: string): string | null {
  const holding = folders.filter((folder) => path.startsWith(`${folder}/`));
  return holding.sort((a, b) => b.length - a.length)[0] ?? null;
}

/** Every module a source names: by import, export, dynamic import or an import type. */
function modulesNamedBy(path: string, text: string): string[] {
  const names: string[] = [];
  const visit = (node: ts.Node): void => {
    if ((ts.isImportDeclaration(node) || ts.isExportDeclaration(node)) && node.moduleSpecifier) {
      names.push((node.moduleSpecifier as ts.StringLiteral).text);
    } else if (ts.isCallExpression(node) && node.expression.kind === ts.SyntaxKind.ImportKeyword) {
      const argument = node.arguments[0];
      names.push(argument && ts.isStringLiteralLike(argument) ? argument.text : 'a computed name');
    } else if (ts.isImportTypeNode(node) && ts.isLiteralTypeNode(node.argument)) {
      names.push((node.argument.literal as ts.StringLiteral).text);
    }
    ts.forEachChild(node, visit);
  };
  visit(ts.createSourceFile(path, text, ts.ScriptTarget.ES2023, false));
  return names;
}

/** What one import uses of the table: a folder, a package, or Node itself; null inside the own folder. */
function useOf(path: string, name: string): string | null {
  if (name.startsWith('node:')) return 'node:';
  if (!name.startsWith('.')) return `package ${name.split('/', name.startsWith('@') ? 2 : 1).join('/')}`;
  const target = posix.join(dirname(path), name);
  const layer = layerOf(target);
  return layer === layerOf(path) ? null : (layer ?? `${target}, which is in no layer`);
}

function usesOf(folder: string): Map<string, string> {
  const uses = new Map<string, string>();
  for (const path of sources.filter((source) => layerOf(source) === folder)) {
    for (const name of modulesNamedBy(path, textOf(path))) {
      const use = useOf(path, name);
      if (use !== null) uses.set(use, path);
    }
  }
  return uses;
}

function permissionsOf(layer: Layer): string[] {
  const packages = (layer.packages ?? []).map((name) => `package ${name}`);
  return [...layer.may, ...packages, ...(layer.builtins ? ['node:'] : [])];
}

for (const [folder, layer] of Object.entries(layers)) {
  const uses = usesOf(folder);
  const allowed = permissionsOf(layer);

  test(`${folder} imports only what layers.mjs lets it import`, () => {
    const broken = [...uses].filter(([use]) => !allowed.includes(use)).map(([use, path]) => `${path} uses ${use}`);
    assert.deepEqual(broken, []);
  });

  test(`${folder} uses every permission it has in layers.mjs`, () => {
    const unused = allowed.filter((permission) => !uses.has(permission));
    assert.deepEqual(unused, [], `take these out of layers.mjs; it uses: ${[...uses.keys()].sort().join(', ')}`);
  });
}

test('every source of the program belongs to a layer, and every layer has sources', () => {
  const outside = files.filter(
    (path) => path.endsWith('.ts') && layerOf(path) === null && !/^((tests|bench)\/|vite\.config\.ts$)/.test(path),
  );
  assert.deepEqual(outside, []);
  assert.deepEqual(
    folders.filter((folder) => !sources.some((path) => layerOf(path) === folder)),
    [],
  );
});

test('no layer imports itself through another', () => {
  const reaches = (from: string, to: string, seen: Set<string>): boolean =>
    (layers[from]?.may ?? []).some((next) => {
      if (next === to) return true;
      if (seen.has(next)) return false;
      seen.add(next);
      return reaches(next, to, seen);
    });
  assert.deepEqual(
    folders.filter((folder) => reaches(folder, folder, new Set())),
    [],
  );
});

test('each way to name a module is seen', () => {
  const probe = `
    import { a } from './a.js'; import type { B } from './b.js'; import './c.js';
    export * from './d.js'; export { e } from './e.js';
    const f = await import('./f.js'); let g: import('./g.js').G; const h = import(name);`;
  assert.deepEqual(modulesNamedBy('probe.ts', probe), [
    './a.js',
    './b.js',
    './c.js',
    './d.js',
    './e.js',
    './f.js',
    './g.js',
    'a computed name',
  ]);
});
