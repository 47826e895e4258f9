import { butterworthHighPass, butterworthLowPass } from '../../core/dsp/butterworth.js';
import { SeededRandom } from '../../core/units/seeded-random.js';
import { filteredTrack } from '../../demo/instruments/filtered-track.js';
import { pluckedString } from '../../demo/instruments/plucked-string.js';
import { Players, type Arrangement } from './arrangement.js';
import { songOfParts, type PlayedNote, type TestSong } from './song-of-parts.js';

/** From the stroke to a tenth of the hit's peak on the demo's kick. */
const ATTACK_S = 0.0004;

/** Finger bass as a direct and an amp track, two kick microphones: 48 kHz, 104 bpm, G minor. */
export function soulSong(barCount = 8): TestSong {
  const plan: Arrangement = {
    seed: 101,
    sampleRate_Hz: 48000,
    tempo_bpm: 104,
    barCount,
    scatter_s: 0.002,
    bars: [
      {
        kick: 'X.....x.X.......',
        snare: '....X..o....X...',
        hat: 'x.o.x.o.x.o.x.o.',
        bass: [
          [0, 2.6, 31],
          [3, 2.4, 43],
          [6, 1.7, 41],
          [8, 2.6, 38],
          [12, 1.7, 34],
          [14, 1.7, 36],
        ],
        chord: [58, 62, 65, 69],
      },
      {
        kick: 'X.......X.x.....',
        snare: '....X.......X..o',
        hat: 'x.o.x.o.x.o.x.o.',
        bass: [
          [0, 2.6, 36],
          [4, 1.7, 39],
          [6, 1.7, 41],
          [8, 2.6, 36],
          [12, 1.7, 34],
          [14, 1.7, 31],
        ],
        chord: [60, 63, 67, 70],
      },
      {
        kick: 'X.....x.X.......',
        snare: '....X..o....X...',
        hat: 'x.o.x.o.x.o.x.o.',
        bass: [
          [0, 2.6, 39],
          [3, 2.4, 34],
          [6, 1.7, 36],
          [8, 2.6, 39],
          [12, 1.7, 41],
          [14, 1.7, 43],
        ],
        chord: [58, 63, 67, 70],
      },
      {
        kick: 'X.......X.x..x..',
        snare: '....X.......X.oo',
        hat: 'x.o.x.o.x.o.x.o.',
        bass: [
          [0, 2.6, 38],
          [4, 1.7, 36],
          [6, 1.7, 34],
          [8, 2.6, 38],
          [12, 1.7, 36],
          [14, 1.7, 34],
        ],
        chord: [57, 62, 66, 72],
      },
    ],
  };
  const players = new Players(plan);
  const hits = players.steps((bar) => bar.kick);
  const notes = players.bassNotes();
  const kick = players.kick({ fundamental_Hz: 63, sweep_Hz: 95, sweep_s: 0.008, decay_s: 0.08, click: 0.7 }, hits, 0.3);
  const random = new SeededRandom(102);
  const direct = players.empty();
  for (const note of notes) players.place(direct, note, fingered(note, plan.sampleRate_Hz, random), 0.04);
  const amp = filteredTrack(
    direct.map((x) => 0.5 * x),
    [...butterworthHighPass(1, 20, plan.sampleRate_Hz), ...butterworthLowPass(2, 3500, plan.sampleRate_Hz)],
  );
  const parts = {
    kick: [players.track('Kick In.wav', kick.inside), players.track('Kick Out.wav', kick.outside)],
    bass: [players.track('Bass DI.wav', direct), players.track('Bass Amp.wav', amp)],
    rest: [players.drums(0.2), players.keys(0.035)],
  };
  return songOfParts('soul', parts, { tempo_bpm: plan.tempo_bpm, hits_s: hits.map((h) => h.time_s + ATTACK_S), notes });
}

function fingered(note: PlayedNote, sampleRate_Hz: number, random: SeededRandom): Float64Array {
  const sound = pluckedString(
    {
      frequency_Hz: note.frequency_Hz,
      length_s: note.end_s - note.start_s,
      decayT60_s: 3,
      releaseT60_s: 0.1,
      dampingCorner_Hz: 3000,
      pickPosition: 0.16,
      touchCorner_Hz: 1500,
      noise: 0.1,
    },
    sampleRate_Hz,
    random,
  );
  return filteredTrack(sound, butterworthLowPass(2, 1800, sampleRate_Hz));
}

