import assert from 'node:assert/strict';
import { test } from 'node:test';
import fc from 'fast-check';
import { fileNameWords } from './file-name-words.js';
import { roleFromName } from './role-from-name.js';
import { ROLE_PHRASES } from './role-words.js';
import type { Role } from './song.js';

// How engineers and recording programs name tracks: common practice. Under 0.6 the role is asked.
const sure: Readonly<Record<Exclude<Role, never>, readonly string[]>> = {
  kick: [
    '01 Kick In.wav',
    '02 Kick Out.wav',
    'Kick.wav',
    'KICK',
    'kick_01.aif',
    'KickIn.wav',
    'kickin.wav',
    'Kick-Sub.wav',
    'BD.wav',
    'BD_808.wav',
    'Kik_Sub.wav',
    'BassDrum.wav',
    'Bass Drum.wav',
    'bassdrum L.wav',
    'Drums - Kick In_03.wav',
    'Sub Kick.wav',
    'SubKick.wav',
    '808 Kick.wav',
    '808Kick_dry.wav',
    'MySong_Kick_v3_FINAL.wav',
    'K In.wav',
    'B-Drum.wav',
    'Grosse Caisse.wav',
    'Bombo.wav',
    'Kick Room.wav',
    'kick loop.wav',
    'Kick Click.wav',
    'キック.wav',
    'бочка.wav',
    'KCK 2.wav',
    'Track 07 - Kick.L.wav',
    '909 Kick.wav',
    'Double Kick.wav',
    'Kick Drum (Beater).wav',
    'Audio 1-Kick.flac',
    'subfolder/01-BD.wav',
    'KickOut_48k24.wav',
    'Kick Mix.wav',
  ],
  bass: [
    'bass DI.wav',
    'Bass-Amp.wav',
    'sub.wav',
    'SUB_L.wav',
    'Synth Bass.wav',
    'BSS.wav',
    'Sub Bass.wav',
    'SubBass.wav',
    'BassDI.wav',
    'bassdi.wav',
    'bassamp.wav',
    'Bass Gtr.wav',
    'Double Bass.wav',
    'Upright Bass.wav',
    'E-Bass.wav',
    'EBass_02.wav',
    'Basse.wav',
    'Bajo.wav',
    'Baixo.wav',
    'Kontrabass.wav',
    'Contrebasse.wav',
    '808 Bass.wav',
    '808Sub.wav',
    'Bassline 3.wav',
    'Bass Synth Loop.wav',
    'MySong - Bass (DI) 01.wav',
    '12-Bass.aif',
    'ベース.wav',
    'бас.wav',
    'Bass Room.wav',
    'Bass Arp.wav',
    'Bass_Submix.wav',
    'Bass Sub Mix.wav',
    'Basso.wav',
    'Bás.wav',
    'Bass Bus.wav',
    'Reese.wav',
    'Bass Guitar Clean.wav',
    'Guitare Basse.wav',
    'subL.wav',
    'Bass no kick.wav',
  ],
  rest: [
    'drums.wav',
    'OH L.wav',
    'OHLeft.wav',
    'Overheads.wav',
    'Keys.wav',
    'Snare Top.wav',
    'SD.wav',
    'Hi-Hat.wav',
    'HH.wav',
    'Room Mics.wav',
    'Low Tom.wav',
    'Bassoon.wav',
    'Bass Trombone.wav',
    'Bass Clarinet.wav',
    'Bass Vocal.wav',
    'Bass Vox 2.wav',
    'Kick the habit (vocal).wav',
    'All About That Bass (Lead Vox).wav',
    'subtle pad.wav',
    'Subtle Pad.wav',
    'Gtr L.wav',
    'ElecGuitar_R.wav',
    'Gitarre.wav',
    'Guitarra.wav',
    'Synth Pad.wav',
    'Rest.wav',
    'Music.wav',
    'BGV.wav',
    'Voix.wav',
    '808 Snare.wav',
    '808 Hat.wav',
    'Drums (no kick).wav',
    'Drum Mix.wav',
    'Drum Sub Mix.wav',
    'Strings.wav',
    'Perc Loop.wav',
    'FX Riser.wav',
    'Upright Piano.wav',
    'Sub Drop.wav',
    'Band without bass.wav',
    'Kicker - Lead Vocals.wav',
    'スネア.wav',
    'Floor Tom.wav',
  ],
  mix: [
    'Rough Mix.wav',
    'RoughMix_03.wav',
    '2-bus.wav',
    '2bus.wav',
    'My Song (Rough).wav',
    'Stereo Out.wav',
    'Full Mix 48k.wav',
    'Mixdown.wav',
    'MASTER.wav',
    'Mix.wav',
    'Main Out.wav',
    'Song_Mix_v2.wav',
  ],
  reference: [
    'REF - An Artist - A Title.wav',
    'Reference.flac',
    'ref_bass heavy.wav',
    'Ref Mix.wav',
    'My Song reference kick.wav',
  ],
  aside: ['Click.wav', 'Click Track.wav', 'Metronome.wav', 'Count In.wav', 'Talkback.wav', 'Scratch Vox.wav'],
};
sure satisfies Record<Role, readonly string[]>;

