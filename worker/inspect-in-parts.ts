import { findFaults, findFaultsSoFar } from '../core/findings/find-faults.js';
import type { Inspection } from '../core/job/inspect-song.js';
import type { JobHost } from '../core/job/job-host.js';
import { openSong, type OpenSong, type SongOptions } from '../core/job/open-song.js';
import { untreated } from '../core/job/solve-inspection.js';
import { knowSong } from '../core/measure/know-song.js';
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
import { MeasuredBeside } from './measured-beside.js';
import { nextTask } from './next-task.js';
import type { MeasureHelper } from './second-thread.js';
import { soundingSong } from './sounding-song.js';

/** Who helps, and who is told of what is found as it is found. */
export interface InspectWays {
  /** A thread begun anew; null where the machine has no second one to give. */
  helper(): MeasureHelper | null;
  /** The order of stages that was given by hand. */
  readonly orders: readonly StageOrder[];
  tell(told: InspectTold): void;
}

/**
 * What `inspectSong` gives, found in parts over two threads: hits and notes while the rest is still read, then the dearest parts
 * by the helper, the others here, the cheapest first. What the helper does not do is done here.
 */
export async function inspectInParts(host: JobHost, options: SongOptions, ways: InspectWays): Promise<Inspection> {
  const beside = new MeasuredBeside(() => ways.helper());
  try {
    const song = await openSong(host, options, (role, sum, clock) => {
      if (role === 'kick') return beside.hearKick(sum, clock);
      host.progress?.(KNOWING, 0, 1);
      return beside.hearBass(sum);
    });
    const { name, sampleRate_Hz, frameCount, stems, remarks, levels } = song;
    const opened = { name, sampleRate_Hz, frameCount, stems, remarks, levels, sounding: soundingSong(song) };
    ways.tell({ what: 'opened', song: opened });
    return await new PartsOfSong(song, host, ways, beside).inspect();
  } finally {
    beside.end();
  }
}

const KNOWING = 'finding hits and notes';
/** Parts up to this share of the work are measured before hits and notes are looked for, where they can be. */
const SHORT_WAIT_percent = 10;

class PartsOfSong {
  private gathered: MeasuredParts = {};
  /** The cheapest first. */
  private readonly left = [...PART_NAMES].sort((a, b) => MEASURE_PARTS[a].cost_percent - MEASURE_PARTS[b].cost_percent);
  private known: Knowledge | null = null;

  constructor(
    private readonly song: OpenSong,
    private readonly host: JobHost,
    private readonly ways: InspectWays,
    private readonly beside: MeasuredBeside,
  ) {}

  async inspect(): Promise<Inspection> {
    this.progress();
    const known = this.beside.knownOf(this.song.sound) ?? (await this.knowHere());
    await this.tellKnown(known);
    const helped = this.measureThere();
    await this.measureAllHere(known);
    await helped;
    await this.measureAllHere(known);
    const measured = mergedParts(known, [this.gathered]);
    return { song: this.song, measured, faults: findFaults(measured, this.song.stems) };
  }

  /** What needs no hits and notes is found first; a long part would keep the others waiting. */
  private async knowHere(): Promise<Knowledge> {
    for (const name of [...this.left]) {
      const { needsKnown, cost_percent } = MEASURE_PARTS[name];
      if (!needsKnown && cost_percent <= SHORT_WAIT_percent) await this.measureHere(name);
    }
    const known = knowSong(this.song.sound);
    this.beside.learn(known);
    return known;
  }

  /** From the cheapest on, until none is left that nobody has taken. */
  private async measureAllHere(known: Knowledge): Promise<void> {
    while (this.left.length > 0) await this.measureHere(this.left[0]!, known);
  }

  /** What is under way there, then from the dearest on. */
  private async measureThere(): Promise<void> {
    const begun = [...this.beside.begun()];
    for (const [name] of begun) this.claim(name);
    for (const [name, parts] of begun) this.takeOrLeave(name, await parts);
    for (;;) {
      const name = this.left.findLast((part) => MEASURE_PARTS[part].of !== 'tracks');
      if (name === undefined) return;
      this.claim(name);
      if (!this.takeOrLeave(name, await this.beside.measure(name))) return;
    }
  }

  private claim(name: PartName): void {
    this.left.splice(this.left.indexOf(name), 1);
  }

  /** @returns false where the helper did not do it. */
  private takeOrLeave(name: PartName, parts: MeasuredParts | null): boolean {
    if (parts === null) this.left.push(name);
    else this.take(parts);
    return parts !== null;
  }

  private async measureHere(name: PartName, known: Knowledge | null = null): Promise<void> {
    this.claim(name);
    this.take(measureParts(this.song.sound, known, [name]));
    await nextTask();
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

  private async tellKnown(known: Knowledge): Promise<void> {
    const { song } = this;
    this.known = known;
    const lows = await this.beside.lowsOf(song.sound, known);
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
    const what = isKnown ? `still measuring ${measuring.map((name) => PART_WORDS[name]).join(', ')}` : KNOWING;
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
