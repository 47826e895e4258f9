import assert from 'node:assert/strict';
import { readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { before, test } from 'node:test';
import { readSession } from '../../core/session/session-file.js';
import type { Session } from '../../core/session/session-format.js';
import { soulSong } from '../songs/clean-songs.js';
import { injectRumble, injectWideLows } from '../songs/injected-faults.js';
import { keelson } from './keelson.js';
import { printedWav } from './printed-wav.js';
import { everyFile, filesOf, folderWith } from './song-folder.js';
import { readReport, type StageReport, type TreatReport } from './whole-job.js';

/** Seven seconds with wide lows and rumble: two findings, three stages. */
let folder = '';

before(async () => {
  folder = await folderWith(filesOf(injectRumble(injectWideLows(soulSong(3), 0.8), -40)));
});

async function treat(...words: readonly string[]): Promise<TreatReport> {
  const { exitCode, out, err } = await keelson('treat', folder, '--json', ...words);
  assert.deepEqual([exitCode, err], [0, '']);
  return readReport(out);
}

async function session(): Promise<Session> {
  return readSession(await readFile(join(folder, 'keelson.json'), 'utf8'));
}

async function forget(): Promise<void> {
  await rm(join(folder, 'keelson.json'), { force: true });
}

function stageAt(report: TreatReport, address: string): StageReport {
  const stage = report.stages.find((one) => one.address === address);
  assert.ok(stage !== undefined, report.stages.map((one) => one.address).join(' '));
  return stage;
}

test('nothing agreed to: what would be done is shown, roles are kept, no audio is written', async () => {
  const report = await treat('--print');
  assert.equal(report.agreed, false);
  assert.ok(report.decisions.length >= 2 && report.decisions.every(({ action }) => action === 'open'));
  assert.ok(report.stages.some(({ address }) => address === 'bass.centre'));
  assert.equal(report.print, undefined);
  const kept = await session();
  assert.deepEqual([kept.decisions, kept.treatment, kept.versions], [[], null, []]);
  assert.equal(kept.stems.length, 6);
  assert.ok(Object.keys(await everyFile(folder)).every((path) => !path.includes('/')));
  const { exitCode, err } = await keelson('print', folder);
  assert.equal(exitCode, 2);
  assert.match(err, /Nothing has been agreed to/);
});

test('one finding agreed to, one left with its reason: only the first is treated; both are remembered', async () => {
  await forget();
  const report = await treat('--accept', 'wide-lows', '--leave', 'rumble=keep the room');
  assert.deepEqual(
    report.stages.map(({ address }) => address),
    ['bass.centre', 'bass.trim'],
  );
  assert.deepEqual((await session()).decisions, [
    { finding: 'wide-lows', action: 'treat', reason: '' },
    { finding: 'rumble', action: 'leave', reason: 'keep the room' },
  ]);
  const all = await treat('--accept', 'all');
  assert.ok(
    !all.stages.some(({ address }) => address.startsWith('rest')),
    'all does not overrule what was left by name',
  );
});

test('a setting by hand is taken as it is, the rest solved around it; out of the wish it is said', async () => {
  await forget();
  const report = await treat('--accept', 'wide-lows', '--set', 'bass.centre.amount_percent=10');
  const centre = stageAt(report, 'bass.centre');
  assert.equal(centre.settings['amount_percent'], 10);
  assert.equal(centre.met, false);
  assert.match(centre.remark!, /still lost/);
});

/** Every statistic that can be wished for by a stage of the bass, out of reach of the song as it is, or met by it already. */
test('wishes: each is reached, or what stopped it is said; one that is met leaves its stage off', async () => {
  await forget();
  const report = await treat(
    ...['--wish', 'steady.loudNoteReduction_dB=3..5'],
    ...['--wish', 'saturate.thirdHarmonic_dB=-14..-10'],
    ...['--wish', 'onset.overSustain_dB=>= 1.5'],
    ...['--wish', 'widen.sideToMid_dB=-16..-12'],
    ...['--wish', 'carry.laptop_LU=>= -4.5'],
    ...['--wish', 'centre.foldDownLoss_dB=<= 0.5'],
    ...['--wish', 'evenness.spread_dB=<= 1.2'],
    ...['--wish', 'clearance.share2dB=>= 95 %'],
  );
  assert.equal(new Set(report.stages.map(({ address }) => address)).size, 9, 'eight wishes and the trim they need');
  for (const { address, on, met, remark } of report.stages) {
    assert.ok(met !== null, address);
    if (!on || !met) assert.ok(remark !== null && remark.length > 10, `${address} says why`);
  }
  const widen = stageAt(report, 'bass.high.widen');
  assert.deepEqual([widen.on, widen.met], [false, true]);
  assert.match(widen.remark!, /wide enough already/);
  const steady = stageAt(report, 'bass.low.steady');
  if (steady.on && steady.met) assert.ok(steady.expected!.value >= 2.95 && steady.expected!.value <= 5.05);
  const centre = stageAt(report, 'bass.centre');
  assert.ok(centre.now! > 0.5 && centre.on && centre.met && centre.expected!.value <= 0.53);
});

test('a wish out of reach: what stopped it is said, and --strict ends with 1', async () => {
  await forget();
  const words = ['treat', folder, '--json', '--wish', 'carry.laptop_LU=>= 20'];
  const { exitCode, out } = await keelson(...words, '--strict');
  assert.equal(exitCode, 1);
  const harmonics = stageAt(readReport(out), 'bass.low.harmonics');
  assert.equal(harmonics.met, false);
  assert.ok(harmonics.remark!.length > 10);
});

test('--strict on findings left open ends with 1, and without it with 0', async () => {
  await forget();
  assert.equal((await keelson('inspect', folder, '--strict')).exitCode, 1);
  assert.equal((await keelson('inspect', folder)).exitCode, 0);
});

test('prints in 16 and 32f, each a version; what is untouched keeps its bytes in both', async () => {
  await forget();
  for (const [version, format, tag, bits] of [
    ['v1', '16', 1, 16],
    ['v2', '32f', 3, 32],
  ] as const) {
    const { print } = await treat('--set', 'bass.trim.gain_dB=-3', '--print', '--format', format);
    assert.equal(print!.version, version);
    const wav = await printedWav(join(folder, 'Keelson prints', version, 'Bass.wav'));
    assert.deepEqual([wav.tag, wav.bits], [tag, bits]);
    const [direct, amp] = await Promise.all(
      ['Bass DI.wav', 'Bass Amp.wav'].map((file) => printedWav(join(folder, file))),
    );
    const gain = 10 ** (-3 / 20);
    // TPDF dither of two steps and half a step of rounding at 16 bits; sources are of 24 bits
    const most = format === '16' ? 1.5 / 32768 : 2 ** -23;
    for (let n = 0; n < wav.frameCount; n += 97) {
      const wanted = gain * (direct!.samples[0]![n]! + amp!.samples[0]![n]!);
      assert.ok(Math.abs(wav.samples[0]![n]! - wanted) <= most, `frame ${n}`);
    }
    const standing = await everyFile(folder);
    assert.equal(standing[`Keelson prints/${version}/Keys.wav`], standing['Keys.wav']);
  }
  const again = await treat('--set', 'bass.trim.gain_dB=-3', '--print');
  assert.equal(again.print!.version, 'v2', 'what is not said is as in the last print');
});
