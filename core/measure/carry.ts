import { sumOf, type StereoSignal } from '../signal/stereo-signal.js';
import type { Note } from '../song/song.js';
import { power_to_dB } from '../units/decibels.js';
import { nearestNote } from '../units/notes.js';
import { figure, unmeasurable, valueOf, type Reading, type Unmeasurable } from '../units/reading.js';
import { bootstrapInterval, bootstrapOfValues } from './bootstrap.js';
import { speakerEnergies, STEPS_PER_SECOND, type SpeakerEnergies } from './carry-levels.js';
import { bySpeaker, HeardHarmonicsMeter, type HeardHarmonics } from './heard-harmonics.js';
import { blockPowers, gatedBlocks } from './loudness.js';
import { SMALL_SPEAKERS, type SpeakerId } from './small-speakers.js';
import type { Knowledge, SongSound } from './song-sound.js';

/** One note as the small loudspeakers give it. */
export interface CarryNote {
  readonly start_s: number;
  readonly frequency_Hz: number;
  readonly midi: number;
  readonly name: string;
  /** Null where the note is under 100 ms and not counted. */
  readonly harmonics: HeardHarmonics | null;
}

export interface CarryMeasure {
  readonly kind: 'measured';
  /** Judged here. */
  readonly laptop_LU: Reading;
  readonly phone_LU: Reading;
  readonly earbud_LU: Reading;
  readonly monoSpeaker_LU: Reading;
  /** Share of notes with two or more successive harmonics heard on the laptop, 0..1. */
  readonly heardHarmonicsShare: Reading;
  /** The same share on every loudspeaker, for two and for three. */
  readonly share2: Readonly<Record<SpeakerId, Reading>>;
  readonly share3: Readonly<Record<SpeakerId, Reading>>;
  /** How many 400 ms blocks the bass plays in. */
  readonly blocks: number;
  readonly notes: readonly CarryNote[];
}

/** The side of carry that does not change while only the bass is treated. */
export interface PreparedCarry {
  measure(bass: StereoSignal): CarryMeasure | Unmeasurable;
  /** One figure alone, for a search: carry on the laptop model, or the share of notes with two successive harmonics heard. */
  laptop_LU(bass: StereoSignal): number | null;
  heardHarmonicsShare(bass: StereoSignal): number | null;
}

/**
 * Carry, LU: [L(bass through) - L(mix through)] - [L(bass) - L(mix)] for each small loudspeaker; L = 10 lg of the mean
 * K-weighted power over the 400 ms blocks (every 100 ms) that pass both gates of BS.1770-5 on the full-range bass, the same
 * blocks in all four; mix = all stems. 0: the bass falls no further than the song does. The interval is a bootstrap over
 * whole seconds of those blocks.
 */
export function measureCarry(sound: SongSound, known: Knowledge): CarryMeasure | Unmeasurable {
  if (sound.bass === null) return unmeasurable('no bass among the stems');
  const others = sumOf([sound.kick, sound.rest].filter((signal) => signal !== null));
  return prepareCarry(others, known.notes, sound.sampleRate_Hz).measure(sound.bass);
}

/** @param others the sum of all stems but the bass, null where there are none. */
export function prepareCarry(
  others: StereoSignal | null,
  notes: readonly Note[],
  sampleRate_Hz: number,
): PreparedCarry {
  if (others === null) {
    return {
      measure: () => unmeasurable('nothing but the bass among the stems, so there is no mix to hold it against'),
      laptop_LU: () => null,
      heardHarmonicsShare: () => null,
    };
  }
  let made: HeardHarmonicsMeter | null = null;
  const meter = (): HeardHarmonicsMeter => (made ??= new HeardHarmonicsMeter(others, notes, sampleRate_Hz));
  return {
    measure: (bass) => carryOf(bass, others, notes, meter()),
    laptop_LU: (bass) => laptopOf(bass, others),
    heardHarmonicsShare: (bass) => valueOf(shareReading(meter().of(bass), 'laptop', 2)),
  };
}

function laptopOf(bass: StereoSignal, others: StereoSignal): number | null {
  const laptop = SMALL_SPEAKERS.filter(({ id }) => id === 'laptop');
  const powers = blockPowersOf(speakerEnergies(bass, others, laptop), bass.sampleRate_Hz);
  const blocks = gatedBlocks(powers.bass[0]!);
  if (blocks.length === 0) return null;
  const value = carryOver(powers, 1, blocks);
  return Number.isFinite(value) ? value : null;
}

