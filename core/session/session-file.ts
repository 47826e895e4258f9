import { PlainError } from '../units/plain-error.js';
import { SESSION_VERSION, sessionSchema, type Session } from './session-format.js';
import { upgraded } from './session-upgraders.js';

/** Name of the session file in the song folder. */
export const SESSION_FILE = 'keelson.json';

/**
 * Reads the text of a session file, older versions lifted to the newest.
 * @throws PlainError where it is broken, made by a newer version, or no session. It is then to be left as it is: the engineer's
 * decisions may still be saved from it by hand.
 */
export function readSession(text: string): Session {
  const document = parsed(text);
  const version = document['version'];
  if (
    document['format'] !== 'keelson-session' ||
    typeof version !== 'number' ||
    !Number.isInteger(version) ||
    version < 1
  ) {
    throw broken('It is not a session of this program.');
  }
  if (version > SESSION_VERSION) {
    throw new PlainError(
      SESSION_FILE,
      `It was written by a newer version of this program (format ${version}; this one reads up to ${SESSION_VERSION}).`,
      'Update the program. The file has been left as it is.',
    );
  }
  const result = sessionSchema.safeParse(upgraded(document, version));
  if (result.success) return result.data as Session;
  const issue = result.error.issues[0]!;
  throw broken(`At ${issue.path.join('.') || 'its top'}: ${issue.message}.`);
}

function parsed(text: string): Record<string, unknown> {
  try {
    const document: unknown = JSON.parse(text.replace(/^\uFEFF/, ''));
    if (typeof document === 'object' && document !== null && !Array.isArray(document)) {
      return document as Record<string, unknown>;
    }
  } catch (error) {
    throw broken(`It is not valid JSON (${(error as Error).message}).`);
  }
  throw broken('It is not a session of this program.');
}

function broken(reason: string): PlainError {
  return new PlainError(
    SESSION_FILE,
    reason,
    'Mend it, or move it away to begin anew. The file has been left as it is.',
  );
}

/**
 * The text of a session: keys in a fixed order, two spaces, one line feed at the end, so that the same session is the same
 * bytes and changes are easy to compare.
 */
export function writeSession(session: Session): string {
  return `${JSON.stringify(sessionSchema.parse(session), null, 2)}\n`;
}
