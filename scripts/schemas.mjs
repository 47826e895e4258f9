/** `npm run schemas`: writes the published JSON Schemas of docs/formats from the source of truth in core/session. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { build } from './build.mjs';
import { install } from './install.mjs';
import { root } from './run-step.mjs';

install();
build();
const { inspectJsonSchema } = await import('../dist/core/session/inspect-format.js');
const { sessionJsonSchema } = await import('../dist/core/session/session-format.js');
for (const [name, schema] of [
  ['keelson-session', sessionJsonSchema()],
  ['inspect', inspectJsonSchema()],
]) {
  writeFileSync(join(root, 'docs/formats', `${name}.schema.json`), `${JSON.stringify(schema, null, 2)}\n`);
}
