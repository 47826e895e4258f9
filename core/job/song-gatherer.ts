import { HeldSound } from '../audio-file/held-sound.js';
import { openAudioFile } from '../audio-file/open-audio-file.js';
import { measureSourceFacts } from '../audio-file/source-facts.js';
import { resampled } from '../dsp/resampler.js';
import { levelCourse, type LevelCourse } from '../measure/level-course.js';
import type { SongSound, Track } from '../measure/song-sound.js';
import { stemLowsOf, type StemLows } from '../measure/stem-lows.js';
import { sumOf, type Channel, type StereoSignal } from '../signal/stereo-signal.js';
import { placed } from '../song/conform.js';
import { findSetAside, fitToMix, probeOf, type SetAside, type StemProbe } from '../song/set-aside.js';
import type { FileFault, Role } from '../song/song.js';
import { dB_to_amplitude } from '../units/decibels.js';
import type { JobHost } from './job-host.js';
import type { OpenStem } from './open-stems.js';
import { readStem } from './read-stem.js';
import type { SongClock } from './song-clock.js';

/** One addition to the bed of the rest: what would count twice was added as it was read, and is taken out again. */
export interface BedPart {
  readonly file: string;
  readonly sign: 1 | -1;
}

/** What one pass over a file gives. */
interface Heard {
  readonly signal: StereoSignal;
  readonly probe: StemProbe;
  readonly faults: readonly FileFault[];
}

/** Gathers the song stem by stem, holding kick and bass tracks and the sum of the rest only. */
export class SongGatherer {
  private readonly tracks: Record<'kick' | 'bass', Track[]> = { kick: [], bass: [] };
  private bed: StereoSignal | null = null;
  readonly bedParts: BedPart[] = [];
  private readonly sums = new Map<'kick' | 'bass', { readonly count: number; readonly sum: StereoSignal | null }>();
  private readonly probes: { readonly role: Role; readonly probe: StemProbe }[] = [];
  private readonly lows: StemLows[] = [];
  private readonly courses: LevelCourse[] = [];
  private readonly opened: OpenStem[] = [];
  private readonly faults = new Map<string, readonly FileFault[]>();
  /** Told to stand aside, once all is heard. */
  aside: readonly SetAside[] = [];

  constructor(
    private readonly host: JobHost,
    private readonly clock: SongClock,
    private readonly monoStems_dB: number,
    /** What is compared and shown by file stands in this order, whichever was read first. */
    private readonly order: readonly string[],
  ) {}

  async hear(open: OpenStem, role: Role): Promise<void> {
    const { signal, probe, faults } = await this.heard(open);
    this.opened.push(open);
    this.courses.push(levelCourse(open.file, signal));
    this.faults.set(open.file, faults);
    this.probes.push({ role, probe });
    if (role === 'kick' || role === 'bass') this.tracks[role].push({ file: open.file, signal });
    if (role !== 'rest') return;
    this.lows.push(stemLowsOf('rest', { file: open.file, signal }));
    this.addToBed(open.file, signal, 1);
  }

  /** All is heard: finds what would count twice and takes it out of the sums. */
  async setAside(): Promise<void> {
    this.probes.sort((a, b) => this.placeOf(a.probe) - this.placeOf(b.probe));
    this.aside = findSetAside(this.probes.filter(({ role }) => role !== 'mix').map(({ probe }) => probe));
    for (const { file } of this.aside) {
      for (const role of ['kick', 'bass'] as const) {
        this.tracks[role] = this.tracks[role].filter((track) => track.file !== file);
      }
      const at = this.lows.findIndex((lows) => lows.file === file);
      if (at < 0) continue;
      this.lows.splice(at, 1);
      const { signal } = await this.heard(this.opened.find((open) => open.file === file)!);
      this.addToBed(file, signal, -1);
    }
  }

  levels(): LevelCourse[] {
    return [...this.courses].sort((a, b) => this.placeOf(a) - this.placeOf(b));
  }

  faultsOf(file: string): readonly FileFault[] {
    return this.faults.get(file) ?? [];
  }

  restLows(): readonly StemLows[] {
    return this.lows;
  }

  /** The very same signal as long as none of its tracks is set aside. */
  sumOf(role: 'kick' | 'bass'): StereoSignal | null {
    const tracks = this.tracks[role];
    const made = this.sums.get(role);
    if (made !== undefined && made.count === tracks.length) return made.sum;
    const sum = tracks.length === 1 ? tracks[0]!.signal : sumOf(tracks.map(({ signal }) => signal));
    this.sums.set(role, { count: tracks.length, sum });
    return sum;
  }

  sound(): SongSound {
    return {
      sampleRate_Hz: this.clock.sampleRate_Hz,
      frameCount: this.clock.frameCount,
      kick: this.sumOf('kick'),
      bass: this.sumOf('bass'),
      rest: this.lows.length > 0 ? this.bed : null,
      tracks: { kick: this.tracks.kick, bass: this.tracks.bass, rest: [] },
    };
  }

  /** How well the stems sum to a rough mix, where there is one. */
  remarks(): string[] {
    const apart = new Set(this.aside.map(({ file }) => file));
    const stems = this.probes.filter(({ role, probe }) => role !== 'mix' && !apart.has(probe.file));
    return this.probes
      .filter(({ role }) => role === 'mix')
      .flatMap(({ probe }) => {
        const fit = fitToMix(
          probe,
          stems.map((stem) => stem.probe),
        );
        if (fit === null) return [];
        const gain = fit.gain_dB.toFixed(1).replace('-', '−');
        const residue = fit.residue_dB.toFixed(0).replace('-', '−');
        return [`The stems, ${gain} dB, sum to ${probe.file} with ${residue} dB left over.`];
      });
  }

  private async heard(open: OpenStem): Promise<Heard> {
    const source = await (this.host.held?.(open.source) ?? open.source);
    const isOpen = source === open.source;
    const held = await HeldSound.read(
      isOpen ? open.reader : await openAudioFile(open.file, source, this.host.decoders),
    );
    const signal = await readStem(held);
    const { faults } = await measureSourceFacts(held);
    const { sampleRate_Hz, frameCount } = this.clock;
    const gain = open.facts.channels === 1 ? dB_to_amplitude(this.monoStems_dB) : 1;
    const conformed = placed(resampled(signal, sampleRate_Hz), this.clock.startOf(open.file), frameCount, gain);
    return {
      signal: conformed,
      probe: probeOf(open.file, conformed, frameCount),
      faults: [...open.facts.faults, ...faults],
    };
  }

  private placeOf({ file }: { readonly file: string }): number {
    return this.order.indexOf(file);
  }

  private addToBed(file: string, signal: StereoSignal, sign: 1 | -1): void {
    this.bedParts.push({ file, sign });
    const { frameCount, sampleRate_Hz } = this.clock;
    this.bed ??= { left: new Float32Array(frameCount), right: new Float32Array(frameCount), sampleRate_Hz };
    addInto(this.bed.left, signal.left, sign);
    addInto(this.bed.right, signal.right, sign);
  }
}

function addInto(sum: Channel, part: Channel, sign: 1 | -1): void {
  for (let n = 0; n < sum.length; n++) sum[n]! += sign * part[n]!;
}
