import assert from 'node:assert/strict';
import { test } from 'node:test';
import { decided } from '../core/session/decisions.js';
import { emptySession } from '../core/session/session-format.js';
import { shortDemoFiles } from '../tests/songs/short-demo-files.js';
import { PlainError } from '../core/units/plain-error.js';
import { JobDesk } from './job-desk.js';

const alone = { progress: () => undefined, tell: () => undefined, helper: () => null };

test('a drop that holds no sound is refused with the reason, and a broken file is named with its own', async () => {
  const desk = new JobDesk(alone);
  const notes = { name: 'notes.txt', file: new File(['bar 12'], 'notes.txt') };
  await assert.rejects(
    desk.list({ source: { kind: 'files', name: 'Ballast', files: [notes] } }),
    (error) => error instanceof PlainError && error.subject === 'Ballast' && /no sound files/.test(error.reason),
  );
  const broken = { name: 'kick.wav', file: new File(['RIFF, but no more'], 'kick.wav') };
  await assert.rejects(
    desk.list({ source: { kind: 'files', name: 'Ballast', files: [broken, notes] } }),
    (error) => error instanceof PlainError && error.subject === 'kick.wav',
  );
});

test('songs of one name whose files are named and sized alike are told apart without being read whole', async () => {
  const desk = new JobDesk(alone);
  const { name, file } = shortDemoFiles[0]!;
  const sketchesOf = async (sound: File) => {
    const { stems } = await desk.list({ source: { kind: 'files', name: 'Ballast', files: [{ name, file: sound }] } });
    return stems.map(({ sketch }) => sketch);
  };
  const other = new Uint8Array(await file.arrayBuffer());
  other.subarray(1000).reverse();
  const sketches = await sketchesOf(file);
  assert.match(sketches[0]!, /^[0-9a-f]{64}$/);
  assert.deepEqual(await sketchesOf(file), sketches);
  assert.notDeepEqual(await sketchesOf(new File([other], name)), sketches);
});

test('what is asked before a song is open gets a plain error', async () => {
  const desk = new JobDesk(alone);
  await assert.rejects(desk.solve({ session: emptySession() }), PlainError);
  await assert.rejects(desk.inspect({ session: emptySession(), roles: [] }), PlainError);
});

test('a stop is heard between two renders: the best so far is the answer, and it is solved to the end when asked again', async () => {
  let renders = 0;
  let stopsAt = 2;
  const desk: JobDesk = new JobDesk({
    ...alone,
    progress: (_what, _done, _total, solving) => {
      renders = solving?.renders ?? renders;
      if (renders === stopsAt) void desk.stop();
    },
  });
  await desk.list({ source: { kind: 'files', name: 'Ballast', files: shortDemoFiles } });
  const stems = await desk.inspect({ session: emptySession(), roles: [] });
  const session = decided(stems, { accept: ['lost-on-small-speakers'] }, []);
  const stopped = await desk.solve({ session });
  assert.match(stopped!.solution.stopped ?? '', /^Stopped/);
  assert.ok(stopped!.solution.renders >= 2);
  stopsAt = Infinity;
  const whole = await desk.solve({ session });
  assert.equal(whole!.solution.stopped, null);
  assert.ok(whole!.solution.renders > stopped!.solution.renders);
});
