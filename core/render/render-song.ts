import { SoundHash } from '../signal/sound-hash.js';
import type { StereoSignal } from '../signal/stereo-signal.js';
import { isTreated } from '../treatment/paths.js';
import { treatmentsFrom, type SettingChange, type TreatmentFrom } from '../treatment/setting-changes.js';
import { TreatmentChain, type ChainBlock, type ChainInput, type ChainOutput } from '../treatment/treatment-chain.js';
import type { TreatedRole, Treatment } from '../treatment/treatment.js';
import { PlainError } from '../units/plain-error.js';

/** The song as sound, at one rate and length: what is to be rendered. */
export interface RenderSource {
  readonly sampleRate_Hz: number;
  readonly frameCount: number;
  /** The sum of the rest: stands in for its files where they were summed as they were read. */
  readonly rest: StereoSignal | null;
  readonly tracks: Readonly<Record<TreatedRole, readonly { readonly file: string; readonly signal: StereoSignal }[]>>;
}

export interface RenderOptions {
  /** Which buses are wanted; the kick runs with the bass in any case, since it is the bass's key. */
  readonly roles: readonly TreatedRole[];
  /** An excerpt, in samples of the song; the whole song where nothing is said. */
  readonly from?: number;
  readonly to?: number;
  /** How much of the song is played unheard before an excerpt; 2 s where nothing is said. */
  readonly preRoll?: number;
  readonly blockFrames?: number;
  /** Settings that change under way, as live sound takes them. */
  readonly changes?: readonly SettingChange[];
}

/** Song frames `at .. at + frameCount` of the buses asked for; the arrays are used again for the next block. */
export interface RenderedBlock {
  readonly at: number;
  readonly frameCount: number;
  readonly output: ChainOutput;
}

export interface RenderedSong {
  readonly kick: StereoSignal | null;
  readonly bass: StereoSignal | null;
  readonly rest: StereoSignal | null;
  /** Of every sample of the buses asked for, kick, then bass, then rest: equal hashes, equal bits. */
  readonly hash: string;
}

const DEFAULT_BLOCK_FRAMES = 4096;

/**
 * Renders block by block, latency taken out, length kept, so that a print need not hold the song twice. The bits are those of
 * the live chain from song sample 0; an excerpt begins with a pre-roll and differs by what rings longer than that.
 * @throws PlainError where the treatment speaks of another rate, or of a file that the source does not hold.
 */
export function renderBlocks(
  source: RenderSource,
  treatment: Treatment,
  options: RenderOptions,
  onBlock: (block: RenderedBlock) => void,
): void {
  const prepared = prepare(source, treatment, options.roles);
  const { chain, input } = prepared;
  const { from = 0, to = source.frameCount, preRoll = 2 * source.sampleRate_Hz } = options;
  const blockFrames = options.blockFrames ?? DEFAULT_BLOCK_FRAMES;
  const output = outputFor(options.roles, blockFrames);
  const changes = treatmentsFrom(prepared.treatment, options.changes ?? []);
  const feed = new Feed(chain, input, source.frameCount, blockFrames, changes);
  const begin = Math.max(0, from - preRoll);
  feed.seek(begin);
  feed.run(NOTHING, from - begin + chain.latencySamples);
  for (let at = from; at < to; at += blockFrames) {
    const frameCount = Math.min(blockFrames, to - at);
    feed.run(output, frameCount);
    onBlock({ at, frameCount, output });
  }
}

/** Renders the buses asked for into new signals, see `renderBlocks`. */
export function renderSong(source: RenderSource, treatment: Treatment, options: RenderOptions): RenderedSong {
  const { from = 0, to = source.frameCount } = options;
  const length = Math.max(0, to - from);
  const whole = outputFor(options.roles, length);
  const hash = new SoundHash();
  renderBlocks(source, treatment, options, ({ at, frameCount, output }) => {
    for (const role of ['kick', 'bass', 'rest'] as const) {
      copyBlock(output[role], whole[role], at - from, frameCount);
    }
  });
  for (const role of ['kick', 'bass', 'rest'] as const) {
    const bus = whole[role];
    if (bus !== null) hash.add(bus.left, bus.right, 0, length);
  }
  const signal = (block: ChainBlock | null) =>
    block === null ? null : { ...block, sampleRate_Hz: source.sampleRate_Hz };
  return { kick: signal(whole.kick), bass: signal(whole.bass), rest: signal(whole.rest), hash: hash.digest() };
}

/**
 * One file of a role through the whole path of the role, as if it stood there alone: the single prints of a linear path sum
 * to its bus.
 * @throws PlainError where the file is not in the treatment.
 */
