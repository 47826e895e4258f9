import tseslint from 'typescript-eslint';
import { exactFolders, hostFreeFolders, layers } from './layers.mjs';

const inexact =
  'acos|acosh|asin|asinh|atan|atan2|atanh|cbrt|cos|cosh|exp|expm1|hypot|log|log10|log1p|log2|pow|random|sin|sinh|tan|tanh';

/** The rule on determinism: live and printed sound are equal to the last bit in every engine. */
const exactness = [
  {
    selector: `MemberExpression[object.name='Math'][property.name=/^(${inexact})$/]`,
    message: 'Engines differ in this function by an ulp; use core/units/exact-math.ts.',
  },
  {
    selector: "MemberExpression[object.name='Math'][computed=true]",
    message: 'Name the Math function plainly, so that the rule on determinism can be checked.',
  },
  {
    selector: "VariableDeclarator[id.type='ObjectPattern'][init.name='Math']",
    message: 'Name the Math function plainly, so that the rule on determinism can be checked.',
  },
  { selector: "BinaryExpression[operator='**']", message: 'Engines differ in **; use core/units/exact-math.ts.' },
  { selector: "AssignmentExpression[operator='**=']", message: 'Engines differ in **; use core/units/exact-math.ts.' },
];

const hostFree = [
  { selector: "NewExpression[callee.name='Date']", message: 'No clock here.' },
  { selector: "MemberExpression[object.name='Date']", message: 'No clock here.' },
];

/** What would allocate or throw inside a method called `process`, `flush` or `configure` of an engine class. */
const realtime = [
  'NewExpression',
  'ArrayExpression',
  'ObjectExpression',
  'ArrowFunctionExpression',
  'FunctionExpression',
  'SpreadElement',
  'ForOfStatement',
  'ThrowStatement',
  'TemplateLiteral',
].map((node) => ({
  selector: `ClassBody > MethodDefinition[key.name=/^(process|flush)$/] > FunctionExpression > BlockStatement ${node}`,
  message: `The audio thread never allocates or throws: no ${node} in process or flush.`,
}));

function importPatterns(folder) {
  const { may, packages = [], builtins = false } = layers[folder];
  const folders = Object.keys(layers).filter(
    (other) => other !== folder && !may.includes(other) && !(other.startsWith('core/') && may.includes('core/*')),
  );
  const depth = '(\\.\\./)+';
  const patterns = folders.map((other) => ({
    regex:
      folder.startsWith('core/') && other.startsWith('core/') ? `^${depth}${other.slice(5)}/` : `^${depth}${other}/`,
    message: `${folder} may import only: ${[...may, ...packages].join(', ') || 'nothing'} (layers.mjs).`,
  }));
  if (!builtins) patterns.push({ regex: '^node:', message: `${folder} knows no host (layers.mjs).` });
  patterns.push({
    regex: `^(?!\\.|node:${packages.map((name) => `|${name}($|/)`).join('')})`,
    message: `${folder} may use only these packages: ${packages.join(', ') || 'none'} (layers.mjs).`,
  });
  return patterns;
}

export default tseslint.config(
  { ignores: ['dist/**', 'build/**', 'node_modules/**', 'docs/figures/**'] },
  ...tseslint.configs.strict,
  {
    rules: {
      '@typescript-eslint/no-non-null-assertion': 'off',
      '@typescript-eslint/consistent-type-imports': 'error',
      '@typescript-eslint/no-invalid-void-type': 'off',
      'no-console': 'error',
      eqeqeq: 'error',
      'no-restricted-syntax': 'off',
    },
  },
  ...exactFolders.map((folder) => ({
    files: [`${folder}/**/*.ts`],
    ignores: ['**/*.test.ts'],
    rules: {
      'no-restricted-syntax': [
        'error',
        ...exactness,
        ...(hostFreeFolders.includes(folder) ? hostFree : []),
        ...realtime,
      ],
    },
  })),
  ...Object.keys(layers).map((folder) => ({
    files: [`${folder}/**/*.ts`],
    ignores: ['**/*.test.ts'],
    rules: { 'no-restricted-imports': ['error', { patterns: importPatterns(folder) }] },
  })),
  { files: ['scripts/**', 'cli/**', 'bench/**', 'bin/**', '*.mjs'], rules: { 'no-console': 'off' } },
);
