import { withoutAccents } from './file-name-words.js';

/**
 * What words in a file name say of a stem. Common practice of the trade: the names that engineers and recording programs give
 * to tracks, in English and in the languages where they differ.
 *
 * - `kick`, `bass`: the source itself
 * - `low`: a word both may carry (`sub`, `808`)
 * - `voice`: a singer, whose files are often named after the words of the song
 * - `source`: another instrument; `family`: a group or a treatment of sources (`drums`, `room`, `loop`), which says little beside
 *   the name of a source
 * - `mix`, `reference`, `aside`: whole records and what is left out; `mix-word` says so only where nothing else is named
 * - `neutral`: a phrase that must not be read as its words (`sub mix`)
 */
export type WordMeaning =
  | 'kick'
  | 'bass'
  | 'low'
  | 'kick-and-bass'
  | 'voice'
  | 'source'
  | 'family'
  | 'mix'
  | 'mix-word'
  | 'reference'
  | 'aside'
  | 'neutral';

export interface RolePhrase {
  readonly words: readonly string[];
  readonly meaning: WordMeaning;
  /** How sure the phrase is where it stands alone, 0..1. */
  readonly sure: number;
}

function phrases(meaning: WordMeaning, sure: number, text: string): RolePhrase[] {
  return text.split(',').map((phrase) => ({ words: withoutAccents(phrase.trim()).split(' '), meaning, sure }));
}

