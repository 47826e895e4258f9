import type { BiquadCoefficients } from '../../core/dsp/biquad.js';
import { SMALL_SPEAKERS, type SpeakerId } from '../../core/measure/small-speakers.js';
import { ENGINE_OUTPUTS } from '../../protocol/engine-messages.js';
import { outputGains, type Hearing } from './heard-mix.js';
import { gainOf, LOWEST_dB, riseTime_s, SAFE_START_dB } from './monitor-level.js';

/** Time constant of switching: 10 ms. */
const SWITCH_S = 0.01;
const THRESHOLD_dB = -6;
const RATIO = 20;
/** The node makes up 0.6 of what it takes off a full-scale sound (Web Audio API, W3C); that is taken back. */
const MADE_UP_dB = 0.6 * -THRESHOLD_dB * (1 - 1 / RATIO);

/**
 * What stands between the engine's outputs and the ears: source or treated, solo, the loudspeaker model, mono, the monitor gain
 * and its limiter. Nothing here ever reaches a print.
 */
export class MonitorSection {
  private readonly gains: readonly GainNode[];
  private readonly sum: GainNode;
  private readonly folded: GainNode;
  private readonly monitor: GainNode;
  private readonly paths: ReadonlyMap<SpeakerId | 'full range', GainNode>;
  private level_dB = LOWEST_dB;

  constructor(
    private readonly context: BaseAudioContext,
    engine: AudioNode,
  ) {
    this.gains = ENGINE_OUTPUTS.map((_, output) => {
      const gain = new GainNode(context, { gain: 0 });
      engine.connect(gain, output);
      return gain;
    });
    this.sum = new GainNode(context);
    for (const gain of this.gains) gain.connect(this.sum);
    // One channel out of two, and back: (L + R) / 2 on both sides.
    this.folded = new GainNode(context, { channelCount: 2, channelCountMode: 'explicit' });
    this.sum.connect(this.folded);
    this.monitor = new GainNode(context, { gain: 0 });
    this.paths = this.buildPaths();
    const limiter = new DynamicsCompressorNode(context, {
      threshold: THRESHOLD_dB,
      knee: 0,
      ratio: RATIO,
      attack: 0.001,
      release: 0.1,
    });
    // Nothing may pass full scale, whatever the limiter lets through.
    const ceiling = new WaveShaperNode(context, { curve: new Float32Array([-1, 0, 1]) });
    const unmade = new GainNode(context, { gain: gainOf(-MADE_UP_dB) });
    this.monitor.connect(limiter).connect(unmade).connect(ceiling).connect(context.destination);
  }

  /** What is heard; all of it moves together, in 10 ms. */
  hear(hearing: Hearing): void {
    const now = this.context.currentTime;
    outputGains(hearing).forEach((gain, output) => this.gains[output]!.gain.setTargetAtTime(gain, now, SWITCH_S));
  }

  /** The loudspeaker model, and whether both sides are summed. */
  through(speaker: SpeakerId | 'full range', mono: boolean): void {
    const now = this.context.currentTime;
    for (const [id, gain] of this.paths) gain.gain.setTargetAtTime(id === speaker ? 1 : 0, now, SWITCH_S);
    this.folded.channelCount = mono || speaker === 'monoSpeaker' ? 1 : 2;
  }

  /** Moves the monitor gain: up slowly, down at once. */
  setLevel(level_dB: number): void {
    const now = this.context.currentTime;
    const { gain } = this.monitor;
    const from = Math.max(gain.value, gainOf(LOWEST_dB));
    gain.cancelScheduledValues(now);
    gain.setValueAtTime(from, now);
    gain.exponentialRampToValueAtTime(gainOf(level_dB), now + riseTime_s(this.level_dB, level_dB));
    this.level_dB = level_dB;
  }

  /** The safe start: from nearly nothing to -20 dB in 2 s. */
  startSafely(): void {
    this.level_dB = LOWEST_dB;
    this.monitor.gain.value = gainOf(LOWEST_dB);
    this.setLevel(SAFE_START_dB);
  }

  private buildPaths(): ReadonlyMap<SpeakerId | 'full range', GainNode> {
    const paths = new Map<SpeakerId | 'full range', GainNode>();
    const add = (id: SpeakerId | 'full range', sections: readonly BiquadCoefficients[]) => {
      let last: AudioNode = this.folded;
      for (const section of sections) last = last.connect(filterOf(this.context, section));
      const gain = new GainNode(this.context, { gain: id === 'full range' ? 1 : 0 });
      last.connect(gain).connect(this.monitor);
      paths.set(id, gain);
    };
    add('full range', []);
    for (const speaker of SMALL_SPEAKERS) add(speaker.id, speaker.sections(this.context.sampleRate));
    return paths;
  }
}

/** The very filter that carry is measured with. */
function filterOf(context: BaseAudioContext, { b0, b1, b2, a1, a2 }: BiquadCoefficients): IIRFilterNode {
  return new IIRFilterNode(context, { feedforward: [b0, b1, b2], feedback: [1, a1, a2] });
}
