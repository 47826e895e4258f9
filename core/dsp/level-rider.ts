import type { StateTape } from './state-tape.js';
import { exp } from '../units/exact-math.js';
import { dB_to_power, power_to_dB } from '../units/decibels.js';
import { BoxcarPower } from './boxcar-power.js';
import { softKneeReduction_dB } from './soft-knee.js';
import { flushed } from './stereo-unit.js';

/**
 * The gain reduction of a feed-forward compressor, without touching the sound: mean power over a boxcar of both channels, the
 * soft-knee curve, then attack and release in the log domain with a memory:
 *
 *   c   = reduction asked by the curve
 *   y   rises with attack_ms to c; falls with release_ms towards max(c, share * m)
 *   m   follows y with 500 ms up and 600 ms down
 *
 * so that after a long passage of work the last part of the release is slow, and after a short one it is not. Time constants
 * are to 63 %, a = exp(-1 / (t fs)). The topology (log domain, detector after the gain computer) follows Giannoulis, Massberg
 * and Reiss, JAES 60(6), 2012; the memory is our own, measured for this project: release after a burst of 0.05/0.2/1/5 s to
 * 50 % 107/134/177/195 ms and to 10 % 455/737/1400/1520 ms at release 120 ms and a share of 0.35.
 */
export class LevelRider {
  private readonly detector: BoxcarPower;
  private readonly powers = new Float64Array(128);
  // Parameters, and what is derived from them
  private threshold_dBFS = 0;
  private ratio = 1;
  private knee_dB = 0;
  private limit_dB = Infinity;
  /** Safely under the knee: what is quieter asks for nothing, and need not be taken the logarithm of. */
  private quietPower = 0;
  private attackPole = 0;
  private releasePole = 0;
  private readonly memoryUpPole: number;
  private readonly memoryDownPole: number;
  // State
  private reduction_dB = 0;
  private memory_dB = 0;

  constructor(
    private readonly sampleRate_Hz: number,
    detector_ms: number,
    private readonly memoryShare: number,
  ) {
    this.detector = new BoxcarPower(Math.max(1, Math.round((detector_ms * sampleRate_Hz) / 1000)));
    this.memoryUpPole = this.pole(500);
    this.memoryDownPole = this.pole(600);
  }

  /** @param limit_dB the most reduction that the curve may ask for. */
  configure(
    threshold_dBFS: number,
    ratio: number,
    knee_dB: number,
    attack_ms: number,
    release_ms: number,
    limit_dB = Infinity,
  ): void {
    this.limit_dB = limit_dB;
    this.threshold_dBFS = threshold_dBFS;
    this.ratio = ratio;
    this.knee_dB = knee_dB;
    this.quietPower = threshold_dBFS > -200 ? dB_to_power(threshold_dBFS - 0.5 * knee_dB - 0.01) : 0;
    this.attackPole = this.pole(attack_ms);
    this.releasePole = this.pole(release_ms);
  }

  /** Reduction in dB (>= 0) at each frame of one tick. */
  process(left: Float64Array, right: Float64Array, frameCount: number, reductions_dB: Float64Array): void {
    const { powers, memoryShare, attackPole, releasePole } = this;
    this.detector.process(left, right, frameCount, powers);
    let y = this.reduction_dB;
    let m = this.memory_dB;
    for (let i = 0; i < frameCount; i++) {
      const power = powers[i]!;
      const asked_dB = power < this.quietPower ? 0 : this.askedReduction_dB(power);
      const c = asked_dB < this.limit_dB ? asked_dB : this.limit_dB;
      if (c > y) {
        y = c + attackPole * (y - c);
      } else {
        const floor_dB = memoryShare * m;
        const goal = c > floor_dB ? c : floor_dB;
        if (goal < y) y = goal + releasePole * (y - goal);
      }
      m = y + (y > m ? this.memoryUpPole : this.memoryDownPole) * (m - y);
      reductions_dB[i] = y;
    }
    this.reduction_dB = y;
    this.memory_dB = m;
  }

  private askedReduction_dB(power: number): number {
    const level_dB = power > 1e-20 ? power_to_dB(power) : -200;
    return softKneeReduction_dB(level_dB, this.threshold_dBFS, this.ratio, this.knee_dB);
  }

  reset(): void {
    this.detector.reset();
    this.reduction_dB = 0;
    this.memory_dB = 0;
  }

  passState(tape: StateTape): void {
    this.detector.passState(tape);
    this.reduction_dB = tape.value(this.reduction_dB);
    this.memory_dB = tape.value(this.memory_dB);
  }

  /** Under a millionth of a dB there is nothing to hear: the gain is then exactly 1. */
  flush(): void {
    this.reduction_dB = this.reduction_dB < 1e-6 ? 0 : flushed(this.reduction_dB);
    this.memory_dB = this.memory_dB < 1e-6 ? 0 : flushed(this.memory_dB);
  }

  private pole(time_ms: number): number {
    return exp(-1000 / (time_ms * this.sampleRate_Hz));
  }
}
