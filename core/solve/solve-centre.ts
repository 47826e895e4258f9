import { measureAgreement } from '../measure/agreement.js';
import { centreOf } from '../measure/centre.js';
import { MidSideLows } from '../measure/mid-side-lows.js';
import { dB_to_power, power_to_dB } from '../units/decibels.js';
import { valueOf } from '../units/reading.js';
import { clamp } from '../units/units.js';
import { leftOff, settingOf, type StagePlace, type StageSolution } from './stage-solver.js';

const LOWEST_Hz = 20;
const MONO_Hz = 120;
/** Width of the slices in which the closed form adds up the band. */
const SLICE_Hz = 2;
/** Correlation under which one side is turned before the side signal is taken out. */
const OPPOSED = -0.2;
const MOST_MAKE_UP_dB = 3;
const USUAL_LOSS_dB = 1;

/**
 * Centre: the least amount that brings the fold-down loss to the wish, in closed form over the spectrum,
 *   loss(a) = 10 lg(1 + sum |S|^2 (1 - a LP)^2 / (g^2 E_M)),   LP = 1 / (1 + (f / corner)^4),
 * where g is the make-up that gives M's lows the source's power (3 dB at most). Where left and right work against each other one side
 * is turned first: taking S out of an opposed bass would delete the bass.
 */
export async function solveCentre(place: StagePlace): Promise<StageSolution> {
  const lows = MidSideLows.of(place.input);
  const measured = centreOf(lows);
  if (measured.kind === 'unmeasurable') return leftOff(place, null, `Not solved: ${measured.reason}.`, null);
  const now = valueOf(measured.foldDownLoss_dB)!;
  const wished = place.wish?.high ?? USUAL_LOSS_dB;
  if (now <= wished) return leftOff(place, now, 'Off: the lows already stand in the middle.');
  const opposed = measured.correlation < OPPOSED && !place.given.has('turn');
  const turned = opposed ? await turnedPlace(place, measured.opposedBelow_Hz) : { settings: place.settings, lows };
  const corner_Hz = settingOf(place, 'corner_Hz');
  const slices = slicesOf(turned.lows, corner_Hz);
  const wanted = sourceEnergy(lows);
  const amount = place.given.has('amount_percent')
    ? settingOf(place, 'amount_percent') / 100
    : leastAmount(slices, wished, wanted);
  const used = amount * place.strength;
  const makeUp_dB = makeUpOf(slices, used, wanted);
  const instance = {
    stage: 'centre',
    on: true,
    settings: { ...turned.settings, amount_percent: 100 * used },
    figures: { makeUp_dB },
  } as const;
  const { output } = await place.render(instance);
  const after = centreOf(MidSideLows.of(output));
  const reached = after.kind === 'measured' ? valueOf(after.foldDownLoss_dB) : null;
  const met = reached !== null && reached <= wished + 0.03;
  return {
    on: true,
    settings: instance.settings,
    figures: instance.figures,
    now,
    reached,
    met,
    trials: reached === null ? [] : [{ amount: 100 * used, result: reached }],
    amountKey: 'amount_percent',
    output,
    remark: opposed
      ? `Left and right work against each other below ${Math.round(Number(turned.settings['turnCorner_Hz']))} Hz; one side is turned first.`
      : met
        ? null
        : `${reached?.toFixed(2)} dB are still lost.`,
  };
}

/** The side that leaves the better agreement with the kick is turned; without a kick, the right one. */
async function turnedPlace(
  place: StagePlace,
  opposedBelow_Hz: number | null,
): Promise<{ settings: StagePlace['settings']; lows: MidSideLows }> {
  const turnCorner_Hz = clamp(opposedBelow_Hz ?? 250, 80, 1000);
  const turnedTo = async (turn: 'right' | 'left') => {
    const settings = { ...place.settings, turn, turnCorner_Hz };
    const { output } = await place.render({
      stage: 'centre',
      on: true,
      settings: { ...settings, amount_percent: 0 },
      figures: { makeUp_dB: 0 },
    });
    const agreement = measureAgreement(
      { ...place.song.source, kick: place.kick, bass: place.bassWith(output) },
      place.song.known,
    );
    const median = agreement.kind === 'measured' ? (valueOf(agreement.median_dB) ?? 0) : 0;
    return { settings, lows: MidSideLows.of(output), median };
  };
  const right = await turnedTo('right');
  const left = await turnedTo('left');
  return left.median > right.median + 0.05 ? left : right;
}

interface Slice {
  readonly mid: number;
  readonly side: number;
  readonly lowPass: number;
}

function slicesOf(lows: MidSideLows, corner_Hz: number): Slice[] {
  const slices: Slice[] = [];
  for (let from = LOWEST_Hz; from < MONO_Hz; from += SLICE_Hz) {
    const ratio = (from + SLICE_Hz / 2) / corner_Hz;
    const lowPass = 1 / (1 + ratio * ratio * ratio * ratio);
    // the slices must not share a bin at their common edge
    const { mid, side } = lows.energy(from + 1e-6, from + SLICE_Hz);
    slices.push({ mid, side, lowPass });
  }
  return slices;
}

function energies(slices: readonly Slice[], amount: number): { mid: number; side: number } {
  let mid = 0;
  let side = 0;
  for (const slice of slices) {
    const left = 1 - amount * slice.lowPass;
    mid += slice.mid;
    side += slice.side * left * left;
  }
  return { mid, side };
}

function predictedLoss_dB(slices: readonly Slice[], amount: number, wanted: number): number {
  const { mid, side } = energies(slices, amount);
  const madeUp = mid * dB_to_power(makeUpOf(slices, amount, wanted));
  return mid > 0 ? power_to_dB(1 + side / madeUp) : 60;
}

/** Least amount, to a thousandth, that brings the loss just under the wish; 1 where none does. */
function leastAmount(slices: readonly Slice[], wished_dB: number, wanted: number): number {
  const aim = Math.max(0.02, wished_dB - 0.05);
  let low = 0;
  let high = 1;
  if (predictedLoss_dB(slices, 1, wanted) > aim) return 1;
  for (let round = 0; round < 12; round++) {
    const middle = 0.5 * (low + high);
    if (predictedLoss_dB(slices, middle, wanted) <= aim) high = middle;
    else low = middle;
  }
  return high;
}

function sourceEnergy(lows: MidSideLows): number {
  const { mid, side } = lows.energy(LOWEST_Hz, MONO_Hz);
  return mid + side;
}

function makeUpOf(slices: readonly Slice[], amount: number, wanted: number): number {
  const { mid, side } = energies(slices, amount);
  if (!(mid > 0) || !(wanted > side)) return 0;
  return clamp(power_to_dB((wanted - side) / mid), 0, MOST_MAKE_UP_dB);
}
