import { SmoothValue } from '../dsp/smooth-value.js';
import { TICK } from '../dsp/stereo-unit.js';
import { dB_to_amplitude } from '../units/decibels.js';
import { settingNumber } from './setting-reader.js';
import type { SettingDeclaration, StageDeclaration, StageUnit } from './stage.js';
import type { StageInstance } from './treatment.js';

function laneGain(key: string, lane: string): SettingDeclaration {
  return {
    key,
    name: `${lane} lane`,
    unit: 'dB',
    kind: 'number',
    min: -24,
    max: 12,
    scale: 'linear',
    default: 0,
    help: `Level of the ${lane} lane as it is put back.`,
  };
}

const low = laneGain('low_dB', 'low');
const high = laneGain('high_dB', 'high');

/**
 * Puts the treated lanes back: out = x + sum over the lanes of (gain T(lane) - lane), so that untouched lanes at 0 dB leave x
 * to the bit. `process` itself changes nothing: the chain calls `addLane`.
 */
export class JoinUnit implements StageUnit {
  readonly latencySamples = 0;
  private low_dB = 0;
  private high_dB = 0;
  private readonly lowGain = new SmoothValue(1);
  private readonly highGain = new SmoothValue(1);
  private readonly lowGains = new Float64Array(TICK);
  private readonly highGains = new Float64Array(TICK);

  configure(instance: StageInstance, atOnce: boolean): void {
    this.low_dB = settingNumber(instance, low, this.low_dB);
    this.high_dB = settingNumber(instance, high, this.high_dB);
    this.lowGain.set(instance.on ? dB_to_amplitude(this.low_dB) : 1, atOnce);
    this.highGain.set(instance.on ? dB_to_amplitude(this.high_dB) : 1, atOnce);
  }

  /** Fills the gains of this tick; call once, before `addLane`. */
  process(_left: Float64Array, _right: Float64Array, _frameCount: number): void {
    this.lowGain.fill(this.lowGains, TICK);
    this.highGain.fill(this.highGains, TICK);
  }

  /** Adds to `sum` what was done to one channel of a lane: share (gain treated - untreated). */
  addLane(
    lane: 'low' | 'high',
    sum: Float64Array,
    treated: Float64Array,
    untreated: Float64Array,
    share: Float64Array,
  ): void {
    const gains = lane === 'low' ? this.lowGains : this.highGains;
    for (let n = 0; n < TICK; n++) {
      const difference = gains[n]! * treated[n]! - untreated[n]!;
      if (difference !== 0) sum[n] = sum[n]! + share[n]! * difference;
    }
  }

  seek(): void {
    this.reset();
  }

  reset(): void {
    this.lowGain.reset();
    this.highGain.reset();
  }

  passState(): void {
    return;
  }

  flush(): void {
    return;
  }
}

export const join: StageDeclaration = {
  id: 'join',
  name: 'join',
  help: 'Puts the lanes together again. Leave it off where their balance is to stay as it is.',
  source: 'own',
  settings: [low, high],
  figures: [],
  wish: null,
  linear: true,
  latencySamples: () => 0,
  create: () => new JoinUnit(),
};
