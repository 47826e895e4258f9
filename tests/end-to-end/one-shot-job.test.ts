import assert from 'node:assert/strict';
import { before, test } from 'node:test';
import { injectCoveredKick, injectRumble, injectWideLows } from '../songs/injected-faults.js';
import { oneShotSong } from '../songs/one-shot-song.js';
import { keelson } from './keelson.js';
import { everyFile, filesOf, folderWith, sourcesOf } from './song-folder.js';
import { assertWholeJob, readReport, type TreatReport } from './whole-job.js';

/** Seeds written down before any of their songs was heard. The first is run here; the others are for longer looks. */
const SEEDS = [4711, 1202, 77, 31];

const NAMES = {
  '01 Kick.wav': 'BD_trig [comp].wav',
  '02 Bass DI.wav': 'bass-DI (édit 2).wav',
  '03 Drums.wav': 'OH + tops.wav',
  '04 Keys.wav': 'Rhodes, dbl.wav',
};

let folder = '';
let before_: Record<string, string> = {};
let report: TreatReport;

before(async () => {
  const song = await oneShotSong(SEEDS[0]!);
  const troubled = injectRumble(injectWideLows(injectCoveredKick(song, 3), 0.7), -38);
  folder = await folderWith(filesOf(troubled, NAMES), 'Take 7 — mix');
  before_ = await sourcesOf(folder);
  const { exitCode, out, err } = await keelson('treat', folder, '--accept', 'all', '--print', '--json');
  assert.deepEqual([exitCode, err], [0, '']);
  report = readReport(out);
});

test('real names give their roles, and what was put in is found', () => {
  const roles = report.inspect.song.stems.map(({ file, role }) => [file, role]);
  assert.deepEqual(roles, [
    ['BD_trig [comp].wav', 'kick'],
    ['OH + tops.wav', 'rest'],
    ['Rhodes, dbl.wav', 'rest'],
    ['bass-DI (édit 2).wav', 'bass'],
  ]);
  const found = report.inspect.findings.map(({ id }) => id);
  assert.ok(found.includes('wide-lows') && found.includes('rumble'), found.join(' '));
});

test('the whole job: better where treated, nothing harmed, prints as their sources', async () => {
  await assertWholeJob(folder, report);
  assert.ok(report.stages.some(({ address, met }) => address === 'bass.centre' && met === true));
});

test('again: the same version, verified, and every byte the same', async () => {
  const first = await everyFile(folder);
  const { exitCode, out } = await keelson('treat', folder, '--accept', 'all', '--print', '--json');
  assert.equal(exitCode, 0);
  assert.equal(readReport(out).print!.version, 'v1');
  assert.deepEqual(await everyFile(folder), first);
  assert.deepEqual(await sourcesOf(folder), before_);
});