export function renderTrack(source: RenderSource, treatment: Treatment, role: TreatedRole, file: string): StereoSignal {
  const tracks = treatment[role].tracks.filter((track) => track.file === file);
  if (tracks.length === 0) throw new PlainError(file, `is not a ${role} file of this treatment.`, 'Check the name.');
  const alone: Treatment = { ...treatment, [role]: { ...treatment[role], tracks } };
  const rendered = renderSong(source, alone, { roles: [role] })[role];
  if (rendered === null) throw new PlainError(file, 'gave no sound.', 'Report this as a fault.');
  return rendered;
}

const NOTHING: ChainOutput = { kick: null, bass: null, rest: null };

/** A chain for these roles, and the sound of their files in the treatment's order. */
export function prepare(
  source: RenderSource,
  treatment: Treatment,
  roles: readonly TreatedRole[],
): { readonly chain: TreatmentChain; readonly input: ChainInput; readonly treatment: Treatment } {
  if (treatment.sampleRate_Hz !== source.sampleRate_Hz) {
    throw new PlainError(
      'the treatment',
      `was made at ${treatment.sampleRate_Hz} Hz, the song is at ${source.sampleRate_Hz} Hz.`,
      'Treat the song again at its own rate.',
    );
  }
  const run = roles.includes('bass') && !roles.includes('kick') ? [...roles, 'kick' as const] : roles;
  const used = restAsBed(source, treatment) ? bedOnly(treatment) : treatment;
  const soundOf = (role: TreatedRole) => (run.includes(role) ? soundsOf(source, used, role) : []);
  const input = { kick: soundOf('kick'), bass: soundOf('bass'), rest: soundOf('rest') };
  return { chain: new TreatmentChain(used, run), input, treatment: used };
}

const BED = 'rest';

function restAsBed(source: RenderSource, treatment: Treatment): boolean {
  return source.tracks.rest.length === 0 && source.rest !== null && !isTreated(treatment, 'rest');
}

function bedOnly(treatment: Treatment): Treatment {
  return { ...treatment, rest: { ...treatment.rest, tracks: [{ file: BED, stages: [] }] } };
}

function soundsOf(source: RenderSource, treatment: Treatment, role: TreatedRole): readonly StereoSignal[] {
  return treatment[role].tracks.map(({ file }) => {
    if (role === 'rest' && source.tracks.rest.length === 0 && file === BED && source.rest !== null) return source.rest;
    const track = source.tracks[role].find((one) => one.file === file);
    if (track === undefined) {
      throw new PlainError(
        file,
        `is in the treatment of the ${role}, but its sound is not at hand.`,
        'Inspect the song again.',
      );
    }
    return track.signal;
  });
}

/** Plays the song into the chain, then silence for as long as is asked. */
export class Feed {
  private position = 0;
  private nextChange = 0;
  private readonly silence: ChainInput;

  constructor(
    private readonly chain: TreatmentChain,
    private readonly input: ChainInput,
    private readonly frameCount: number,
    private readonly blockFrames: number,
    private readonly changes: readonly TreatmentFrom[] = [],
  ) {
    const zeros = new Float64Array(blockFrames);
    const silent = (blocks: readonly ChainBlock[]) => blocks.map(() => ({ left: zeros, right: zeros }));
    this.silence = { kick: silent(input.kick), bass: silent(input.bass), rest: silent(input.rest) };
  }

  seek(songSample: number): void {
    this.position = songSample;
    this.chain.seek(songSample);
    this.nextChange = 0;
  }

  /** `output` is written from its beginning on, or not at all where its roles are null. */
  run(output: ChainOutput, frameCount: number): void {
    let done = 0;
    while (done < frameCount) {
      this.takeChanges();
      const left = this.frameCount - this.position;
      const toChange = (this.changes[this.nextChange]?.sample ?? Infinity) - this.position;
      const count = Math.min(frameCount - done, this.blockFrames, left > 0 ? left : Infinity, toChange);
      if (left > 0) this.chain.process(this.input, this.position, output, done, count);
      else this.chain.process(this.silence, 0, output, done, count);
      this.position += count;
      done += count;
    }
  }

  private takeChanges(): void {
    for (let change = this.changes[this.nextChange]; change !== undefined; change = this.changes[this.nextChange]) {
      if (change.sample > this.position) return;
      this.chain.configure(change.treatment);
      this.nextChange += 1;
    }
  }
}

function outputFor(roles: readonly TreatedRole[], frameCount: number): ChainOutput {
  const block = (role: TreatedRole) =>
    roles.includes(role) ? { left: new Float64Array(frameCount), right: new Float64Array(frameCount) } : null;
  return { kick: block('kick'), bass: block('bass'), rest: block('rest') };
}

function copyBlock(from: ChainBlock | null, to: ChainBlock | null, at: number, frameCount: number): void {
  if (from === null || to === null) return;
  to.left.set(from.left.subarray(0, frameCount), at);
  to.right.set(from.right.subarray(0, frameCount), at);
}
