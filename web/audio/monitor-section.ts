import type { BiquadCoefficients } from '../../core/dsp/biquad.js';
import { SMALL_SPEAKERS, type SpeakerId } from '../../core/measure/small-speakers.js';
import { ENGINE_OUTPUTS } from '../../protocol/engine-messages.js';
import { outputGains, type Hearing } from './heard-mix.js';
import { afterSafeStart_dB, gainOf, levelOf_dB, LOWEST_dB, riseTime_s, SAFE_START_dB } from './monitor-level.js';

/** Time constant of switching: 10 ms. */
const SWITCH_S = 0.01;
/** A blind switch falls for this long, changes in silence, and rises for as long, whatever is switched. */
const BLIND_FADE_S = 0.02;
const THRESHOLD_dB = -6;
const RATIO = 20;
/** The node makes up 0.6 of what it takes off a full-scale sound (Web Audio API, W3C); that is taken back. */
const MADE_UP_dB = 0.6 * -THRESHOLD_dB * (1 - 1 / RATIO);

type Speaker = SpeakerId | 'full range';

/**
 * What stands between the engines' outputs and the ears: source or treated, solo, a reference instead, mono, the loudspeaker
 * model, the monitor gain and its limiter. Nothing here ever reaches a print, and nothing reaches the ears but through here.
 */
export class MonitorSection {
  private readonly gains: readonly GainNode[];
  private readonly song: GainNode;
  private readonly decks = new Map<AudioNode, GainNode>();
  private readonly sum: GainNode;
  private readonly gate: GainNode;
  private readonly wide: GainNode;
  private readonly folded: GainNode;
  private readonly monitor: GainNode;
  private readonly paths: ReadonlyMap<Speaker, GainNode>;
  private level_dB = SAFE_START_dB;

  constructor(
    private readonly context: BaseAudioContext,
    engine: AudioNode,
  ) {
    this.song = new GainNode(context);
    this.gains = ENGINE_OUTPUTS.map((_, output) => {
      const gain = new GainNode(context, { gain: 0 });
      engine.connect(gain, output);
      gain.connect(this.song);
      return gain;
    });
    this.sum = new GainNode(context);
    this.gate = new GainNode(context);
    this.song.connect(this.sum).connect(this.gate);
    this.wide = new GainNode(context);
    // One channel out of two, (L + R) / 2, which then stands on both sides.
    this.folded = new GainNode(context, { gain: 0, channelCount: 1, channelCountMode: 'explicit' });
    const both = new GainNode(context, { channelCount: 2, channelCountMode: 'explicit' });
    this.gate.connect(this.wide).connect(both);
    this.gate.connect(this.folded).connect(both);
    this.monitor = new GainNode(context, { gain: 0 });
    this.paths = this.buildPaths(both);
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

  /** What is heard of the song; all of it moves together, in 10 ms. */
  hear(hearing: Hearing): void {
    outputGains(hearing).forEach((gain, output) => this.move(this.gains[output]!, gain));
  }

  /** The same, so that the switch itself tells nothing: always down, changed in silence, and up again in the same time. */
  hearBlind(hearing: Hearing): void {
    const now = this.context.currentTime;
    const { gain } = this.gate;
    const from = gain.value;
    gain.cancelScheduledValues(now);
    gain.setValueAtTime(from, now);
    gain.linearRampToValueAtTime(0, now + BLIND_FADE_S);
    outputGains(hearing).forEach((level, output) => {
      const { gain: output_gain } = this.gains[output]!;
      output_gain.cancelScheduledValues(now);
      output_gain.setValueAtTime(level, now + BLIND_FADE_S);
    });
    gain.linearRampToValueAtTime(1, now + 2 * BLIND_FADE_S);
  }

  /** A reference's deck instead of the song, at this gain; null: the song. */
  hearDeck(deck: AudioNode | null, gain_dB: number): void {
    if (deck !== null && !this.decks.has(deck)) {
      const gain = new GainNode(this.context, { gain: 0 });
      deck.connect(gain, ENGINE_OUTPUTS.indexOf('source rest')).connect(this.sum);
      this.decks.set(deck, gain);
    }
    this.move(this.song, deck === null ? 1 : 0);
    for (const [node, gain] of this.decks) this.move(gain, node === deck ? gainOf(gain_dB) : 0);
  }

  /** The loudspeaker model, and whether both sides are summed. */
  through(speaker: Speaker, mono: boolean): void {
    for (const [id, gain] of this.paths) this.move(gain, id === speaker ? 1 : 0);
    const folded = mono || speaker === 'monoSpeaker';
    this.move(this.folded, folded ? 1 : 0);
    this.move(this.wide, folded ? 0 : 1);
  }

  /** Moves the monitor gain: up slowly from where it truly is, down at once. */
  setLevel(level_dB: number): void {
    const now = this.context.currentTime;
    const { gain } = this.monitor;
    const from_dB = Math.max(LOWEST_dB, levelOf_dB(gain.value));
    gain.cancelScheduledValues(now);
    gain.setValueAtTime(gainOf(from_dB), now);
    gain.exponentialRampToValueAtTime(gainOf(level_dB), now + riseTime_s(from_dB, level_dB));
    this.level_dB = level_dB;
  }

  /** The safe start: from nearly nothing, over 2 s, to this level or -20 dB, whichever is lower. */
  startSafely(level_dB: number = this.level_dB): void {
    this.riseFromNothing(afterSafeStart_dB(level_dB));
  }

  /** From nearly nothing to the level that was set. */
  riseAgain(): void {
    this.riseFromNothing(this.level_dB);
  }

  private riseFromNothing(to_dB: number): void {
    const now = this.context.currentTime;
    this.monitor.gain.cancelScheduledValues(now);
    this.monitor.gain.setValueAtTime(gainOf(LOWEST_dB), now);
    this.monitor.gain.exponentialRampToValueAtTime(gainOf(to_dB), now + riseTime_s(LOWEST_dB, to_dB));
    this.level_dB = to_dB;
  }

  private move({ gain }: GainNode, to: number): void {
    const now = this.context.currentTime;
    gain.cancelScheduledValues(now);
    gain.setTargetAtTime(to, now, SWITCH_S);
  }

  private buildPaths(from: AudioNode): ReadonlyMap<Speaker, GainNode> {
    const paths = new Map<Speaker, GainNode>();
    const add = (id: Speaker, sections: readonly BiquadCoefficients[]) => {
      let last: AudioNode = from;
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
