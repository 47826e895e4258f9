import { prepareCarry, type PreparedCarry } from '../measure/carry.js';
import { lowsEnergy } from '../measure/lows-energy.js';
import { isMono, scaledSignal, sumOf, type Channel, type StereoSignal } from '../signal/stereo-signal.js';
import { readPartials } from '../treatment/harmonics-plan.js';
import type { StageInstance } from '../treatment/treatment.js';
import { searchLeast, type SearchAnswer } from './bounded-search.js';
import { chooseExcerpt, cutHits, cutNotes, cutSignal } from './excerpt.js';
import { asGiven, leftOff, settingOf, type StagePlace, type StageSolution } from './stage-solver.js';

/** Where the level of the second harmonic may lie: under the first nothing is heard of it, over the last it is a new sound. */
const LEAST_dB = -36;
const MOST_dB = -6;
const START_dB = -18;
const MOST_TRIALS = 6;
/** On the whole song the level may be raised once more by what the excerpt promised too much. */
const CORRECT_OVER = { LU: 0.2, share: 0.02 };
const USUAL_LU = -14;

type Wanted = 'carry.laptop_LU' | 'carry.heardHarmonicsShare';

/**
 * Harmonics: the level of the second harmonic at which the bass carries as wished on the laptop model (or enough notes have two
 * successive harmonics heard), found by rendering the low lane on an excerpt and measuring the whole bass with its lows held,
 * then checked, and corrected once, on the whole song.
 */
export async function solveHarmonics(place: StagePlace): Promise<StageSolution> {
  const wanted: Wanted =
    place.wish?.statistic === 'carry.heardHarmonicsShare' ? 'carry.heardHarmonicsShare' : 'carry.laptop_LU';
  const wished = place.wish?.low ?? (wanted === 'carry.laptop_LU' ? USUAL_LU : 0.8);
  const notes = place.song.known.notes;
  if (notes.length === 0) return leftOff(place, null, 'Not solved: no bass note found.', null);
  const whole = new CarryEar(
    place,
    othersOf(place),
    null,
    bassLowsAtTrim(place, (signal) => signal),
  );
  const figures = { ...readPartials(place.bassWith(place.input), notes) };
  const now = whole.read(place.bassWith(place.input), wanted);
  if (now === null) return leftOff(place, null, 'Not solved: there is no mix to hold the bass against.', null);
  const given = place.given.has('level_dB');
  if (!given && now >= wished) return leftOff(place, now, 'Off: the bass carries without it.');
  const search = given ? null : await searchLevel(place, figures, wanted, wished);
  const solved = search?.amount ?? settingOf(place, 'level_dB');
  let level_dB = LEAST_dB + (solved - LEAST_dB) * place.strength;
  let sound = await soundAt(place, whole, figures, wanted, level_dB);
  const over = wanted === 'carry.laptop_LU' ? CORRECT_OVER.LU : CORRECT_OVER.share;
  if (search?.met === true && place.strength === 1 && sound.result < wished - over) {
    const step = wanted === 'carry.laptop_LU' ? wished - sound.result + 0.2 : 2;
    level_dB = Math.min(MOST_dB, level_dB + step);
    sound = await soundAt(place, whole, figures, wanted, level_dB);
  }
  const met = sound.result >= wished - 0.05;
  return {
    ...asGiven(place, figures),
    settings: { ...place.settings, level_dB },
    now,
    reached: sound.result,
    met,
    trials: search?.trials ?? [],
    amountKey: 'level_dB',
    remark: met ? null : remarkOn(search),
    output: sound.output,
  };
}

function remarkOn(search: SearchAnswer | null): string {
  if (search?.stoppedBy === 'hand') return 'Stopped before the wish was reached.';
  if (search?.stoppedBy === 'range') return 'The backing covers the bass there; more harmonics would be a new sound.';
  return 'The search was ended before the wish was reached.';
}

async function soundAt(
  place: StagePlace,
  ear: CarryEar,
  figures: StageInstance['figures'],
  wanted: Wanted,
  level_dB: number,
): Promise<{ output: StereoSignal; result: number }> {
  const settings = { ...place.settings, level_dB };
  const { output } = await place.render({ stage: 'harmonics', on: true, settings, figures });
  return { output, result: ear.read(place.bassWith(output), wanted) ?? -Infinity };
}

