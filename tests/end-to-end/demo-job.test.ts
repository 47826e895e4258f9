import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { before, test } from 'node:test';
import { renderSong, type RenderSource } from '../../core/render/render-song.js';
import { readSession } from '../../core/session/session-file.js';
import { monoSignal } from '../../core/signal/stereo-signal.js';
import { DEMO_SONG_NAME } from '../../demo/demo-song.js';
import { demoTruth } from '../../demo/demo-truth.js';
import { keelson } from './keelson.js';
import { printedWav } from './printed-wav.js';
import { temporaryFolder } from './song-folder.js';
import { assertWholeJob, framesBehind, readReport, type TreatReport } from './whole-job.js';

let folder = '';
let report: TreatReport;

before(async () => {
  const output = await temporaryFolder();
  const { exitCode, out, err } = await keelson('demo', '--output', output, '--json');
  assert.deepEqual([exitCode, err], [0, '']);
  folder = join(output, DEMO_SONG_NAME);
  report = readReport(out);
});

test('every fault that was built in is found, and everything found is agreed to', () => {
  const found = new Set(report.inspect.findings.map(({ id }) => id));
  for (const { finding, what } of demoTruth.faults) assert.ok(found.has(finding), what);
  assert.deepEqual([...new Set(report.decisions.map(({ action }) => action))], ['treat']);
});

test('treated figures are better, none worse, lows and loudness held, prints as their sources', async () => {
  await assertWholeJob(folder, report);
});

test('every wish is reached, or what stopped it is said', () => {
  for (const { address, met, remark } of report.stages) {
    if (met === false) assert.ok(remark !== null && remark.length > 10, address);
  }
  assert.ok(report.stages.filter(({ on, met }) => on && met === true).length >= 4);
});

test('a treated print stands on the sample of its source', async () => {
  const guitar = await printedWav(join(folder, 'Keelson prints/v1/07 Guitar.wav'));
  const source = await printedWav(join(folder, '07 Guitar.wav'));
  assert.equal(framesBehind(guitar.samples[0]!, source.samples[0]!), 0);
  const bass = await printedWav(join(folder, 'Keelson prints/v1/Bass.wav'));
  const direct = (await printedWav(join(folder, '04 Bass DI.wav'))).samples[0]!;
  // the middle: centre takes side out of the lows, which turns the phase of each channel but not of their sum
  const middle = ([left, right]: readonly Float64Array[]) => left!.map((value, n) => 0.5 * (value + right![n]!));
  const amp = middle((await printedWav(join(folder, '05 Bass Amp.wav'))).samples);
  const aligned = report.stages.find(({ address }) => address === 'bass["05 Bass Amp.wav"].align')!;
  const moved = Math.round(Number(aligned.settings['delay_ms']) * 48);
  const wanted = direct.map((value, n) => value + (amp[n - moved] ?? 0));
  const behind = framesBehind(middle(bass.samples), wanted);
  assert.ok(Math.abs(behind) <= 1, `${behind} frames behind; the delay itself is no whole number of them`);
});

test('one rendering of the first 12 s, to the last bit, at blocks of 128, 4096 and 1000', async () => {
  const { treatment } = readSession(await readFile(join(folder, 'keelson.json'), 'utf8'));
  const sources = ['01 Kick In.wav', '02 Kick Out.wav', '04 Bass DI.wav', '05 Bass Amp.wav'].map(async (file) => {
    const { samples, sampleRate_Hz } = await printedWav(join(folder, file));
    const [left, right] = samples;
    return {
      file,
      signal: right === undefined ? monoSignal(left!, sampleRate_Hz) : { left: left!, right, sampleRate_Hz },
    };
  });
  const [kickIn, kickOut, direct, amp] = await Promise.all(sources);
  const source: RenderSource = {
    sampleRate_Hz: kickIn!.signal.sampleRate_Hz,
    frameCount: kickIn!.signal.left.length,
    rest: null,
    tracks: { kick: [kickIn!, kickOut!], bass: [direct!, amp!], rest: [] },
  };
  const to = 12 * source.sampleRate_Hz;
  const hashes = [128, 4096, 1000].map(
    (blockFrames) => renderSong(source, treatment!, { roles: ['kick', 'bass'], blockFrames, to }).hash,
  );
  assert.equal(new Set(hashes).size, 1, hashes.join(' '));
});
