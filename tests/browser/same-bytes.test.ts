import assert from 'node:assert/strict';
import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { unzipSync } from 'fflate';
import { readSession } from '../../core/session/session-file.js';
import type { Session } from '../../core/session/session-format.js';
import { keelson } from '../end-to-end/keelson.js';
import { everyFile, folderWith } from '../end-to-end/song-folder.js';
import { BuiltPage, type Sheet } from './built-page.js';
import { chosenFolder, filesOfFolder, textInFolder } from './browser-folder.js';
import { typeInto } from './form-blanks.js';
import { faultyFiles } from './song-files.js';
import { until } from './until.js';

/*
 * What the page prints is what the command line prints, byte for byte: the same stems, the same decisions, one engine, once with
 * files handed to the page (prints as a zip) and once with a folder it may write into (prints beside the stems).
 */

const files = faultyFiles();
const SONG = 'Lamp Room';
const SESSION = 'keelson.json';
const REASON = 'the player means it';

let built: BuiltPage;
let printed: Readonly<Record<string, string>>;
let decided: Session;

before(async () => {
  const folder = await folderWith(files, SONG);
  const { exitCode, err } = await keelson(
    ...['treat', folder, '--accept', 'all', '--leave', `uneven-notes=${REASON}`],
    ...['--wish', 'centre.foldDownLoss_dB=<= 0.5 dB', '--set', 'bass.centre.corner_Hz=100', '--print'],
  );
  assert.deepEqual([exitCode, err], [0, '']);
  printed = await everyFile(folder);
  decided = readSession(await readFile(join(folder, SESSION), 'utf8'));
  built = await BuiltPage.open();
});
after(() => built.close());

/** The same decisions by the page's own controls, then the print. */
async function decideAndPrint(sheet: Sheet): Promise<void> {
  const { page } = sheet;
  await sheet.button('See the findings').click();
  await sheet.button('Treat everything found').click();
  await sheet.chooseItem(sheet.findings.filter({ hasText: /Notes|notes/ }).last());
  await sheet.button(/^Leave, with a reason/).click();
  await page.getByLabel('Reason for leaving it').fill(REASON);
  await sheet.button('Leave it').click();
  await sheet.tab('Path').click();
  await page.locator('.strands [data-key="bass.centre"]').click();
  await typeInto(page.locator('.wish-sentence').getByRole('slider'), '0.5 dB');
  await typeInto(page.locator('.settings').getByRole('slider', { name: 'corner', exact: true }), '0.1k');
  await sheet.solve();
  await sheet.print();
}

function hashed(byName: Readonly<Record<string, Uint8Array>>): Record<string, string> {
  return Object.fromEntries(
    Object.entries(byName).map(([name, bytes]) => [name, createHash('sha256').update(bytes).digest('hex')]),
  );
}

const withoutSession = (hashes: Readonly<Record<string, string>>) =>
  Object.fromEntries(Object.entries(hashes).filter(([path]) => path !== SESSION));

const printsAmong = (hashes: Readonly<Record<string, string>>) =>
  Object.fromEntries(Object.entries(hashes).filter(([path]) => path.startsWith('Keelson prints/')));

test('files given to the page: every print in the zip is the command line’s, and so is the session', async () => {
  const sheet = await built.newUser();
  await sheet.openMeasured(files);
  await decideAndPrint(sheet);
  const download = sheet.page.waitForEvent('download');
  await sheet.button('Save all prints as one zip').click();
  const zip = unzipSync(new Uint8Array(await readFile(await (await download).path())));
  assert.ok(Object.keys(printsAmong(printed)).length >= 6, 'the command line printed the stems');
  assert.deepEqual(printsAmong(hashed(zip)), printsAmong(printed));
  assert.deepEqual(readSession(Buffer.from(zip[SESSION]!).toString('utf8')), decided);
  assert.deepEqual(sheet.errors, []);
  await sheet.page.context().close();
});

test('a folder the page may write into: prints and session land beside the stems, which stay as they were', async () => {
  const sheet = await built.newUser();
  await chosenFolder(sheet.page, SONG, files);
  await sheet.button('Choose a folder').click();
  await sheet.button('See the findings').waitFor();
  await decideAndPrint(sheet);
  // beside the stems it is written last, after the browser's own store
  await until(sheet.page, 'the print is in the session beside the stems', async () => {
    const text = await textInFolder(sheet.page, SONG, SESSION);
    return text !== null && readSession(text).revisions.length === 1;
  });
  const standing = await filesOfFolder(sheet.page, SONG);
  assert.deepEqual(withoutSession(hashed(standing)), withoutSession(printed), 'stems and prints, and no half file');
  // the page lists its print among the versions, with the time; the command line has no clock
  const { revisions, ...session } = readSession(Buffer.from(standing[SESSION]!).toString('utf8'));
  assert.deepEqual({ ...session, revisions: [] }, decided);
  assert.deepEqual(
    revisions.map(({ print }) => print),
    ['v1'],
  );
  assert.deepEqual(sheet.errors, []);
  await sheet.page.context().close();
});
