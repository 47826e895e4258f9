import { openAudioFile } from '../audio-file/open-audio-file.js';
import { stemLowsOf } from '../measure/stem-lows.js';
import type { SongSound, Track } from '../measure/song-sound.js';
import { proveTreatment, type TreatmentProof } from '../proof/prove-treatment.js';
import { resampled } from '../dsp/resampler.js';
import { sumOf, type StereoSignal } from '../signal/stereo-signal.js';
import { placed } from '../song/conform.js';
import { dB_to_amplitude } from '../units/decibels.js';
import { PlainError } from '../units/plain-error.js';
import type { Inspection } from './inspect-song.js';
import type { JobHost } from './job-host.js';
import type { OpenSong } from './open-song.js';
import type { PrintedFile, PrintedVersion } from './print-song.js';
import { readStem } from './read-stem.js';

/** What a look at one printed file says. */
export interface ProvedFile {
  readonly printed: PrintedFile;
  readonly channels: number;
  readonly bitDepth: string;
  readonly sampleRate_Hz: number;
  readonly frameCount: number;
  /** As its sources: start and length on the sample, and for copies the very bytes. */
  readonly alignedOnTheSample: boolean;
  readonly sameBytesAsSource: boolean;
}

export interface SongProof extends TreatmentProof {
  readonly version: string;
  readonly files: readonly ProvedFile[];
}

/** Measures everything again from the printed files and lays it beside the source. @throws PlainError where one is missing. */
export async function proveSong(host: JobHost, inspection: Inspection, printed: PrintedVersion): Promise<SongProof> {
  const { song, measured } = inspection;
  const reader = new PrintReader(host, song);
  for (const [index, file] of printed.files.entries()) {
    host.progress?.(`measuring ${file.path}`, index, printed.files.length);
    await reader.read(file);
  }
  const proof = proveTreatment(song.sound, measured, reader.sound());
  const after = { ...proof.after, stemLows: [...proof.after.stemLows, ...reader.restLows] };
  return { ...proof, after, version: printed.version, files: reader.files };
}

class PrintReader {
  readonly files: ProvedFile[] = [];
  readonly restLows: ReturnType<typeof stemLowsOf>[] = [];
  private readonly tracks: Record<'kick' | 'bass', Track[]> = { kick: [], bass: [] };
  private bed: { left: Float32Array; right: Float32Array } | null = null;

  constructor(
    private readonly host: JobHost,
    private readonly song: OpenSong,
  ) {}

  async read(printed: PrintedFile): Promise<void> {
    if ((await this.host.folder.sizeOf(printed.path)) === null) {
      throw new PlainError(printed.path, 'This print is not there any more.', 'Print again.');
    }
    const source = await this.host.folder.open(printed.path);
    const { facts, signal } = await this.soundOf(printed, source);
    this.files.push(await this.proved(printed, facts, await this.host.fingerprint(source)));
    if (printed.kind === 'track' && printed.role !== 'rest') return; // stands in the bus already
    if (printed.role === 'rest') this.addToBed(printed, signal);
    else this.tracks[printed.role].push({ file: printed.path, signal });
  }

  sound(): SongSound {
    const { sampleRate_Hz, frameCount } = this.song;
    // a role that was not printed is laid beside the prints as it came
    const came = this.song.sound;
    const busOf = (role: 'kick' | 'bass'): StereoSignal | null => {
      const tracks = this.tracks[role];
      if (tracks.length === 0) return came[role];
      return tracks.length === 1 ? tracks[0]!.signal : sumOf(tracks.map(({ signal }) => signal));
    };
    return {
      sampleRate_Hz,
      frameCount,
      kick: busOf('kick'),
      bass: busOf('bass'),
      rest: this.bed === null ? came.rest : { ...this.bed, sampleRate_Hz },
      tracks: { ...this.tracks, rest: [] },
    };
  }

  private async soundOf(printed: PrintedFile, source: Parameters<typeof openAudioFile>[1]) {
    const reader = await openAudioFile(printed.path, source, this.host.decoders);
    const signal = await readStem(reader);
    const { sampleRate_Hz, frameCount, monoStems_dB } = this.song;
    const gain = reader.facts.channels === 1 ? dB_to_amplitude(monoStems_dB) : 1;
    return { facts: reader.facts, signal: placed(resampled(signal, sampleRate_Hz), printed.start, frameCount, gain) };
  }

  private async proved(
    printed: PrintedFile,
    facts: { channels: number; bitDepth: string; sampleRate_Hz: number; frameCount: number },
    sha256: string,
  ): Promise<ProvedFile> {
    const sources = this.song.files.filter(({ stem }) => printed.files.includes(stem.file));
    const rate = this.song.sampleRate_Hz;
    const start = Math.min(...sources.map((source) => source.start));
    const end = Math.max(
      ...sources.map(({ stem, start: at }) => at + Math.ceil((stem.frameCount * rate) / stem.sampleRate_Hz)),
    );
    const before = await Promise.all(sources.map((source) => source.sha256()));
    const sameBytes = printed.kind === 'copy' && before.every((one) => one === sha256);
    return {
      printed,
      channels: facts.channels,
      bitDepth: facts.bitDepth,
      sampleRate_Hz: facts.sampleRate_Hz,
      frameCount: facts.frameCount,
      alignedOnTheSample:
        sameBytes || (facts.sampleRate_Hz === rate && printed.start === start && facts.frameCount === end - start),
      sameBytesAsSource: sameBytes,
    };
  }

  private addToBed(printed: PrintedFile, signal: StereoSignal): void {
    this.restLows.push(stemLowsOf('rest', { file: printed.files[0]!, signal }));
    const { frameCount } = this.song;
    this.bed ??= { left: new Float32Array(frameCount), right: new Float32Array(frameCount) };
    for (let n = 0; n < frameCount; n++) {
      this.bed.left[n]! += signal.left[n]!;
      this.bed.right[n]! += signal.right[n]!;
    }
  }
}
