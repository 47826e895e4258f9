/** Turns a document of one version into the next. Plain data in and out; nothing but what the version changed. */
export type SessionUpgrader = (old: Record<string, unknown>) => Record<string, unknown>;

/**
 * One upgrader per step, index 0 from version 1 to version 2 and so on. Version 1 is the first, so there is none yet; the test
 * holds the length of this list to `SESSION_VERSION - 1`, and old files go to tests/old-sessions/.
 */
export const SESSION_UPGRADERS: readonly SessionUpgrader[] = [];

/** Lifts a document from its version to the newest, one step after the other. */
export function upgraded(
  document: Record<string, unknown>,
  from: number,
  upgraders: readonly SessionUpgrader[] = SESSION_UPGRADERS,
): Record<string, unknown> {
  return upgraders
    .slice(from - 1)
    .reduce((older, upgrade, step) => ({ ...upgrade(older), version: from + step + 1 }), document);
}
