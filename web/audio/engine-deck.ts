import type { Treatment } from '../../core/treatment/treatment.js';
import {
  ENGINE_NAME,
  ENGINE_OUTPUTS,
  type FromEngine,
  type LaneName,
  type Loop,
  type ToEngine,
} from '../../protocol/engine-messages.js';
import type { SoundAnswer, SoundRequest } from '../../protocol/sound-request.js';
import { chunkPlan } from './chunk-plan.js';

/** Hands over frames of the song; whoever holds it answers, by transfer. */
export type AskForSound = (request: SoundRequest) => Promise<SoundAnswer>;

export interface LiveSong {
  /** With the rest as one bed where it is not treated (`liveTreatment`). */
  readonly treatment: Treatment;
  readonly frameCount: number;
}

/** What the page may show of the sound. */
export type Playback = Omit<Extract<FromEngine, { kind: 'at' }>, 'kind'>;

const AHEAD_S = 6;
const PRE_ROLL_S = 2.5;
const CHUNK_S = 1;
const AT_REST: Playback = { position: 0, preparing: null, playing: false, waiting: false };

/** One engine on the audio thread and what feeds it a few seconds ahead: the song has one, a reference another. */
export class EngineDeck {
  readonly node: AudioWorkletNode;
  private playback = AT_REST;
  private heardAt_s = 0;
  private loop: Loop | null = null;
  private asked = false;
  private lane: LaneName | null = null;
  private readonly held = new Set<number>();
  /** Answers to what was asked before the song or its files changed are thrown away. */
  private round = 0;
  /** What the engine refused last, for the page to say. */
  refusal: string | null = null;

  /** The engine's module must have been added to the context. */
  constructor(
    private readonly context: BaseAudioContext,
    private song: LiveSong,
    private readonly ask: AskForSound,
    private readonly onReport: () => void,
  ) {
    this.node = new AudioWorkletNode(context, ENGINE_NAME, {
      numberOfInputs: 0,
      numberOfOutputs: ENGINE_OUTPUTS.length,
      outputChannelCount: ENGINE_OUTPUTS.map(() => 2),
    });
    this.node.port.onmessage = ({ data }: MessageEvent<FromEngine>) => this.hear(data);
    this.setSong(song);
  }

  get now(): Playback {
    return this.playback;
  }

  /** Whether it was asked to play and has not come to its end, reported yet or not. */
  get isToPlay(): boolean {
    return this.asked;
  }

  /** Where it is heard at this moment, between two reports too; null while nothing sounds. */
  get position_s(): number | null {
    const { position, playing, waiting } = this.playback;
    if (!playing) return null;
    const since = waiting ? 0 : this.context.currentTime - this.heardAt_s;
    return position / this.context.sampleRate + Math.min(0.1, since);
  }

  /** The same song with other files; starts at 0, silent. Its loop and lane stay. */
  setSong(song: LiveSong): void {
    this.song = song;
    this.round += 1;
    this.held.clear();
    this.playback = AT_REST;
    const { treatment, frameCount } = song;
    const rest = { lane: this.lane, changes: [], hashed: false };
    this.send({ kind: 'song', treatment, frameCount, chunkFrames: this.chunkFrames, ...rest });
    this.setLoop(this.loop !== null && this.loop.to <= frameCount ? this.loop : null);
  }

  /** Settings, switches, another version: without a click where sound is running. */
  setTreatment(treatment: Treatment): void {
    this.song = { ...this.song, treatment };
    this.send({ kind: 'treatment', treatment });
  }

  setLane(lane: LaneName | null): void {
    this.lane = lane;
    this.send({ kind: 'lane', lane });
  }

  setLoop(loop: Loop | null): void {
    this.loop = loop;
    this.send({ kind: 'loop', loop });
    this.feed();
  }

  locate(to: number): void {
    this.send({ kind: 'locate', to });
    this.playback = { ...this.playback, preparing: to };
    this.feed();
  }

  play(): void {
    this.asked = true;
    this.send({ kind: 'play' });
  }

  pause(): void {
    this.asked = false;
    this.send({ kind: 'pause' });
  }

  /** Rests although the audio thread stands still and cannot say so. */
  halt(): void {
    this.pause();
    this.playback = { ...this.playback, playing: false, waiting: false };
  }

  /** Takes no more answers. */
  close(): void {
    this.round += 1;
    this.node.port.onmessage = null;
    this.node.disconnect();
  }

  private get chunkFrames(): number {
    return Math.ceil((CHUNK_S * this.context.sampleRate) / 128) * 128;
  }

  private send(message: ToEngine, transfer: ArrayBuffer[] = []): void {
    this.node.port.postMessage(message, transfer);
  }

  private hear(message: FromEngine): void {
    if (message.kind === 'at') {
      if (this.playback.playing && !message.playing) this.asked = false;
      this.playback = message;
      this.heardAt_s = this.context.currentTime;
      this.feed();
    } else if (message.kind === 'refused') {
      this.refusal = message.sentence;
    }
    this.onReport();
  }

  private feed(): void {
    const rate = this.context.sampleRate;
    const { position, preparing } = this.playback;
    const lengths = { aheadFrames: AHEAD_S * rate, preRollFrames: PRE_ROLL_S * rate, chunkFrames: this.chunkFrames };
    const plan = chunkPlan(
      { position, preparing, loop: this.loop, frameCount: this.song.frameCount, ...lengths },
      this.held,
    );
    for (const index of plan.drop) {
      this.held.delete(index);
      this.send({ kind: 'drop', index });
    }
    for (const index of plan.ask) void this.bring(index);
  }

  private async bring(index: number): Promise<void> {
    const { round, chunkFrames } = this;
    const { kick, bass, rest } = this.song.treatment;
    const names = (path: Treatment['kick']) => path.tracks.map(({ file }) => file);
    this.held.add(index);
    const files = { kick: names(kick), bass: names(bass), rest: names(rest) };
    try {
      const sound = await this.ask({ from: index * chunkFrames, to: (index + 1) * chunkFrames, files });
      if (round !== this.round || !this.held.has(index)) return;
      this.send({ kind: 'chunk', index, sound }, buffersOf(sound));
    } catch (error) {
      this.held.delete(index);
      this.refusal = error instanceof Error ? error.message : String(error);
    }
  }
}

function buffersOf(sound: SoundAnswer): ArrayBuffer[] {
  const blocks = [...sound.kick, ...sound.bass, ...sound.rest];
  return [...new Set(blocks.flatMap(({ left, right }) => [left.buffer as ArrayBuffer, right.buffer as ArrayBuffer]))];
}
