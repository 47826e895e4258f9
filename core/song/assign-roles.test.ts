import assert from 'node:assert/strict';
import { test } from 'node:test';
import fc from 'fast-check';
import { PlainError } from '../units/plain-error.js';
import { assignRoles, nameAndSound, type RoleSources } from './assign-roles.js';
import { filePattern, shellWord } from './file-pattern.js';
import type { RoleGuess } from './role-from-name.js';
import { parseRoleOverride } from './role-override.js';

const rolesOf = async (files: readonly string[], sources?: RoleSources) =>
  (await assignRoles(files, sources)).roles.map(({ file, role }) => `${file}: ${role}`);

const refused = (work: Promise<unknown>, ...patterns: RegExp[]) =>
  assert.rejects(work, (error) => {
    assert.ok(error instanceof PlainError, String(error));
    for (const pattern of patterns) assert.match(error.message, pattern);
    return true;
  });

test('a plain folder of stems, in its order, with reasons', async () => {
  const { roles, remarks } = await assignRoles(['01 Kick In.wav', '02 Bass DI.wav', '03 Keys.wav', 'Rough Mix.wav']);
  assert.deepEqual(
    roles.map(({ role }) => role),
    ['kick', 'bass', 'rest', 'mix'],
  );
  assert.equal(roles[0]!.because, 'the name says "kick"');
  assert.deepEqual(remarks, []);
});

test('what the engineer says goes before the session, the session before the name', async () => {
  const files = ['Kick.wav', 'Bass.wav', 'Keys.wav'];
  const remembered = [
    { file: 'Keys.wav', role: 'aside' as const, because: 'you said so' },
    { file: 'Bass.wav', role: 'rest' as const, because: 'you said so' },
  ];
  const overrides = [parseRoleOverride('bass=Bass.wav')];
  assert.deepEqual(await rolesOf(files, { overrides, remembered }), [
    'Kick.wav: kick',
    'Bass.wav: bass',
    'Keys.wav: aside',
  ]);
});

test('patterns: a full name goes before a pattern, the last word counts, capitals do not', async () => {
  const files = ['BD 1.wav', 'BD 2.wav', 'Bass.wav'];
  const overrides = ['kick=BD 1.wav', 'rest=bd*', 'aside=BD ?.WAV'].map(parseRoleOverride);
  assert.deepEqual(await rolesOf(files, { overrides }), ['BD 1.wav: kick', 'BD 2.wav: aside', 'Bass.wav: bass']);
});

test('an override that fits nothing, or is none, is refused', async () => {
  await refused(
    rolesOf(['Kick.wav'], { overrides: [parseRoleOverride('kick=Kik.wav')] }),
    /Kik\.wav/,
    /The files are: Kick\.wav/,
  );
  for (const text of ['kick', 'kick=', '=Kick.wav', 'drums=Kick.wav', '']) {
    assert.throws(() => parseRoleOverride(text), /--role kick="01 Kick In\.wav"/, text);
  }
  assert.deepEqual(parseRoleOverride('Kick = a=b.wav'), { role: 'kick', pattern: 'a=b.wav' });
});

test('a doubtful role is asked, with the line to use, all of them at once', async () => {
  await refused(
    rolesOf(['Kick.wav', '808.wav', 'Take 7.wav']),
    /808\.wav/,
    /Take 7\.wav/,
    /--role bass=808\.wav --role rest="Take 7\.wav"/,
  );
});

test('the sound is heard only where the name is not sure, and decides there', async () => {
  const heard: string[] = [];
  const roleFromSound = async (file: string): Promise<RoleGuess> => {
    heard.push(file);
    return { role: 'bass', because: 'it sounds like a bass', confidence: 0.8 };
  };
  const { roles } = await assignRoles(['Kick.wav', '808.wav', 'Audio 3.wav'], { roleFromSound });
  assert.deepEqual(heard, ['808.wav', 'Audio 3.wav']);
  assert.deepEqual(roles[1], {
    file: '808.wav',
    role: 'bass',
    because: 'the name says "808", and it sounds like a bass',
    confidence: 1 - 0.45 * (1 - 0.8),
  });
  assert.equal(roles[2]!.because, 'it sounds like a bass');
});

test('a sound that is not sure either leaves the question', async () => {
  const unsure: RoleGuess = { role: 'kick', because: 'it may be a kick', confidence: 0.5 };
  await refused(
    rolesOf(['Kick.wav', 'Bass.wav', 'Audio 3.wav'], { roleFromSound: async () => unsure }),
    /Audio 3\.wav/,
    /--role kick/,
  );
});

