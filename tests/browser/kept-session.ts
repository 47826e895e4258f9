import type { Page } from 'playwright-core';
import { readSession } from '../../core/session/session-file.js';
import type { Session } from '../../core/session/session-format.js';
import { until } from './until.js';

/** The session this browser keeps of a song, once it is as expected. */
export async function keptSession(
  page: Page,
  name: string,
  expected: (session: Session) => boolean = () => true,
): Promise<Session> {
  let session: Session | null = null;
  await until(page, `what is kept of ${name} is as expected`, async () => {
    const text = await page.evaluate(textOfKept, name);
    session = text === null ? null : readSession(text);
    return session !== null && expected(session);
  });
  return session!;
}

/** Looks without making a database where the page has not made its own yet. */
async function textOfKept(name: string): Promise<string | null> {
  const databases = await indexedDB.databases();
  if (!databases.some((database) => database.name === 'keelson')) return null;
  return new Promise((done, fail) => {
    const opening = indexedDB.open('keelson');
    opening.onerror = () => fail(new Error('the browser keeps nothing'));
    opening.onsuccess = () => {
      const asked = opening.result.transaction('sessions').objectStore('sessions').getAll();
      asked.onsuccess = () => {
        opening.result.close();
        const kept = asked.result as { readonly name: string; readonly text: string }[];
        done(kept.find((song) => song.name === name)?.text ?? null);
      };
    };
  });
}
