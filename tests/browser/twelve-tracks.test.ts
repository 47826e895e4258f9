import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { writeSession } from '../../core/session/session-file.js';
import { emptySession } from '../../core/session/session-format.js';
import { BuiltPage, type Sheet } from './built-page.js';
import { assertOneSheet } from './paper-pages.js';
import { twelveTracks } from './song-files.js';

/* What is given to others stays one sheet of A4 where the song has twelve tracks, each with settings of its own. */

let built: BuiltPage;
let sheet: Sheet;

before(async () => {
  const files = twelveTracks();
  assert.equal(Object.keys(files).length, 12);
  const session = new TextEncoder().encode(writeSession({ ...emptySession(), settings: byHand(Object.keys(files)) }));
  built = await BuiltPage.open();
  sheet = await built.newUser();
  await sheet.openMeasured({ ...files, 'keelson.json': session });
  await sheet.button('See the findings').click();
  await sheet.button('Treat everything found').click();
  await sheet.solve();
  await sheet.print();
});
after(() => built.close());

/** A low cut on every track, each at another frequency, and what else of the path no finding asks for. */
function byHand(names: readonly string[]) {
  const roleOf = (name: string) => (name.includes('Kick') ? 'kick' : name.includes('Bass') ? 'bass' : 'rest');
  return [
    ...names.flatMap((name, i) => {
      const clean = `${roleOf(name)}["${name}"].clean`;
      return [
        { address: `${clean}.lowCut`, value: true },
        { address: `${clean}.corner_Hz`, value: 20 + i },
      ];
    }),
    { address: 'kick.trim.gain_dB', value: -1 },
    { address: 'bass.trim.gain_dB', value: 1 },
    { address: 'bass.low.steady.threshold_dBFS', value: -30 },
    { address: 'bass.low.saturate.drive_dB', value: 6 },
    { address: 'bass.high.saturate.drive_dB', value: 6 },
    { address: 'bass.high.widen.sideToMid_dB', value: -12 },
  ];
}

test('the client report is one sheet, with all that was lost', async () => {
  await sheet.button(/^Client report/).click();
  await assertOneSheet(sheet.page, '.a4');
  await sheet.button('Back to the proof').click();
});

test('the recall sheet is one sheet; what it has no room for is counted', async () => {
  await sheet.button(/^Recall/).click();
  await assertOneSheet(sheet.page, '.a4');
  const rows = await sheet.page.locator('.recall tbody tr').count();
  const more = /and (\d+) more/.exec(await sheet.page.locator('.recall').innerText())?.[1] ?? 0;
  assert.ok(rows >= 14 && rows + Number(more) >= 18, `${rows} rows and ${more} more`);
  await sheet.button('Back to the proof').click();
});

test('nothing went wrong on the way', () => {
  assert.deepEqual([sheet.errors, sheet.violations], [[], []]);
});
