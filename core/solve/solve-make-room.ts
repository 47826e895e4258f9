import { measureClearance, prepareClearance, type PreparedClearance } from '../measure/clearance.js';
import { type Channel, type StereoSignal } from '../signal/stereo-signal.js';
import { roomDepths, type RoomDepths, type RoomHit } from '../treatment/room-depths.js';
import type { SettingValue } from '../treatment/treatment.js';
import { dB_to_amplitude } from '../units/decibels.js';
import { valueOf } from '../units/reading.js';
import { asGiven, leftOff, settingOf, type StagePlace, type StageSolution } from './stage-solver.js';

const CLEAR_dB = 2;
const USUAL_SHARE = 0.9;
/** Cut at which the band filter is heard once, so that every other cut follows without rendering. */
const PROBE_CUT_dB = 6;
/** Where the cap binds the band is made this wide before the bass is called too loud. */
const WIDEST_oct = 3;

/**
 * Make room ahead of known hits: the least cut per hit that lifts it to 2 dB (and 0.5 dB over), from the hit's band powers with
 * the band filter heard once: |X + (g - 1) B|^2. One render more confirms. Keyed and static ways take the cut that is given.
 */
export async function solveMakeRoom(place: StagePlace): Promise<StageSolution> {
  const { song, kick, settings } = place;
  if (kick === null) return leftOff(place, null, 'Not solved: no kick among the stems.', null);
  const before = measureClearance({ ...song.source, kick, bass: place.input }, song.known);
  if (before.kind === 'unmeasurable') return leftOff(place, null, `Not solved: ${before.reason}.`, null);
  const now = valueOf(before.share2dB);
  const wished = place.wish?.low ?? USUAL_SHARE;
  const byHand = place.given.has('cut_dB') || place.given.has('way');
  if (now !== null && now >= wished && !byHand) return leftOff(place, now, 'Off: the kick is clear without it.');
  const contested = valueOf(before.contested_Hz);
  const frequency_Hz = place.given.has('frequency_Hz')
    ? settingOf(place, 'frequency_Hz')
    : Math.max(30, Math.min(250, contested ?? settingOf(place, 'frequency_Hz')));
  const prepared = prepareClearance(kick, song.known.hits);
  const cap_dB = settingOf(place, 'cut_dB') * place.strength;
  let used: Record<string, SettingValue> = { ...settings, frequency_Hz, cut_dB: cap_dB };
  let depths = settings['way'] === 'ahead' ? await depthsFor(place, prepared, used, wished) : null;
  if (depths !== null && depths.tooLoud_dB !== null && !place.given.has('width_oct')) {
    used = { ...used, width_oct: WIDEST_oct };
    depths = await depthsFor(place, prepared, used, wished);
  }
  const figures = depths === null ? {} : { cutPerHit_dB: depths.cutPerHit_dB };
  const { output } = await place.render({ stage: 'make-room', on: true, settings: used, figures });
  const after = measureClearance({ ...song.source, kick, bass: output }, song.known);
  const reached = after.kind === 'measured' ? valueOf(after.share2dB) : null;
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
  const { output } = await place.render({
    stage: 'make-room',
    on: true,
    settings: { ...settings, way: 'static', cut_dB: PROBE_CUT_dB },
    figures: {},
  });
  const band = bandOf(place.input, output);
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

/** B(x) from y = x + (g - 1) B(x). */
function bandOf(input: StereoSignal, output: StereoSignal): StereoSignal {
  const scale = 1 / (dB_to_amplitude(-PROBE_CUT_dB) - 1);
  const channel = (x: Channel, y: Channel): Float64Array => {
    const band = new Float64Array(x.length);
    for (let n = 0; n < band.length; n++) band[n] = scale * (y[n]! - x[n]!);
    return band;
  };
  return {
    left: channel(input.left, output.left),
    right: channel(input.right, output.right),
    sampleRate_Hz: input.sampleRate_Hz,
  };
}
