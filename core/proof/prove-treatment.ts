import { integratedLoudness } from '../measure/loudness.js';
import { measureSong, type Measurements } from '../measure/measurements.js';
import type { SongSound } from '../measure/song-sound.js';
import { scaledSignal, sumOf, type StereoSignal } from '../signal/stereo-signal.js';
import { dB_to_amplitude, power_to_dB } from '../units/decibels.js';
import { figure, unmeasurable, valueOf, type Reading } from '../units/reading.js';
import { compareMeasurements, harmOf, type ProofRow } from './compare-measurements.js';
import { lowsEnergy } from '../measure/lows-energy.js';

/** What a print is worth, measured from the printed sound alone and laid beside the source. */
export interface TreatmentProof {
  readonly before: Measurements;
  readonly after: Measurements;
  readonly rows: readonly ProofRow[];
  /** The rows that are worse by more than their tolerance. */
  readonly harm: readonly ProofRow[];
  /** E(kick) + E(bass), 30 to 150 Hz, printed against source. */
  readonly lowsChange_dB: Reading;
  readonly match: ListeningMatch;
}

/** The gain at the monitor that makes the treated mix as loud as the source (BS.1770), and how far apart they are then. */
export interface ListeningMatch {
  readonly match_dB: Reading;
  readonly leftApart_LU: Reading;
}

/** @param treated the printed files read back, at the song's rate, start and length. */
export function proveTreatment(source: SongSound, before: Measurements, treated: SongSound): TreatmentProof {
  const after = measureSong(treated, before.known);
  const rows = compareMeasurements(before, after);
  return {
    before,
    after,
    rows,
    harm: harmOf(rows),
    lowsChange_dB: lowsChange(source, treated),
    match: listeningMatch(source, treated),
  };
}

function lowsChange(source: SongSound, treated: SongSound): Reading {
  const wanted = lowsEnergy(source.kick) + lowsEnergy(source.bass);
  const got = lowsEnergy(treated.kick) + lowsEnergy(treated.bass);
  return wanted > 0 && got > 0 ? figure(power_to_dB(got / wanted)) : unmeasurable('no lows in kick and bass');
}

/** Both mixes by integrated loudness; the second figure is measured on the treated mix after the match. */
export function listeningMatch(source: SongSound, treated: SongSound): ListeningMatch {
  const mixOf = ({ kick, bass, rest }: SongSound): StereoSignal | null =>
    sumOf([kick, bass, rest].filter((signal) => signal !== null));
  const sourceMix = mixOf(source);
  const treatedMix = mixOf(treated);
  if (sourceMix === null || treatedMix === null) {
    const reason = unmeasurable('no stem to sum');
    return { match_dB: reason, leftApart_LU: reason };
  }
  const wanted = integratedLoudness(sourceMix);
  const wanted_LUFS = valueOf(wanted);
  const got_LUFS = valueOf(integratedLoudness(treatedMix));
  if (wanted_LUFS === null || got_LUFS === null) {
    const reason = unmeasurable('a mix is silent');
    return { match_dB: reason, leftApart_LU: reason };
  }
  const match_dB = wanted_LUFS - got_LUFS;
  const apart = valueOf(integratedLoudness(scaledSignal(treatedMix, dB_to_amplitude(match_dB))));
  return {
    match_dB: figure(match_dB),
    leftApart_LU: apart === null ? unmeasurable('the matched mix is silent') : figure(apart - wanted_LUFS),
  };
}
