import { findFaults, findFaultsSoFar } from '../core/findings/find-faults.js';
import { FINDINGS } from '../core/findings/finding-registry.js';
import type { Inspection } from '../core/job/inspect-song.js';
import type { JobHost } from '../core/job/job-host.js';
import { openSong, type OpenSong, type SongOptions } from '../core/job/open-song.js';
import { untreated } from '../core/job/solve-inspection.js';
import { lowsTrack } from '../core/measure/lows-track.js';
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
 * What `inspectSong` gives, found in parts over two threads. Once kick and bass are read, hits and notes are found and told, and
 * what needs these alone is measured while the rest is read; then the helper takes the dearest parts, this thread the others,
 * the cheapest first. What the helper does not do is done here.
 */
export async function inspectInParts(host: JobHost, options: SongOptions, ways: InspectWays): Promise<Inspection> {
  const parts = new PartsOfSong(host, ways);
  try {
    const song = await openSong(host, options, (read, soFar) => parts.hear(read, soFar));
    return await parts.inspect(song);
  } finally {
    parts.end();
  }
}

const KNOWING = 'finding hits and notes';
/** All is found; the session knows its files by their fingerprints. */
const MARKING = 'taking the fingerprints of the files';
/** Parts up to this share of the work are measured before hits and notes are looked for, where they can be. */
const SHORT_WAIT_percent = 10;

class PartsOfSong {
  private song: OpenSong | null = null;
  private isWhole = false;
  private known: Knowledge | null = null;
  private gathered: MeasuredParts = {};
  /** Parts that nobody has taken, the cheapest first. */
  private left = byCost();
  private readonly beside: MeasuredBeside;

  constructor(
    private readonly host: JobHost,
    private readonly ways: InspectWays,
  ) {
    this.beside = new MeasuredBeside(() => ways.helper());
  }

  /** While the files are read. */
  async hear(read: 'kick' | 'bass', soFar: OpenSong): Promise<void> {
    if (read === 'kick') return this.beside.hearKick(soFar.sound);
    this.host.progress?.(KNOWING, 0, 1);
    const known = await this.beside.hearBass(soFar.sound);
    if (known === null) return;
    this.tellOpened(soFar);
    this.tellKnown(known);
    await this.takeBegun();
  }

  async inspect(song: OpenSong): Promise<Inspection> {
    const heard = this.beside.knownOf(song.sound);
    if (heard === null) this.beginAnew();
    this.isWhole = true;
    this.tellOpened(song);
    const known = heard ?? (await this.knowHere());
    if (heard === null) this.tellKnown(known);
    const helped = this.measureThere();
    await this.measureAllHere(known);
    await helped;
    await this.measureAllHere(known);
    const measured = mergedParts(known, [this.gathered]);
    return { song, measured, faults: findFaults(measured, song.stems) };
  }

  end(): void {
    this.beside.end();
  }

  private beginAnew(): void {
    this.song = null;
    this.known = null;
    this.gathered = {};
    this.left = byCost();
  }

  /** What needs no hits and notes is found first; a long part would keep the others waiting. */
  private async knowHere(): Promise<Knowledge> {
    for (const name of [...this.left]) {
      const { needsKnown, cost_percent } = MEASURE_PARTS[name];
      if (!needsKnown && cost_percent <= SHORT_WAIT_percent) await this.measureHere(name);
    }
    this.progress();
    const known = knowSong(this.song!.sound);
    this.beside.learn(known);
    return known;
  }

  /** From the cheapest on, until none is left that nobody has taken. */
  private async measureAllHere(known: Knowledge): Promise<void> {
    while (this.left.length > 0) await this.measureHere(this.left[0]!, known);
  }

  /** What needs kick and bass alone: measured there while the lows are followed here, and waited for, so that it is told. */
  private async takeBegun(): Promise<void> {
    const begun = [...this.beside.begun()];
    for (const [name] of begun) this.claim(name);
    for (const [name, parts] of begun) this.takeOrLeave(name, await parts);
  }

  /** From the dearest on. */
  private async measureThere(): Promise<void> {
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
    this.take(measureParts(this.song!.sound, known, [name]));
    await nextTask();
  }

  private take(parts: MeasuredParts): void {
    const { restLows, stems } = this.song!;
    const { stemLows } = parts;
    const withRest = stemLows === undefined ? parts : { ...parts, stemLows: [...stemLows, ...restLows] };
    this.gathered = { ...this.gathered, ...withRest };
    const known = this.known === null ? {} : { known: this.known };
    // what the files alone show is not judged before all of them are read
    const judged = this.isWhole ? FINDINGS : FINDINGS.filter(({ reads }) => reads.length > 0);
    const faults = findFaultsSoFar({ ...known, ...this.gathered }, stems, judged);
    this.ways.tell({ what: 'measured', parts: withRest, faults, measuring: this.measuring });
    if (this.isWhole) this.progress();
  }

  private tellOpened(song: OpenSong): void {
    const { name, sampleRate_Hz, frameCount, stems, remarks, levels } = song;
    const sounding = this.isWhole ? soundingSong(song) : null;
    const opened = { name, sampleRate_Hz, frameCount, stems, remarks, levels, sounding };
    this.ways.tell({ what: 'opened', song: opened, begins: this.song === null });
    this.song = song;
    if (this.isWhole) this.progress();
  }

  private tellKnown(known: Knowledge): void {
    this.known = known;
    const lows = lowsTrack(this.song!.sound, known);
    const told = untreated({ song: this.song!, measured: { known } }, this.ways.orders);
    this.ways.tell({ what: 'known', known, lows, untreated: told });
  }

  /** Parts that nobody has measured yet, also those at work. */
  private get measuring(): PartName[] {
    return PART_NAMES.filter((name) => this.gathered[name] === undefined);
  }

  private progress(): void {
    const { measuring } = this;
    const isKnown = this.known !== null;
    const doing =
      measuring.length === 0 ? MARKING : `still measuring ${measuring.map((name) => PART_WORDS[name]).join(', ')}`;
    const done = PART_NAMES.length - measuring.length + (isKnown ? 1 : 0);
    this.host.progress?.(isKnown ? doing : KNOWING, done, PART_NAMES.length + 2);
  }
}

function byCost(): PartName[] {
  return [...PART_NAMES].sort((a, b) => MEASURE_PARTS[a].cost_percent - MEASURE_PARTS[b].cost_percent);
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
