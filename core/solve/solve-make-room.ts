import {
  clearanceOfHits,
  hitBandPowers,
  measureClearance,
  prepareClearance,
  shareAtLeast2dB,
  type PreparedClearance,
} from '../measure/clearance.js';
import { HIT_WINDOW_S } from '../measure/hit-spectra.js';
import type { StereoSignal } from '../signal/stereo-signal.js';
import { roomDepths, type RoomDepths, type RoomHit } from '../treatment/room-depths.js';
import type { SettingValue } from '../treatment/treatment.js';
import { dB_to_amplitude } from '../units/decibels.js';
import { valueOf } from '../units/reading.js';
import { bandOfLows, impulseFor } from './band-of-lows.js';
import { asGiven, leftOff, settingOf, type StagePlace, type StageSolution } from './stage-solver.js';

const CLEAR_dB = 2;
const USUAL_SHARE = 0.9;
/** Cut at which the band filter is heard once, so that every other cut follows without rendering. */
const PROBE_CUT_dB = 6;
/** Longer than the narrowest, lowest band rings to either side. */
const LONGEST_RING_S = 0.5;
/** A hit's window begins a little ahead of it. */
const SPARE_S = 0.02;
/** Where the cap binds the band is made this wide before the bass is called too loud. */
const WIDEST_oct = 3;

/**
 * Make room ahead of known hits: the least cut per hit that lifts it to 2 dB (and 0.5 dB over), from the hit's band powers with
 * the band filter heard once: |X + (g - 1) B|^2. One render more confirms. Keyed and static ways take the cut that is given.
 */
export async function solveMakeRoom(place: StagePlace): Promise<StageSolution> {
  const { song, kick, settings } = place;
  if (kick === null) return leftOff(place, null, 'Not solved: no kick among the stems.', null);
  const prepared = prepareClearance(kick, song.known.hits);
  const before = measureClearance({ ...song.source, kick, bass: place.input, rest: null }, song.known, prepared);
  if (before.kind === 'unmeasurable') return leftOff(place, null, `Not solved: ${before.reason}.`, null);
  const now = valueOf(before.share2dB);
  const wished = place.wish?.low ?? USUAL_SHARE;
  const byHand = place.given.has('cut_dB') || place.given.has('way');
  if (now !== null && now >= wished && !byHand) return leftOff(place, now, 'Off: the kick is clear without it.');
  const contested = valueOf(before.contested_Hz);
  const frequency_Hz = place.given.has('frequency_Hz')
    ? settingOf(place, 'frequency_Hz')
    : Math.max(30, Math.min(250, contested ?? settingOf(place, 'frequency_Hz')));
  const cap_dB = settingOf(place, 'cut_dB') * place.strength;
  let used: Record<string, SettingValue> = { ...settings, frequency_Hz, cut_dB: cap_dB };
  let depths = settings['way'] === 'ahead' ? await depthsFor(place, prepared, used, wished) : null;
  if (depths !== null && depths.tooLoud_dB !== null && !place.given.has('width_oct')) {
    used = { ...used, width_oct: WIDEST_oct };
    depths = await depthsFor(place, prepared, used, wished);
  }
  const figures = depths === null ? {} : { cutPerHit_dB: depths.cutPerHit_dB };
  const { output } = await place.render({ stage: 'make-room', on: true, settings: used, figures });
  const reached = shareAtLeast2dB(prepared, clearanceOfHits(prepared, hitBandPowers(prepared, output)));
  const met = reached !== null && reached >= wished;
  return {
    ...asGiven(place, figures),
    settings: used,
    now,
    reached,
    met,
    trials: reached === null ? [] : [{ amount: cap_dB, result: reached }],
    amountKey: 'cut_dB',
    remark: met ? null : remarkOn(depths, cap_dB),
    output,
  };
}

function remarkOn(depths: RoomDepths | null, cap_dB: number): string {
  const over = depths?.tooLoud_dB ?? null;
  if (over === null) return 'The cut that was given does not clear enough hits.';
  return `The cut stops at ${cap_dB.toFixed(1)} dB; the bass is ${over.toFixed(1)} dB too loud here, and a cut in one band cannot mend level.`;
}

async function depthsFor(
  place: StagePlace,
  prepared: PreparedClearance,
  settings: Readonly<Record<string, SettingValue>>,
  share: number,
): Promise<RoomDepths> {
  const band = await bandAtHits(place, prepared, settings);
  const { spectra } = prepared;
  const counted = prepared.hits.flatMap((_, i) => (prepared.ghosts[i] === true ? [] : [i]));
  const hits = counted.map((i): RoomHit => {
    const { time_s } = prepared.hits[i]!;
    const bassSpectrum = spectra.of(place.input, time_s);
    const bandSpectrum = spectra.of(band, time_s);
    return {
      kickPower: prepared.kickBands[i]!,
      bassPower: spectra.bandPowers(bassSpectrum),
      bandPower: spectra.bandPowers(bandSpectrum),
      crossPower: spectra.bandCrossPowers(bassSpectrum, bandSpectrum),
    };
  });
  const solved = roomDepths(hits, CLEAR_dB, share, Number(settings['cut_dB']));
  const cutPerHit_dB = prepared.hits.map(() => 0);
  counted.forEach((i, k) => (cutPerHit_dB[i] = solved.cutPerHit_dB[k]!));
  return { ...solved, cutPerHit_dB };
}

/** The band of the bass at the hits: the stage's own filter is heard once, on an impulse, from y = x + (g - 1) B(x). */
async function bandAtHits(
  place: StagePlace,
  { hits }: PreparedClearance,
  settings: Readonly<Record<string, SettingValue>>,
): Promise<StereoSignal> {
  const { sampleRate_Hz } = place.input;
  const { signal, impulseAt } = impulseFor(sampleRate_Hz, LONGEST_RING_S);
  const { output } = await place.render(
    { stage: 'make-room', on: true, settings: { ...settings, way: 'static', cut_dB: PROBE_CUT_dB }, figures: {} },
    { input: signal, notes: [], hits: [] },
  );
  const scale = 1 / (dB_to_amplitude(-PROBE_CUT_dB) - 1);
  const samples = Float64Array.from(signal.left, (x, n) => scale * (output.left[n]! - x));
  const spans = hits.map(({ time_s }) => ({ from_s: time_s - SPARE_S, to_s: time_s + HIT_WINDOW_S + SPARE_S }));
  return bandOfLows(place.input, { samples, sampleRate_Hz, impulseAt }, spans);
}
