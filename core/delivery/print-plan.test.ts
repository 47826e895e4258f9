import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Role, Stem } from '../song/song.js';
import { defaultTreatment, parseAddress, stageAt, withStage } from '../treatment/paths.js';
import type { Treatment } from '../treatment/treatment.js';
import { isNamePattern } from './name-pattern.js';
import { printPlan, type PlannedStem, type RenderItem } from './print-plan.js';

function planned(file: string, role: Role, more: Partial<Stem> = {}, start = 0, frameCount = 1000): PlannedStem {
  const stem: Stem = {
    ...{ file, role, because: 'a test', confidence: 1, channels: 1, bitDepth: '24', sampleRate_Hz: 48_000 },
    ...{ frameCount, duration_s: frameCount / 48_000, start_samples: start, faults: [] },
    ...more,
  };
  return { stem, start, frameCount };
}

function treatmentOf(stems: readonly PlannedStem[], on: readonly string[]): Treatment {
  const filesOf = (role: Role) => stems.filter(({ stem }) => stem.role === role).map(({ stem }) => stem.file);
  const files = { kick: filesOf('kick'), bass: filesOf('bass'), rest: filesOf('rest') };
  return on.reduce(
    (treatment, text) => {
      const { address } = parseAddress(text);
      return withStage(treatment, address, { ...stageAt(treatment, address)!, on: true });
    },
    defaultTreatment({ sampleRate_Hz: 48_000, notes: [], hits: [], files }),
  );
}

function plan(stems: readonly PlannedStem[], on: readonly string[], depth: '16' | null = null) {
  return printPlan(treatmentOf(stems, on), stems, { depth });
}

const SONG = [
  planned('Kick.wav', 'kick'),
  planned('Bass DI.wav', 'bass', {}, 100, 1000),
  planned('Bass Amp.flac', 'bass', { channels: 2, bitDepth: '16' }, 50, 1200),
  planned('Keys.aif', 'rest'),
  planned('Mix.wav', 'mix'),
  planned('Old Kick.wav', 'aside'),
  planned('Record.wav', 'reference'),
];

test('with nothing on every summed stem is copied under its name; mix, reference and what stands aside never are', () => {
  assert.deepEqual(
    plan(SONG, []).map(({ kind, name }) => [kind, name]),
    [
      ['copy', 'Kick.wav'],
      ['copy', 'Bass DI.wav'],
      ['copy', 'Bass Amp.flac'],
      ['copy', 'Keys.aif'],
    ],
  );
});

test('a treated bass of two stems: one print from the first start to the last end, at the deeper depth', () => {
  const bus = plan(SONG, ['bass.low.saturate']).find(({ kind }) => kind === 'bus') as RenderItem;
  assert.deepEqual(
    [bus.name, bus.files, bus.start, bus.frameCount, bus.depth, bus.channels],
    ['Bass.wav', ['Bass DI.wav', 'Bass Amp.flac'], 50, 1200, '24', 2],
  );
  assert.ok(
    !plan(SONG, ['bass.low.saturate']).some(({ kind }) => kind === 'track'),
    'no single stems of a curved path',
  );
});

test('a linear path prints the single stems too, in a folder of their own', () => {
  const singles = plan(SONG, ['bass.trim']).filter(({ kind }) => kind === 'track') as RenderItem[];
  assert.deepEqual(
    singles.map(({ name, start, frameCount }) => [name, start, frameCount]),
    [
      ['single stems/Bass DI.wav', 100, 1000],
      ['single stems/Bass Amp.wav', 50, 1200],
    ],
  );
});

test('a stem of the rest that is cleaned is printed alone, the others are copied', () => {
  const keys = plan(SONG, ['rest["Keys.aif"].clean']).find(({ role }) => role === 'rest') as RenderItem;
  assert.deepEqual([keys.kind, keys.name, keys.channels], ['track', 'Keys.wav', 1]);
});

test('widening makes a mono bass stereo; the wished depth goes before the sources’', () => {
  const mono = [planned('Bass.wav', 'bass')];
  assert.equal((plan(mono, ['bass.high.widen'])[0] as RenderItem).channels, 2);
  assert.equal((plan(mono, ['bass.trim'])[0] as RenderItem).channels, 1);
  assert.equal((plan(mono, ['bass.trim'], '16')[0] as RenderItem).depth, '16');
});

test('the depth loses nothing: 8 becomes 16, 16 beside 24 becomes 24, 32 and float become 32f', () => {
  const depthOf = (...depths: string[]) =>
    (
      plan(
        depths.map((bitDepth, i) => planned(`Bass ${i}.wav`, 'bass', { bitDepth })),
        ['bass.trim'],
      )[0] as RenderItem
    ).depth;
  assert.deepEqual(
    [depthOf('8'), depthOf('16', '8'), depthOf('16', '24'), depthOf('24', '32'), depthOf('64f'), depthOf('32f')],
    ['16', '16', '24', '32f', '32f', '32f'],
  );
});

test('names that fall together get a number, also where only the case differs', () => {
  const stems = [planned('Keys.aif', 'rest'), planned('keys.wav', 'rest'), planned('Bass.wav', 'bass')];
  assert.deepEqual(
    plan(stems, ['rest["Keys.aif"].clean']).map(({ name }) => name),
    ['Bass.wav', 'Keys.wav', 'keys 2.wav'],
  );
  const capitalLater = [planned('keys.aif', 'rest'), planned('Keys.wav', 'rest')];
  assert.deepEqual(
    plan(capitalLater, ['rest["keys.aif"].clean']).map(({ name }) => name),
    ['keys.wav', 'Keys 2.wav'],
  );
});

test('only the roles that are asked for, without single stems, under names of a pattern', () => {
  const treatment = treatmentOf(SONG, ['bass.centre']);
  const names = (wishes: Omit<Parameters<typeof printPlan>[2], 'depth'>) =>
    printPlan(treatment, SONG, { depth: null, ...wishes }).map(({ name }) => name);
  const all = ['Kick.wav', 'Bass.wav', 'single stems/Bass DI.wav', 'single stems/Bass Amp.wav', 'Keys.aif'];
  assert.deepEqual(names({}), all);
  assert.deepEqual(names({ roles: ['rest', 'kick'] }), ['Kick.wav', 'Keys.aif'], 'in the order of the plan');
  assert.deepEqual(names({ singleStems: false }), ['Kick.wav', 'Bass.wav', 'Keys.aif']);
  assert.deepEqual(names({ name: '{name} low end' })[2], 'single stems/Bass DI low end.wav');
  assert.deepEqual(names({ roles: ['kick'], name: '$&-{name}' }), ['$&-Kick.wav'], 'as it is written');
});

test('a pattern of names keeps the usual name in it and is a file name on any disk', () => {
  for (const good of ['{name}', '{name} treated', 'v2 {name}-{name}']) assert.ok(isNamePattern(good), good);
  for (const bad of ['', 'bass', 'a/{name}', '{name}:x', '{name}.', '.{name}', '{name} ', '{name}?', '..\\{name}']) {
    assert.ok(!isNamePattern(bad), bad);
  }
});
