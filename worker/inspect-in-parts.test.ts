import assert from 'node:assert/strict';
import { test } from 'node:test';
import { inspectSong } from '../core/job/inspect-song.js';
import type { JobHost } from '../core/job/job-host.js';
import { PART_NAMES } from '../core/measure/measure-parts.js';
import { compressedDecoders } from '../decoders/compressed-decoders.js';
import type { InspectTold } from '../protocol/inspect-told.js';
import type { MeasureTasks } from '../protocol/measure-tasks.js';
import { shortDemoFiles } from '../tests/songs/short-demo-files.js';
import { DroppedFolder } from './dropped-folder.js';
import { fingerprint } from './fingerprint.js';
import { inspectInParts } from './inspect-in-parts.js';
import { MeasureDesk } from './measure-desk.js';
import type { MeasureHelper } from './second-thread.js';

const host = { folder: new DroppedFolder('Ballast', shortDemoFiles), decoders: compressedDecoders, fingerprint };
const whole = await inspectSong(host, {});

/** A second thread in this one: it works on copies, and may be lost on the way. */
class CopyingHelper implements MeasureHelper {
  private readonly desk = new MeasureDesk();
  ended = false;
  readonly asked: string[] = [];

  constructor(private readonly lostAt: string | null) {}

  async ask<Task extends keyof MeasureTasks>(
    task: Task,
    ask: MeasureTasks[Task]['ask'],
  ): Promise<MeasureTasks[Task]['answer']> {
    const what = task === 'measure' ? String(ask) : task;
    this.asked.push(what);
    if (what === this.lostAt) throw new Error('lost');
    const answer = await (this.desk[task] as (copy: unknown) => Promise<unknown>).call(this.desk, structuredClone(ask));
    return structuredClone(answer) as MeasureTasks[Task]['answer'];
  }

  end(): void {
    this.ended = true;
  }
}

async function inspected(helper: CopyingHelper | null, song: JobHost = host) {
  const told: InspectTold[] = [];
  const inspection = await inspectInParts(
    song,
    {},
    { helper: () => helper, orders: [], tell: (what) => told.push(what) },
  );
  return { inspection, told };
}

const helper = new CopyingHelper(null);
const overTwo = await inspected(helper);

test('in parts over two threads the inspection equals that of one thread, and what is told adds up to it', () => {
  const { inspection, told } = overTwo;
  assert.deepEqual(inspection.measured, whole.measured);
  assert.deepEqual(inspection.faults, whole.faults);
  assert.equal(helper.ended, true);
  assert.deepEqual(helper.asked, [
    ...['hear', 'knowKick', 'hear', 'learn', 'agreement', 'evenness', 'hear'],
    ...helper.asked.slice(7),
  ]);
  assert.equal(helper.asked[7], 'headroom');
  assert.equal(told[0]!.what, 'opened');
  const measured = told.filter((one) => one.what === 'measured');
  const parts = Object.assign({}, ...measured.map((one) => one.parts)) as object;
  const { known, ...measures } = whole.measured;
  assert.deepEqual(parts, measures);
  assert.deepEqual(told.find((one) => one.what === 'known')!.known, known);
  assert.deepEqual(measured.at(-1)!.faults, whole.faults);
  assert.deepEqual(
    measured.map(({ measuring }) => measuring.length),
    PART_NAMES.map((_, n) => PART_NAMES.length - 1 - n),
  );
});

test('what is found is told before all is measured, and nothing that was told is taken back', () => {
  const { told } = overTwo;
  const lists = told.flatMap((one) =>
    one.what === 'measured' ? [one.faults.findings.map(({ sentence }) => sentence)] : [],
  );
  const first = lists.findIndex((list) => list.length > 0);
  assert.ok(first >= 0 && first < lists.length - 1, `${first} of ${lists.length}`);
  for (const [n, list] of lists.entries()) {
    assert.ok(list.every((sentence) => lists.slice(n).every((later) => later.includes(sentence))));
  }
});

test('alone, or where the second thread is lost on the way, it comes out the same', async () => {
  for (const lost of [
    null,
    new CopyingHelper('hearKick'),
    new CopyingHelper('hearBass'),
    new CopyingHelper('headroom'),
  ]) {
    const { inspection } = await inspected(lost);
    assert.deepEqual(inspection.measured, whole.measured);
    assert.deepEqual(inspection.faults, whole.faults);
    assert.notEqual(lost?.ended, false);
  }
});

test('a copy of a kick track is set aside once all is read: hits and notes are found anew, and it comes out the same', async () => {
  const { file } = shortDemoFiles.find(({ name }) => /kick in/i.test(name))!;
  const files = [...shortDemoFiles, { name: 'Kick In copy.wav', file }];
  const song = { ...host, folder: new DroppedFolder('Ballast', files) };
  const copying = new CopyingHelper(null);
  const { inspection } = await inspected(copying, song);
  assert.deepEqual(inspection.measured, (await inspectSong(song, {})).measured);
  assert.deepEqual(copying.asked.slice(6, 9), ['hear', 'learn', 'headroom']);
});
