import type { Treatment } from '../../core/treatment/treatment.js';
import type { LaneName, Loop } from '../../protocol/engine-messages.js';
import engineUrl from '../../worklet/engine-processor.ts?worker&url';
import { EngineDeck, type AskForSound, type LiveSong, type Playback } from './engine-deck.js';
import { MonitorSection } from './monitor-section.js';
import { watchContext } from './watch-context.js';

/** After a rest of this many seconds the monitor rises again instead of standing open. */
const LONG_REST_S = 60;
/** Sound that does not come back within this time is opened anew. */
const WAKE_WITHIN_ms = 2000;

/** Where a song begins to sound: its place and its loop, in samples. */
export interface SongStart {
  readonly place: number;
  readonly loop: Loop | null;
}

/** What the page hears of the sound itself. */
export interface SoundEars {
  /** The monitor has gone back to its safe start by itself. */
  onSafeStart(): void;
  /** The browser has taken the sound away; the song rests where it was. */
  onInterrupted(): void;
  /** It will never sound again: it must be opened anew. */
  onLost(): void;
}

/**
 * The sound of the page: an AudioContext at the song's rate, opened by a gesture of the user, the engine that plays the song,
 * one for each reference that was heard, and the monitor behind them.
 */
export class LiveSound {
  readonly monitor: MonitorSection;
  private readonly song: EngineDeck;
  private readonly references = new Map<string, EngineDeck>();
  /** The deck that is heard: the song's, or that of a reference. */
  private heard: EngineDeck;
  private rested_s = 0;
  private readonly listeners = new Set<() => void>();
  private readonly endWatch: () => void;
  private lost = false;

  private constructor(
    private readonly context: AudioContext,
    song: LiveSong,
    private readonly ask: AskForSound,
    private readonly ears: SoundEars,
  ) {
    this.song = this.deckOf(song);
    this.heard = this.song;
    this.monitor = new MonitorSection(context, this.song.node);
    this.endWatch = watchContext(context, {
      onChanged: () => this.startSafely(),
      onInterrupted: () => this.interrupted(),
      onLost: () => this.lose(),
    });
  }

  /**
   * Opens the sound; call it in the handler of a gesture. Starts safely: at this level or -20 dB, whichever is lower. The song
   * stands where it is to begin, and rests.
   */
  static async open(
    { start, ...song }: LiveSong & { readonly start: SongStart },
    ask: AskForSound,
    level_dB: number,
    ears: SoundEars,
  ): Promise<LiveSound> {
    const context = new AudioContext({ sampleRate: song.treatment.sampleRate_Hz, latencyHint: 'interactive' });
    await context.resume();
    await context.audioWorklet.addModule(engineUrl);
    const sound = new LiveSound(context, song, ask, ears);
    sound.monitor.startSafely(level_dB);
    if (start.loop !== null) sound.setLoop(start.loop);
    const place = placeWithin(start);
    if (place > 0) sound.locate(place);
    return sound;
  }

  get now(): Playback {
    return this.heard.now;
  }

  /** Where the song stands, heard or not. */
  get songNow(): Playback {
    return this.song.now;
  }

  /** Whether the song was asked to play, reported yet or not. */
  get songIsToPlay(): boolean {
    return this.song.isToPlay;
  }

  /** What an engine refused last, for the page to say. */
  get refusal(): string | null {
    return this.heard.refusal;
  }

  /** Where the song is heard at this moment, between two reports too; null while it does not sound. */
  get position_s(): number | null {
    return this.heard === this.song ? this.song.position_s : null;
  }

  /** Tells of every report. @returns what ends it. */
  subscribe(listener: () => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  /** Another song, or the same with other files; starts at 0, silent. */
  setSong(song: LiveSong): void {
    this.song.setSong(song);
  }

  /** Settings, switches, another version: without a click where sound is running. */
  setTreatment(treatment: Treatment): void {
    this.song.setTreatment(treatment);
  }

  setLane(lane: LaneName | null): void {
    this.song.setLane(lane);
  }

  /** The song's loop, in samples. */
  setLoop(loop: Loop | null): void {
    this.song.setLoop(loop);
  }

  /** The song's place; a reference keeps its own. */
  locate(to: number): void {
    this.song.locate(to);
  }

  /** The deck of a reference that was heard; null before. */
  referenceNamed(name: string): EngineDeck | null {
    return this.references.get(name) ?? null;
  }

  play(): void {
    void this.wake();
    if (this.context.currentTime - this.rested_s > LONG_REST_S) this.monitor.riseAgain();
    this.heard.play();
  }

  pause(): void {
    this.rested_s = this.context.currentTime;
    this.heard.pause();
  }

  /**
   * Hears a reference instead of the song, or the song again with null. Each keeps its own place and loop; what is left rests,
   * what is heard goes on where it was.
   */
  hearReference(name: string | null, record: LiveSong | null, gain_dB: number): void {
    const next = name === null || record === null ? this.song : this.referenceDeck(name, record);
    this.monitor.hearDeck(next === this.song ? null : next.node, gain_dB);
    if (next === this.heard) return;
    const { playing } = this.heard.now;
    this.heard.pause();
    this.heard = next;
    if (playing) next.play();
    this.tell();
  }

  async close(): Promise<void> {
    this.endWatch();
    this.lost = true;
    for (const deck of [this.song, ...this.references.values()]) deck.close();
    if (this.context.state !== 'closed') await this.context.close();
  }

  private referenceDeck(name: string, record: LiveSong): EngineDeck {
    const known = this.references.get(name);
    if (known !== undefined) return known;
    const deck = this.deckOf(record);
    this.references.set(name, deck);
    return deck;
  }

  private deckOf(song: LiveSong): EngineDeck {
    const deck = new EngineDeck(this.context, song, this.ask, () => this.tell());
    deck.node.addEventListener('processorerror', () => this.lose());
    return deck;
  }

  private startSafely(): void {
    this.monitor.startSafely();
    this.ears.onSafeStart();
  }

  /** Runs where it was taken away; what does not run again is lost. */
  private async wake(): Promise<void> {
    if (this.context.state === 'running') return;
    const late = new Promise<void>((done) => setTimeout(done, WAKE_WITHIN_ms));
    await Promise.race([this.context.resume(), late]).catch(() => undefined);
    // the state has changed meanwhile
    if ((this.context.state as AudioContextState) !== 'running') this.lose();
  }

  private interrupted(): void {
    this.heard.halt();
    this.ears.onInterrupted();
    this.tell();
  }

  private lose(): void {
    if (this.lost) return;
    this.lost = true;
    this.ears.onLost();
  }

  private tell(): void {
    for (const listener of this.listeners) listener();
  }
}

/** A place outside the loop is left for the loop's beginning. */
function placeWithin({ place, loop }: SongStart): number {
  return loop === null || (place >= loop.from && place < loop.to) ? place : loop.from;
}
