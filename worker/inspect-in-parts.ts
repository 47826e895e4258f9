import { findFaults, findFaultsSoFar } from '../core/findings/find-faults.js';
import type { Inspection } from '../core/job/inspect-song.js';
import type { JobHost } from '../core/job/job-host.js';
import { openSong, type OpenSong, type SongOptions } from '../core/job/open-song.js';
import { untreated } from '../core/job/solve-inspection.js';
import { knowSong } from '../core/measure/know-song.js';
import { lowsTrack } from '../core/measure/lows-track.js';
import {
  MEASURE_PARTS,
  measureParts,
  mergedParts,
  PART_NAMES,
  type MeasuredParts,
  type PartName,
} from '../core/measure/measure-parts.js';
import type { Knowledge } from '../core/measure/song-sound.js';
import type { StageOrder } from '../core/treatment/stage-order.js';
import type { InspectTold } from '../protocol/inspect-told.js';
import { nextTask } from './next-task.js';
import type { MeasureHelper } from './second-thread.js';
import { soundBytes } from './sound-bytes.js';
import { soundingSong } from './sounding-song.js';

/** Who helps, and who is told of what is found as it is found. */
export interface InspectWays {
  /** Null where the machine has no second thread to give. */
  readonly helper: MeasureHelper | null;
  /** The order of stages that was given by hand. */
  readonly orders: readonly StageOrder[];
  tell(told: InspectTold): void;
}

/**
 * What `inspectSong` gives, found in parts over two threads, the cheapest first: the helper looks for hits and notes and then
 * takes the dearest parts, this thread the others. What the helper refuses is done here.
 */
export async function inspectInParts(host: JobHost, options: SongOptions, ways: InspectWays): Promise<Inspection> {
  try {
    const song = await openSong(host, options);
    const { name, sampleRate_Hz, frameCount, stems, remarks, levels } = song;
    const opened = { name, sampleRate_Hz, frameCount, stems, remarks, levels, sounding: soundingSong(song) };
    ways.tell({ what: 'opened', song: opened });
    return await new PartsOfSong(song, host, ways).inspect();
  } finally {
    ways.helper?.end();
  }
}

/** A longer song is measured in one thread: a copy of its sound is more than the page has room for. */
const MOST_COPIED_BYTES = 400e6;

class PartsOfSong {
  private gathered: MeasuredParts = {};
  /** The cheapest first. */
  private readonly left = [...PART_NAMES].sort((a, b) => MEASURE_PARTS[a].cost_percent - MEASURE_PARTS[b].cost_percent);
  private known: Knowledge | null = null;
  private helperLost = false;

  constructor(
    private readonly song: OpenSong,
    private readonly host: JobHost,
    private readonly ways: InspectWays,
  ) {}

  async inspect(): Promise<Inspection> {
    const helper = soundBytes(this.song.sound) > MOST_COPIED_BYTES ? null : this.ways.helper;
    this.progress();
    if (helper === null) {
      await this.measureHere('stemLows');
      const known = knowSong(this.song.sound);
      this.tellKnown(known);
      await this.measureAllHere(known);
      return this.inspection(known);
    }
    helper.ask('take', this.song.sound).catch(() => undefined);
    const asked = helper.ask('know', null).catch(() => this.withoutHelper());
    await this.measureEarlyHere();
    const known = (await asked) ?? knowSong(this.song.sound);
    const helped = this.helperLost ? null : this.measureThere(helper);
    this.tellKnown(known);
    await this.measureAllHere(known);
    await helped;
    await this.measureAllHere(known);
    return this.inspection(known);
  }

  private inspection(known: Knowledge): Inspection {
    const measured = mergedParts(known, [this.gathered]);
    return { song: this.song, measured, faults: findFaults(measured, this.song.stems) };
  }

  /** Parts that need no hits and notes, while these are looked for. */
  private async measureEarlyHere(): Promise<void> {
    for (const name of this.left.filter((part) => !MEASURE_PARTS[part].needsKnown)) await this.measureHere(name);
  }

  /** From the cheapest on, until none is left that nobody has taken. */
  private async measureAllHere(known: Knowledge): Promise<void> {
    while (this.left.length > 0) await this.measureHere(this.left[0]!, known);
  }

  /** From the dearest on. */
  private async measureThere(helper: MeasureHelper): Promise<void> {
    for (let name = this.left.pop(); name !== undefined; name = this.left.pop()) {
      try {
        this.take(await helper.ask('measure', name));
      } catch {
        this.left.push(name);
        return;
      }
    }
  }

  private async measureHere(name: PartName, known: Knowledge | null = null): Promise<void> {
    this.left.splice(this.left.indexOf(name), 1);
    this.take(measureParts(this.song.sound, known, [name]));
    await nextTask();
  }

  private withoutHelper(): null {
    this.helperLost = true;
    return null;
  }

  private take(parts: MeasuredParts): void {
    const { stemLows } = parts;
    const withRest = stemLows === undefined ? parts : { ...parts, stemLows: [...stemLows, ...this.song.restLows] };
    this.gathered = { ...this.gathered, ...withRest };
    const known = this.known === null ? {} : { known: this.known };
    const faults = findFaultsSoFar({ ...known, ...this.gathered }, this.song.stems);
    this.ways.tell({ what: 'measured', parts: withRest, faults, measuring: this.measuring });
    this.progress();
  }

  private tellKnown(known: Knowledge): void {
    const { song } = this;
    this.known = known;
    const lows = lowsTrack(song.sound, known);
    this.ways.tell({
      what: 'known',
      known,
      lows,
      untreated: untreated({ song, measured: { known } }, this.ways.orders),
    });
  }

  /** Parts that nobody has measured yet, also those at work. */
  private get measuring(): PartName[] {
    return PART_NAMES.filter((name) => this.gathered[name] === undefined);
  }

  private progress(): void {
    const { measuring } = this;
    const isKnown = this.known !== null;
    const what = isKnown
      ? `still measuring ${measuring.map((name) => PART_WORDS[name]).join(', ')}`
      : 'finding hits and notes';
    const done = PART_NAMES.length - measuring.length + (isKnown ? 1 : 0);
    this.host.progress?.(what, done, PART_NAMES.length + 1);
  }
}

const PART_WORDS: Readonly<Record<PartName, string>> = {
  clearance: 'clearance',
  agreement: 'agreement',
  trackAlignments: 'the tracks of one source',
  centre: 'centre',
  evenness: 'evenness',
  carry: 'carry',
  headroom: 'headroom',
  stemLows: 'the lows of each stem',
};