function blockPowersOf({ bass, mix }: SpeakerEnergies, rate: number): SpeakerEnergies {
  const powers = (row: Float64Array): Float64Array => blockPowers(row, rate, STEPS_PER_SECOND);
  return { bass: bass.map(powers), mix: mix.map(powers) };
}

/** [L(bass through) - L(mix through)] - [L(bass) - L(mix)] over these blocks. */
function carryOver(powers: SpeakerEnergies, row: number, blocks: readonly number[]): number {
  const bass = sumAt(powers.bass[0]!, blocks);
  const mix = sumAt(powers.mix[0]!, blocks);
  return power_to_dB((sumAt(powers.bass[row]!, blocks) * mix) / (sumAt(powers.mix[row]!, blocks) * bass));
}

function carryOf(
  bass: StereoSignal,
  others: StereoSignal,
  notes: readonly Note[],
  meter: HeardHarmonicsMeter,
): CarryMeasure | Unmeasurable {
  const powers = blockPowersOf(speakerEnergies(bass, others), bass.sampleRate_Hz);
  const blocks = gatedBlocks(powers.bass[0]!);
  if (blocks.length === 0) return unmeasurable('the bass is silent');
  const levels = bySpeaker((s) => levelReading(powers, s + 1, blocks));
  const harmonics = meter.of(bass);
  const share2 = bySpeaker((s) => shareReading(harmonics, SMALL_SPEAKERS[s]!.id, 2));
  return {
    kind: 'measured',
    laptop_LU: levels.laptop,
    phone_LU: levels.phone,
    earbud_LU: levels.earbud,
    monoSpeaker_LU: levels.monoSpeaker,
    heardHarmonicsShare: share2.laptop,
    share2,
    share3: bySpeaker((s) => shareReading(harmonics, SMALL_SPEAKERS[s]!.id, 3)),
    blocks: blocks.length,
    notes: notes.map(({ start_s, frequency_Hz }, i) => {
      const { midi, name } = nearestNote(frequency_Hz);
      return { start_s, frequency_Hz, midi, name, harmonics: harmonics[i]! };
    }),
  };
}

function levelReading(powers: SpeakerEnergies, row: number, blocks: readonly number[]): Reading {
  const seconds = groupedBySecond(blocks).map((group) => ({
    bass: sumAt(powers.bass[0]!, group),
    mix: sumAt(powers.mix[0]!, group),
    bassThrough: sumAt(powers.bass[row]!, group),
    mixThrough: sumAt(powers.mix[row]!, group),
  }));
  const carry = (drawn: ArrayLike<number>): number => {
    let bass = 0;
    let mix = 0;
    let bassThrough = 0;
    let mixThrough = 0;
    for (let i = 0; i < drawn.length; i++) {
      const second = seconds[drawn[i]!]!;
      bass += second.bass;
      mix += second.mix;
      bassThrough += second.bassThrough;
      mixThrough += second.mixThrough;
    }
    return power_to_dB((bassThrough * mix) / (mixThrough * bass));
  };
  const value = carry(seconds.map((_, i) => i));
  if (!Number.isFinite(value))
    return unmeasurable('nothing of the bass, or nothing of the mix, passes this loudspeaker');
  return figure(value, bootstrapInterval(seconds.length, carry));
}

function groupedBySecond(blocks: readonly number[]): number[][] {
  const groups = new Map<number, number[]>();
  for (const block of blocks) {
    const second = Math.floor(block / STEPS_PER_SECOND);
    const group = groups.get(second);
    if (group === undefined) groups.set(second, [block]);
    else group.push(block);
  }
  return [...groups.values()];
}

function sumAt(powers: Float64Array, indices: readonly number[]): number {
  return indices.reduce((sum, i) => sum + powers[i]!, 0);
}

function shareReading(harmonics: readonly (HeardHarmonics | null)[], speaker: SpeakerId, atLeast: number): Reading {
  const heard = harmonics.filter((note) => note !== null).map((note): number => (note.run[speaker] >= atLeast ? 1 : 0));
  if (heard.length === 0) return unmeasurable('no bass note of 100 ms or more');
  const share = (values: ArrayLike<number>): number =>
    Array.from(values).reduce((sum, v) => sum + v, 0) / values.length;
  return figure(share(heard), bootstrapOfValues(heard, share));
}