test('a name with a sound: agreement makes surer, disagreement less sure, never out of range', () => {
  const guess = fc.record({
    role: fc.constantFrom('kick' as const, 'bass' as const, 'rest' as const),
    because: fc.constant('x'),
    confidence: fc.double({ min: 0.01, max: 1, noNaN: true }),
  });
  fc.assert(
    fc.property(guess, guess, (name, sound) => {
      const both = nameAndSound(name, sound);
      assert.ok(both.confidence >= 0 && both.confidence <= 1);
      assert.equal(both.role, sound.role);
      if (name.role === sound.role) assert.ok(both.confidence >= Math.max(name.confidence, sound.confidence) - 1e-12);
      else assert.ok(both.confidence <= sound.confidence + 1e-12);
    }),
    { seed: 3 },
  );
});

test('two songs in one folder are told apart by how their names begin', async () => {
  const files = ['Alder - Bass.wav', 'Alder - Kick.wav', 'Birch - Bass.wav', 'Birch - Kick.wav', 'Birch - Keys.wav'];
  await refused(rolesOf(files), /2 songs/, /--only "Alder - \*" or --only "Birch - \*"/);
  assert.deepEqual(await rolesOf(files, { only: 'Alder*' }), ['Alder - Bass.wav: bass', 'Alder - Kick.wav: kick']);
  assert.equal((await rolesOf(files, { only: '*' })).length, 5);
  await refused(rolesOf(files, { only: 'Cedar*' }), /--only Cedar\*|--only "Cedar\*"/, /The files are/);
});

test('one song is not taken for two', async () => {
  const folders = [
    ['Kick In.wav', 'Kick Out.wav', 'Bass DI.wav', 'Bass Amp.wav', 'Live Keys.wav'],
    ['01 Kick.wav', '02 Bass.wav', '11 Kick Sub.wav', '12 Bass Amp.wav'],
    ['Alder - Kick.wav', 'Alder - Bass.wav', 'Alder - Keys.wav'],
    ['Kick.wav', 'Bass.wav', 'Verse Kick.wav', 'Chorus Bass.wav'],
  ];
  for (const files of folders) assert.equal((await rolesOf(files)).length, files.length, files.join());
});

test('a title that speaks of kick or bass is not taken for the stem', async () => {
  const files = ['Bass Hunt - Kick.wav', 'Bass Hunt - Bass.wav', 'Bass Hunt - Keys.wav', 'Bass Hunt - Lead Vox.wav'];
  assert.deepEqual(await rolesOf(files), [
    'Bass Hunt - Kick.wav: kick',
    'Bass Hunt - Bass.wav: bass',
    'Bass Hunt - Keys.wav: rest',
    'Bass Hunt - Lead Vox.wav: rest',
  ]);
});

test('what is missing is said; neither kick nor bass is refused', async () => {
  assert.match((await assignRoles(['Bass.wav', 'Keys.wav'])).remarks.join(), /no kick/);
  assert.match((await assignRoles(['Kick.wav', 'Keys.wav'])).remarks.join(), /no bass/);
  await refused(rolesOf(['Keys.wav', 'Vox.wav']), /neither a kick nor a bass/, /--role kick=Keys\.wav/);
  await refused(rolesOf([]), /no stems/);
});

test('kick and bass in one stem is said, unless the engineer knows better', async () => {
  await refused(rolesOf(['Kick & Bass.wav', 'Keys.wav']), /in one stem/, /two stems/);
  const overrides = [parseRoleOverride('bass=LowEnd.wav')];
  assert.deepEqual(await rolesOf(['LowEnd.wav', 'Kick.wav'], { overrides }), ['LowEnd.wav: bass', 'Kick.wav: kick']);
});

test('a pattern takes every other letter for itself', () => {
  const letters = fc.string({
    unit: fc.constantFrom('a', 'B', '.', '(', '[', '+', '\\', ' ', '^', '$', '|', '-', 'é', '\n', '🎸', '/'),
  });
  fc.assert(
    fc.property(letters, letters, letters, (before, between, after) => {
      assert.ok(filePattern(before + between + after)(before + between + after));
      assert.ok(filePattern(`${before}*${after}`)(before + between + after));
      assert.ok(!filePattern(`${before}?${after}`)(before + after));
      assert.ok(!filePattern(before)(`${before}x${after}`));
    }),
    { seed: 4 },
  );
});

test('a name becomes one word of a shell', () => {
  assert.equal(shellWord('Kick.wav'), 'Kick.wav');
  assert.equal(shellWord('01 Kick In.wav'), '"01 Kick In.wav"');
  assert.equal(shellWord('-Kick.wav'), '"-Kick.wav"');
  assert.equal(shellWord('Kick $1 "hot".wav'), `'Kick $1 "hot".wav'`);
  assert.equal(shellWord(`it's "it".wav`), `'it'\\''s "it".wav'`);
});