/** Longer phrases are tried first, so `bass drum` is a kick and `bass` a bass. */
export const ROLE_PHRASES: readonly RolePhrase[] = [
  ...phrases(
    'kick',
    0.95,
    'kick, kicks, kik, kick drum, bass drum, bassdrum, b drum, sub kick, kick sub, 808 kick, kick 808',
  ),
  ...phrases('kick', 0.95, '808 bd, bd 808, double bass drum, base drum, double kick, kick click, click kick'),
  ...phrases(
    'kick',
    0.9,
    'bd, bdr, bsd, kck, kic, kd, kik drum, grosse caisse, grosse trommel, gran cassa, bombo, bumbo, basstrommel',
  ),
  ...phrases('kick', 0.9, 'stortrumma, stortromme, bastrom, stopa, キック, バスドラ, バスドラム, бочка, 킥, 底鼓'),
  ...phrases('kick', 0.75, 'k in, k out, b d, beater, cassa, kk'),

  ...phrases(
    'bass',
    0.95,
    'bass, bass guitar, bass gtr, bass git, bass di, bassline, bass line, sub bass, subbass, 808 bass, bass 808',
  ),
  ...phrases(
    'bass',
    0.95,
    'synth bass, bass synth, double bass, upright bass, e bass, bassgitarre, kontrabass, ベース, ベースギター, бас, 베이스, 贝斯',
  ),
  ...phrases(
    'bass',
    0.9,
    'basses, bss, basse, bajo, baixo, contrabass, contrebasse, contrabajo, contrabaixo, contrabbasso, kontrabas, 808 sub',
  ),
  ...phrases(
    'bass',
    0.9,
    'basguitar, basgitaar, gitara basowa, bas gitar, basgitarr, basgitar, bassguitar, basse guitare, guitare basse',
  ),
  ...phrases(
    'bass',
    0.85,
    'low synth, reese, bass keys, key bass, bass organ, organ bass, bass piano, piano bass, bass pedals, guitar bass, gtr bass',
  ),
  ...phrases('bass', 0.75, 'bas, upright, subs, 808 slide, 808 glide, 808 long'),
  ...phrases('bass', 0.65, 'basso'),
  ...phrases('bass', 0.45, 'bs, base, di, bass fx, bass drop, low'),
  ...phrases('low', 0.8, 'sub'),
  ...phrases('low', 0.55, '808, 808 s'),
  ...phrases(
    'kick-and-bass',
    0.2,
    'kick and bass, bass and kick, kick n bass, kick & bass, bass & kick, kick + bass, bass + kick',
  ),
  ...phrases(
    'kick-and-bass',
    0.2,
    'drum and bass, drums and bass, drum & bass, drums & bass, drums + bass, drum n bass, rhythm section, bd + bass',
  ),
  ...phrases('kick-and-bass', 0.3, 'low end, lowend, lows, bottom end'),

  ...phrases(
    'voice',
    0.9,
    'vox, vocal, vocals, voc, vocs, voice, voices, singer, choir, bgv, bgvs, bv, bvs, lead vox, ld vox, chant, rap, gesang',
  ),
  ...phrases(
    'voice',
    0.85,
    'voix, voz, voce, coro, choeur, chor, zang, wokal, ボーカル, вокал, 보컬, adlib, adlibs, harmony, harmonies, talk, bass vox',
  ),
  ...phrases('voice', 0.85, 'bass vocal, bass vocals, bass voice, bass singer, bass choir'),
  ...phrases(
    'source',
    0.9,
    'snare, snares, sd, snr, sn, sn top, clap, claps, snap, snaps, rim, rimshot, caja, rullante, caisse claire, スネア, малый',
  ),
  ...phrases(
    'source',
    0.9,
    '808 snare, 808 clap, 808 hat, 808 hats, 808 hh, 808 cowbell, 808 tom, 808 toms, 808 perc, 808 drums, sub drop',
  ),
  ...phrases(
    'source',
    0.9,
    'hat, hats, hh, hihat, hihats, hi hat, hi hats, charleston, tom, toms, floor tom, rack tom, low tom, cymbal, cymbals, cym',
  ),
  ...phrases(
    'source',
    0.9,
    'ride, crash, splash, china, cowbell, shaker, shakers, tamb, tambourine, conga, congas, bongo, bongos, cajon, djembe, triangle',
  ),
  ...phrases(
    'source',
    0.9,
    'timpani, tabla, guiro, maracas, vibes, vibraphone, marimba, xylophone, glockenspiel, glock, bells, chimes',
  ),
  ...phrases(
    'source',
    0.9,
    'gtr, gtrs, guitar, guitars, git, gits, gitarre, guitare, guitarra, chitarra, gitaar, gitara, ac gtr, acgtr, egtr, agtr, ギター',
  ),
  ...phrases(
    'source',
    0.9,
    'banjo, mandolin, ukulele, uke, harp, sitar, lap steel, pedal steel, dobro, cuatro, charango, oud, bouzouki',
  ),
  ...phrases(
    'source',
    0.9,
    'piano, pno, klavier, upright piano, grand, ep, epiano, e piano, wurli, organ, orgel, orgue, organo, harpsichord, clav, accordion',
  ),
  ...phrases(
    'source',
    0.9,
    'keys, key, keyboard, keyboards, kbd, tasti, teclado, clavier, ピアノ, пианино, гитара, 기타',
  ),
  ...phrases(
    'source',
    0.9,
    'violin, violins, vln, viola, vla, cello, celli, vc, strings, string, str, streicher, cordes, archi, cuerdas, quartet',
  ),
  ...phrases(
    'source',
    0.9,
    'brass, horn, horns, trumpet, trumpets, tpt, trombone, trombones, tbn, tuba, sax, saxes, saxophone, flute, clarinet, oboe',
  ),
  ...phrases(
    'source',
    0.9,
    'bassoon, bassoons, fagott, basson, fagotto, whistle, harmonica, bagpipes, winds, woodwinds',
  ),
  ...phrases(
    'source',
    0.8,
    'bass trombone, bass clarinet, bass flute, bass sax, bass saxophone, bass oboe, bass tuba, bass recorder, bass harmonica, bass trumpet',
  ),
  ...phrases(
    'source',
    0.85,
    'overhead, overheads, oh, ohs, ovh, ovhd, over heads, riser, uplifter, downlifter, impact, sweep, noise, vinyl',
  ),
  ...phrases(
    'family',
    0.85,
    'drums, drum, drs, drm, drms, kit, drumkit, batterie, bateria, batteria, schlagzeug, drumset, trommeln, ドラム, барабаны, 드럼',
  ),
  ...phrases(
    'family',
    0.85,
    'perc, percs, percussion, perk, top loop, tops, room, rooms, rm, amb, ambience, ambient, loop, loops, beat, beats',
  ),
  ...phrases(
    'family',
    0.85,
    'synth, synths, syn, pad, pads, lead, leads, arp, arps, pluck, plucks, stab, stabs, chord, chords, sequence, seq, melody, hook',
  ),
  ...phrases(
    'family',
    0.8,
    'fx, sfx, efx, reverb, verb, delay, dly, echo, foley, atmos, atmosphere, texture, drone, sample, samples, music, band',
  ),
  ...phrases(
    'family',
    0.8,
    'rest, other, others, instruments, inst, instr, orchestra, ensemble, everything else, crowd, audience',
  ),

  ...phrases(
    'mix',
    0.9,
    'rough mix, roughmix, ruff mix, ruff, full mix, mixdown, mix down, two bus, 2 bus, 2 buss, 2 mix, 2 track, stereo bus, stereo out',
  ),
  ...phrases(
    'mix',
    0.9,
    'mix bus, mixbus, master bus, mstr bus, main out, main mix, main bus, premaster, pre master, print mix, board mix, demo mix, mix print',
  ),
  ...phrases('mix', 0.9, 'rough, roughs, stereo mix, final mix, monitor mix, unmastered'),
  ...phrases('mix', 0.5, 'instrumental, tv mix, tv track, acapella, a cappella, mix minus'),
  ...phrases('mix-word', 0.8, 'mix, master, mastered, bounce, stereo master, summe, missaggio, mezcla'),
  ...phrases(
    'reference',
    0.9,
    'ref, refs, reference, references, referenz, ref track, ref mix, reference mix, reference track, referencia',
  ),
  ...phrases(
    'aside',
    0.85,
    'click, click track, metronome, metro, count in, countin, count off, talkback, tb, slate, tempo track, tempo map, 2 pop',
  ),
  ...phrases(
    'aside',
    0.7,
    'guide, scratch vox, scratch vocal, scratch, unused, do not use, dnu, muted, smpte, ltc, timecode',
  ),
  ...phrases('neutral', 0, 'sub mix, sub group, sub master'),
];

/** Words that take the source named after them away: `no kick`, `minus bass`. */
export const WITHOUT: ReadonlySet<string> = new Set(
  'no, not, without, minus, less, wo, ohne, sans, sin, senza, sem, zonder, bez, but'.split(', '),
);

/** Words that go with a source and are often written in one with it: `kickin`, `bassdi`. */
export const PLACES: ReadonlySet<string> = new Set(
  'in, out, di, amp, cab, mic, top, bottom, btm, low, hi, high, left, right, l, r, st, mono, sub, clean, dirt, dist, line, bus, buss, stem, drum, track'.split(
    ', ',
  ),
);