function searchLevel(
  place: StagePlace,
  figures: StageInstance['figures'],
  wanted: Wanted,
  wished: number,
): Promise<SearchAnswer> {
  const { notes, hits } = place.song.known;
  const worst = notes.map(({ start_s }) => start_s);
  const excerpt = chooseExcerpt(place.input.left.length, place.input.sampleRate_Hz, worst);
  const cut = (signal: StereoSignal): StereoSignal => cutSignal(signal, excerpt);
  const others = othersOf(place);
  const kept = { input: cut(place.input), notes: cutNotes(notes, excerpt), hits: cutHits(hits, excerpt) };
  const bass = cut(place.bassWith(place.input));
  const keptFigures = excerpt.whole ? figures : { ...readPartials(bass, kept.notes) };
  const ear = new CarryEar(place, others === null ? null : cut(others), kept.notes, bassLowsAtTrim(place, cut));
  return searchLeast({
    least: LEAST_dB,
    most: MOST_dB,
    start: START_dB,
    target: wished,
    tolerance: wanted === 'carry.laptop_LU' ? 0.4 : 0.05,
    direction: 1,
    maxTrials: MOST_TRIALS,
    evaluate: async (level_dB) => {
      const settings = { ...place.settings, level_dB };
      const { output } = await place.render({ stage: 'harmonics', on: true, settings, figures: keptFigures }, kept);
      return ear.read(changedBy(bass, kept.input, output), wanted) ?? -1000;
    },
    afterTrial: ({ result }) => place.searched(wanted, result),
  });
}

/** The whole bass with one lane changed: bass + (after - before). */
function changedBy(bass: StereoSignal, before: StereoSignal, after: StereoSignal): StereoSignal {
  const channel = (sum: Channel, old: Channel, now: Channel): Float64Array => {
    const changed = new Float64Array(sum);
    for (let n = 0; n < changed.length; n++) changed[n]! += now[n]! - old[n]!;
    return changed;
  };
  return {
    left: channel(bass.left, before.left, after.left),
    right: channel(bass.right, before.right, after.right),
    sampleRate_Hz: bass.sampleRate_Hz,
  };
}

/** What trim leaves the bass of the lows: E_source(kick) + E_source(bass) - E(kick), over the same excerpt. */
function bassLowsAtTrim({ kick, song }: StagePlace, cut: (signal: StereoSignal) => StereoSignal): number {
  const energy = (signal: StereoSignal | null): number => (signal === null ? 0 : lowsEnergy(cut(signal)));
  return energy(song.source.kick) + energy(song.source.bass) - energy(kick);
}

/** At half the memory of a sum: it is only measured. */
function othersOf({ kick, song }: StagePlace): StereoSignal | null {
  const sum = sumOf([kick, song.source.rest].filter((signal) => signal !== null));
  if (sum === null) return null;
  const left = Float32Array.from(sum.left);
  return { ...sum, left, right: isMono(sum) ? left : Float32Array.from(sum.right) };
}

/** Reads the carry of a bass against the same others, its lows held as trim will hold them. */
class CarryEar {
  private readonly prepared: PreparedCarry;
  private readonly heldLows: number;

  constructor(
    place: StagePlace,
    others: StereoSignal | null,
    notes: StagePlace['song']['known']['notes'] | null,
    heldLows: number,
  ) {
    this.prepared = prepareCarry(others, notes ?? place.song.known.notes, place.input.sampleRate_Hz);
    this.heldLows = heldLows;
  }

  read(bass: StereoSignal, wanted: Wanted): number | null {
    const energy = lowsEnergy(bass);
    const gain = energy > 0 && this.heldLows > 0 ? Math.sqrt(this.heldLows / energy) : 1;
    const held = gain === 1 ? bass : scaledSignal(bass, gain);
    return wanted === 'carry.laptop_LU' ? this.prepared.laptop_LU(held) : this.prepared.heardHarmonicsShare(held);
  }
}
