import assert from 'node:assert/strict';
import { test } from 'node:test';
import { inspectJsonSchema } from '../../core/session/inspect-format.js';
import { sessionJsonSchema } from '../../core/session/session-format.js';
import { textOf } from './repository.js';

for (const [name, schema] of [
  ['keelson-session', sessionJsonSchema()],
  ['inspect', inspectJsonSchema()],
] as const) {
  test(`the published schema of ${name} is the one the program checks by (else: npm run schemas)`, () => {
    const published: unknown = JSON.parse(textOf(`docs/formats/${name}.schema.json`));
    assert.deepEqual(published, JSON.parse(JSON.stringify(schema)));
  });
}
