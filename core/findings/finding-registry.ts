import type { FindingDeclaration } from './finding-declaration.js';

/** Every finding there is, one line each. */
export const FINDINGS: readonly FindingDeclaration[] = [];