/** Synthetic bass between a kick on every beat: 44.1 kHz, 124 bpm, F minor. */
export function houseSong(): TestSong {
  const kick = 'X...X...X...X...';
  const snare = '....X.......X...';
  const hat = 'o.X.o.X.o.X.o.X.';
  const plan: Arrangement = {
    seed: 201,
    sampleRate_Hz: 44100,
    tempo_bpm: 124,
    barCount: 10,
    scatter_s: 0,
    bars: [
      {
        kick,
        snare,
        hat,
        bass: [
          [2, 1.6, 41],
          [6, 1.6, 41],
          [10, 1.6, 44],
          [14, 1.6, 41],
        ],
        chord: [56, 60, 65, 68],
      },
      {
        kick,
        snare,
        hat,
        bass: [
          [2, 1.6, 37],
          [6, 1.6, 37],
          [9, 2.6, 44],
          [14, 1.6, 39],
        ],
        chord: [56, 61, 65, 68],
      },
      {
        kick,
        snare,
        hat,
        bass: [
          [2, 1.6, 39],
          [6, 1.6, 39],
          [10, 1.6, 46],
          [14, 1.6, 39],
        ],
        chord: [58, 63, 67, 70],
      },
      {
        kick,
        snare,
        hat,
        bass: [
          [2, 1.6, 36],
          [6, 1.6, 36],
          [9, 2.6, 43],
          [14, 1.6, 46],
        ],
        chord: [55, 60, 63, 67],
      },
    ],
  };
  const players = new Players(plan);
  const hits = players.steps((bar) => bar.kick);
  const notes = players.bassNotes();
  const drum = players.kick(
    { fundamental_Hz: 51, sweep_Hz: 160, sweep_s: 0.012, decay_s: 0.09, click: 0.8 },
    hits,
    0.36,
  );
  const bass = players.empty();
  for (const note of notes) players.place(bass, note, additive(note, plan.sampleRate_Hz, 1, 24, 0.35), 0.075);
  const parts = {
    kick: [players.track('BD.wav', drum.inside)],
    bass: [players.track('Synth Bass.wav', bass)],
    rest: [players.drums(0.25), players.keys(0.035)],
  };
  return songOfParts('house', parts, {
    tempo_bpm: plan.tempo_bpm,
    hits_s: hits.map((h) => h.time_s + ATTACK_S),
    notes,
  });
}

/** A long, low kick and a round, held synthetic bass: 48 kHz, 72 bpm, D major. */
export function balladSong(): TestSong {
  const plan: Arrangement = {
    seed: 301,
    sampleRate_Hz: 48000,
    tempo_bpm: 72,
    barCount: 6,
    scatter_s: 0.003,
    bars: [
      {
        kick: 'X.........x.....',
        snare: '........X.......',
        hat: 'x.x.x.x.x.x.x.x.',
        bass: [
          [0, 5.5, 38],
          [6, 3.5, 38],
          [10, 3.5, 45],
          [14, 1.7, 42],
        ],
        chord: [62, 66, 69, 73],
      },
      {
        kick: 'X.....x...x.....',
        snare: '........X.......',
        hat: 'x.x.x.x.x.x.x.xo',
        bass: [
          [0, 5.5, 35],
          [6, 3.5, 42],
          [10, 3.5, 35],
          [14, 1.7, 40],
        ],
        chord: [59, 66, 69, 74],
      },
      {
        kick: 'X.........x.....',
        snare: '........X.......',
        hat: 'x.x.x.x.x.x.x.x.',
        bass: [
          [0, 5.5, 43],
          [6, 3.5, 38],
          [10, 3.5, 43],
          [14, 1.7, 45],
        ],
        chord: [59, 62, 67, 74],
      },
    ],
  };
  const players = new Players(plan);
  const hits = players.steps((bar) => bar.kick);
  const notes = players.bassNotes();
  const drum = players.kick({ fundamental_Hz: 43, sweep_Hz: 70, sweep_s: 0.014, decay_s: 0.17, click: 0.5 }, hits, 0.4);
  const bass = players.empty();
  for (const note of notes) players.place(bass, note, additive(note, plan.sampleRate_Hz, 1.4, 12, 2.5), 0.06);
  const parts = {
    kick: [players.track('808.wav', drum.outside)],
    bass: [players.track('Sub.wav', bass)],
    rest: [players.drums(0.25), players.keys(0.045)],
  };
  return songOfParts('ballad', parts, {
    tempo_bpm: plan.tempo_bpm,
    hits_s: hits.map((h) => h.time_s + ATTACK_S),
    notes,
  });
}

/** sum_h sin(2 pi h f t) / h^slope, 4 ms in, 12 ms out, falling with a time constant. */
function additive(note: PlayedNote, sampleRate_Hz: number, slope: number, count: number, fall_s: number): Float64Array {
  const length_s = note.end_s - note.start_s;
  const sound = new Float64Array(Math.round(length_s * sampleRate_Hz));
  for (let n = 0; n < sound.length; n++) {
    const t = n / sampleRate_Hz;
    let sum = 0;
    for (let h = 1; h <= count; h++) sum += Math.sin(2 * Math.PI * h * note.frequency_Hz * t) / h ** slope;
    sound[n] = sum * Math.exp(-t / fall_s) * Math.min(1, t / 0.004, (length_s - t) / 0.012);
  }
  return sound;
}

export function cleanSongs(): TestSong[] {
  return [soulSong(), houseSong(), balladSong()];
}
