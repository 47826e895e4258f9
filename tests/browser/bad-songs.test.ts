import assert from 'node:assert/strict';
import { after, before, beforeEach, test } from 'node:test';
import { keelson } from '../end-to-end/keelson.js';
import { everyFile, folderWith, stemBytes, temporaryFolder } from '../end-to-end/song-folder.js';
import { smallSong } from '../songs/small-song.js';
import { wavBytes, words16 } from '../sound-bytes/wav-bytes.js';
import { BuiltPage, type Sheet } from './built-page.js';
import { dropOnSheet, withoutLeave } from './native-drop.js';
import type { SongFiles } from './song-files.js';

/* What is no song gets a plain note in its place, and the page goes on: the next song opens beside it. */

const { kick, bass } = smallSong();
const KICK = stemBytes(kick, { depth: '16' });
const BASS = stemBytes(bass, { depth: '16' });
const GOOD: SongFiles = { 'Breakwater Kick.wav': KICK, 'Breakwater Bass.wav': BASS };
const text = (words: string): Uint8Array => new TextEncoder().encode(words);

let built: BuiltPage;
let sheet: Sheet;

before(async () => {
  built = await BuiltPage.open();
  sheet = await built.newUser();
});
after(() => built.close());
beforeEach(() => sheet.page.reload());

/** The note: no word of the program's own inside. */
async function plainNote(said: RegExp): Promise<string> {
  const note = sheet.page.locator('.trouble');
  await note.filter({ hasText: said }).waitFor();
  await sheet.drawn();
  const words = flat(await note.locator('h2, .sentence').allInnerTexts());
  assert.doesNotMatch(words, /Error|undefined|null|NaN|\bat \w+ \(/);
  return words;
}

const flat = (lines: readonly string[]): string => lines.join(' ').replace(/\s+/g, ' ').trim();

/** What the command line says of the same files: what, why, and what can be done. */
async function saidByCommandLine(files: SongFiles): Promise<string> {
  const { exitCode, err } = await keelson('inspect', await folderWith(files, 'Song'));
  assert.equal(exitCode, 2);
  return flat([err]);
}

function rowOf(file: string) {
  return sheet.page.getByRole('row').filter({ has: sheet.page.getByRole('rowheader', { name: file, exact: true }) });
}

/** The page can be left for another song, and that one opens. */
async function startAnew(): Promise<void> {
  await sheet.button('Open another song').click();
  await sheet.button('Choose files').waitFor();
}

const refused: readonly (readonly [what: string, files: SongFiles, said: RegExp])[] = [
  ['text that calls itself WAV', { 'Kick.wav': text('a shopping list\n') }, /text file/],
  ['a header cut short', { 'Kick.wav': KICK.slice(0, 20) }, /cut short|no sound/i],
  ['a rate of 1 Hz', { 'Kick.wav': wavBytes({ sampleRate_Hz: 1 }, words16([1, 2, 3, 4])) }, /sample rate of 1 Hz/],
  ['another format that calls itself WAV', { 'Kick.wav': text('OggS\0\0\0\0') }, /Ogg/],
  ['an empty file', { 'Kick.wav': new Uint8Array(0) }, /empty/],
  ['no sound at all', { 'notes.txt': text('take 4'), 'cover.png': text('PNG') }, /no sound files/],
  ['a format that stems are not kept in', { 'Kick.mp3': text('ID3') }, /Kick\.mp3/],
];

for (const [what, files, said] of refused) {
  test(`${what}: refused in words, and the page goes on`, async () => {
    await sheet.chooseFiles(files);
    assert.equal(await plainNote(said), await saidByCommandLine(files));
    await startAnew();
  });
}

test('two songs in one folder: refused in words', async () => {
  const other = smallSong(44_100);
  await sheet.chooseFiles({
    'Harbour_Kick.wav': KICK,
    'Harbour_Bass.wav': BASS,
    'Jetty_Kick.wav': stemBytes(other.kick),
    'Jetty_Bass.wav': stemBytes(other.bass),
  });
  await plainNote(/[Tt]wo songs|Harbour/);
  await startAnew();
});

test('a bad file beside good ones: named with its reason, and the song is measured without it', async () => {
  await sheet.openMeasured({ ...GOOD, 'Breakwater Keys.wav': KICK.slice(0, 20), 'Breakwater Pad.wav': text('pad') });
  await sheet.drawn();
  assert.match(await rowOf('Breakwater Keys.wav').innerText(), /left out[^]*(cut short|no sound)/i);
  assert.match(await rowOf('Breakwater Pad.wav').innerText(), /left out[^]*text file/i);
  assert.equal(await sheet.page.getByLabel('Role of Breakwater Kick.wav').inputValue(), 'kick');
  await startAnew();
});

test('a stem cut short in the middle of its sound: measured as far as it goes, and said', async () => {
  await sheet.openMeasured({ ...GOOD, 'Breakwater Kick.wav': KICK.slice(0, KICK.length - 30_001) });
  await sheet.drawn();
  assert.match(await rowOf('Breakwater Kick.wav').locator('.to-know').innerText(), /declare|cut|short/i);
  await startAnew();
});

test('words dropped, and a folder without a file: refused in words', async () => {
  await dropOnSheet(sheet.page, { files: [], words: 'not a file' });
  await plainNote(/no sound files/);
  await startAnew();
  await withoutLeave(sheet.page);
  await dropOnSheet(sheet.page, { files: [await temporaryFolder('Empty Hold')] });
  await plainNote(/Empty Hold[^]*no sound files/);
  await startAnew();
});

test('a folder dropped without leave to write: measured from its files, and their bytes stay', async () => {
  const folder = await folderWith({ ...GOOD, 'notes.txt': 'take 4' }, 'Breakwater');
  const before = await everyFile(folder);
  await withoutLeave(sheet.page);
  await dropOnSheet(sheet.page, { files: [folder] });
  await sheet.button('See the findings').waitFor();
  await sheet.drawn();
  assert.equal(await sheet.page.getByRole('heading', { level: 1 }).innerText(), 'Breakwater');
  assert.equal(await sheet.page.locator('.stems-table tbody tr').count(), 2);
  assert.deepEqual(await everyFile(folder), before);
  await startAnew();
});

test('after all that, no error was thrown and no policy broken', () => {
  assert.deepEqual([sheet.errors, sheet.violations], [[], []]);
});