for (const [role, names] of Object.entries(sure)) {
  test(`${role}: names that say so`, () => {
    for (const name of names) {
      const guess = roleFromName(name);
      assert.equal(guess.role, role, `${name}: ${guess.because}`);
      assert.ok(guess.confidence >= 0.6, `${name} is sure, got ${guess.confidence}`);
    }
  });
}

test('names that speak for two things are asked, and say why', () => {
  const asked = [
    '808.wav',
    '808s.wav',
    'LowEnd.wav',
    'Low End.wav',
    'Kick & Bass.wav',
    'Kick+Bass.wav',
    'Kick Bass.wav',
    'Kick + Snare.wav',
    'Drum & Bass.wav',
    'DI.wav',
    'Bass Click.wav',
    'BS.wav',
    'Instrumental.wav',
    'Bass FX.wav',
    'Bass Strings.wav',
  ];
  for (const name of asked) {
    const guess = roleFromName(name);
    assert.notEqual(guess.role, null, name);
    assert.ok(guess.confidence < 0.6 && guess.confidence > 0, `${name}: ${guess.role} ${guess.confidence}`);
    assert.match(guess.because, /^the name says ".+"/, name);
  }
});

test('kick and bass in one stem is told apart from a doubtful name', () => {
  for (const name of ['Kick & Bass.wav', 'Kick+Bass.wav', 'kick and bass', 'LowEnd.wav', 'Drums & Bass.wav']) {
    assert.equal(roleFromName(name).kickAndBass, true, name);
  }
  for (const name of ['808.wav', 'Kick Bass.wav', 'Kick.wav'])
    assert.equal(roleFromName(name).kickAndBass, undefined, name);
});

test('names that say nothing give no role', () => {
  for (const name of [
    'Audio 01.wav',
    'Track 3.wav',
    '7.wav',
    'Basement.wav',
    'Subway.wav',
    'ZZ.wav',
    '',
    '.wav',
    '🎸.wav',
    'Kicker.wav',
    'Embassy.wav',
    '-.wav',
  ]) {
    assert.deepEqual(roleFromName(name), { role: null, because: 'the name says nothing', confidence: 0 }, name);
  }
});

test('the reason quotes the words found', () => {
  assert.equal(roleFromName('01 Kick In.wav').because, 'the name says "kick"');
  assert.equal(roleFromName('Drums - BD.wav').because, 'the name says "drums" and "bd"');
  assert.equal(roleFromName('Kick Bass.wav').because, 'the name says "kick" and "bass"');
});

test('words of a name', () => {
  assert.deepEqual(fileNameWords('a/b/01_KickIn-L.wav'), ['01', 'kick', 'in', 'l']);
  assert.deepEqual(fileNameWords('OHLeft 808Kick 2bus'), ['oh', 'left', '808', 'kick', '2', 'bus']);
  assert.deepEqual(fileNameWords('Bás Grósse.AIFF'), ['bas', 'grosse']);
  assert.deepEqual(fileNameWords('ベース.wav'), ['ベース']);
  assert.deepEqual(fileNameWords('Kick & Bass+Sub'), ['kick', '&', 'bass', '+', 'sub']);
});

test('every phrase of the table is found when it stands alone', () => {
  for (const { words, meaning, sure: expected } of ROLE_PHRASES) {
    if (meaning === 'neutral') continue;
    assert.equal(roleFromName(`${words.join(' ')}.wav`).confidence, expected, words.join(' '));
  }
});

test('no phrase stands in the table twice', () => {
  const all = ROLE_PHRASES.map(({ words }) => words.join(' '));
  assert.deepEqual(
    all.filter((phrase, i) => all.indexOf(phrase) !== i),
    [],
  );
});

const anyName = fc.oneof(fc.string(), fc.string({ unit: 'grapheme' }), fc.constantFrom(...Object.values(sure).flat()));

test('any name gives a guess within its range', () => {
  fc.assert(
    fc.property(anyName, (name) => {
      const { role, confidence, because } = roleFromName(name);
      assert.ok(confidence >= 0 && confidence <= 1 && because.length > 0);
      assert.equal(role === null, confidence === 0);
    }),
    { seed: 1, numRuns: 500 },
  );
});

test('a track number, another extension, separators and capitals do not change the role', () => {
  const known = fc.constantFrom(...Object.values(sure).flat());
  fc.assert(
    fc.property(
      known,
      fc.integer({ min: 10, max: 99 }),
      fc.constantFrom(' ', '_', ' - ', '.'),
      (name, number, between) => {
        const plain = roleFromName(name).role;
        const spaced = fileNameWords(name).join(between);
        assert.equal(roleFromName(`${number}${between}${spaced}.aif`).role, plain, `${number}${between}${spaced}`);
        assert.equal(roleFromName(`folder/${spaced.toUpperCase()}.FLAC`).role, plain, spaced.toUpperCase());
      },
    ),
    { seed: 2, numRuns: 300 },
  );
});
