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
    selector: ":not(MemberExpression) > Identifier[name='Math'], MemberExpression > Identifier.property[name='Math']",
    message: 'Name the Math function plainly, so that the rule on determinism can be checked.',
  },
  { selector: "Identifier[name='globalThis']", message: 'No way round the rules by globalThis.' },
  { selector: "BinaryExpression[operator='**']", message: 'Engines differ in **; use core/units/exact-math.ts.' },
  { selector: "AssignmentExpression[operator='**=']", message: 'Engines differ in **; use core/units/exact-math.ts.' },
];

const hostFree = [
  { selector: "Identifier[name='Date']", message: 'No clock here.' },
  {
    selector: 'MemberExpression[property.name=/^(localeCompare|toLocale\\w*)$/]',
    message: 'The order and the words of a locale differ from machine to machine.',
  },
  { selector: "Identifier[name='Intl']", message: 'The words of a locale differ from machine to machine.' },
];

/** The methods of an engine unit that run on the audio thread, in a class or in an object. */
const audioThreadBody =
  ':matches(MethodDefinition, PropertyDefinition, Property)[key.name=/^(process|flush|configure)$/] > :function > BlockStatement';
const allocatingCalls =
  'concat|entries|filter|flat|flatMap|from|join|keys|map|of|push|slice|splice|split|toSorted|toSpliced|unshift|values|with';

/** What would allocate or throw on the audio thread. */
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
  'AwaitExpression',
  `CallExpression[callee.property.name=/^(${allocatingCalls})$/]`,
].map((node) => ({
  selector: `${audioThreadBody} ${node}`,
  message: 'The audio thread never allocates, throws or waits: not in process, flush or configure.',
}));

/** Folders where files are read and written. */
const asynchronous = ['core/audio-file', 'core/job', 'core/delivery', 'decoders', 'node', 'cli'];

function importPatterns(folder) {
  const { may, packages = [], builtins = false } = layers[folder];
  const folders = Object.keys(layers).filter(
    (other) => other !== folder && !may.includes(other) && !(may.includes('core/*') && other.startsWith('core/')),
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
    // no file may excuse itself from a rule
    linterOptions: { noInlineConfig: true, reportUnusedDisableDirectives: 'error' },
    rules: {
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_' }],
      '@typescript-eslint/no-non-null-assertion': 'off',
      '@typescript-eslint/consistent-type-imports': 'error',
      '@typescript-eslint/no-invalid-void-type': 'off',
      'no-console': 'error',
      eqeqeq: 'error',
      'no-restricted-syntax': 'off',
    },
  },
  ...exactFolders.map((folder) => ({
    files: [`${folder}/**/*.{ts,tsx}`],
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
    files: [`${folder}/**/*.{ts,tsx}`],
    ignores: ['**/*.test.ts'],
    rules: { 'no-restricted-imports': ['error', { patterns: importPatterns(folder) }] },
  })),
  {
    // work that is awaited nowhere is lost without a word; these need types, so they run where promises live
    files: asynchronous.map((folder) => `${folder}/**/*.ts`),
    languageOptions: { parserOptions: { projectService: true, tsconfigRootDir: import.meta.dirname } },
    rules: {
      '@typescript-eslint/no-floating-promises': 'error',
      '@typescript-eslint/no-misused-promises': 'error',
      '@typescript-eslint/await-thenable': 'error',
      '@typescript-eslint/return-await': ['error', 'in-try-catch'],
      '@typescript-eslint/only-throw-error': 'error',
    },
    ignores: ['**/*.test.ts'],
  },
  { files: ['scripts/**', 'cli/**', 'bench/**', 'bin/**', '*.mjs'], rules: { 'no-console': 'off' } },
);
