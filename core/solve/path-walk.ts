import { lowsEnergy } from '../measure/lows-energy.js';
import { isMono, sumOf, type Channel, type StereoSignal } from '../signal/stereo-signal.js';
import type { Hit, Note } from '../song/song.js';
import { renderLanes } from '../render/render-lanes.js';
import { renderStageWithPauses } from '../render/render-stage.js';
import { formatAddress, stageAt, withStage } from '../treatment/paths.js';
import { declarationOf } from '../treatment/stage-registry.js';
import type { StageAddress, StageInstance, TreatedRole, Treatment } from '../treatment/treatment.js';
import type { StageRequest } from './stage-request.js';
import type { Trial } from './bounded-search.js';
import { bestOf, type SolveWatch } from './solve-watch.js';
import { SOLVERS } from './solver-registry.js';
import { asGiven, leftOff } from './stage-solver.js';
import type { SolveSong, StagePlace, StageSolution, StageSolver, StageSound } from './stage-solver.js';

/** How one stage of the path was solved. */
export interface StageSolved {
  readonly address: StageAddress;
  readonly request: StageRequest;
  readonly solution: StageSolution;
  /** Share of its amount that it is turned down to; 1 where it is not. */
  readonly strength: number;
}

/** A stage that is turned down to a share of its amount, and the names of what got worse with more of it. */
export interface TurnedDown {
  readonly share: number;
  readonly because: readonly string[];
}

/** What an earlier walk has searched for and found. */
export interface FoundAmount {
  readonly key: string;
  readonly value: number;
  readonly trials: readonly Trial[];
}

/** One walk along the whole path: the treatment it found, and the sound that leaves it. */
export interface WalkResult {
  readonly treatment: Treatment;
  readonly stages: readonly StageSolved[];
  readonly kick: StereoSignal | null;
  readonly bass: StereoSignal | null;
  /** `lowsEnergy` of the bass as it leaves trim, before room is made; null without a bass. */
  readonly bassLowsAtTrim: number | null;
}

export interface WalkQuestion {
  readonly song: SolveSong;
  /** All stages off. */
  readonly base: Treatment;
  readonly requests: readonly StageRequest[];
  /** By address: amounts that are not searched for again, and stages that are turned down. */
  readonly amounts: ReadonlyMap<string, FoundAmount>;
  readonly turnedDown: ReadonlyMap<string, TurnedDown>;
  /** What earlier walks of the same song solved: where nothing before a stage has changed, its solution stands. */
  readonly solved: Map<string, StageSolution>;
  readonly watch: SolveWatch;
}

/**
 * Solves every requested stage in the signal's order, each on the sound that really reaches it. Where the watch hears `stop`,
 * the stage under way ends with the best it has tried and later ones stay off, but for trim, which holds the lows of what is
 * kept.
 */
export function walkPath(question: WalkQuestion): Promise<WalkResult> {
  return new PathWalk(question).run();
}

type Bus = { out: StereoSignal | null; lowsAtTrim: number | null };
type BassWith = (output: StereoSignal) => StereoSignal;
const itself: BassWith = (output) => output;

class PathWalk {
  private treatment: Treatment;
  private readonly stages: StageSolved[] = [];
  private readonly requests: ReadonlyMap<string, StageRequest>;
  private readonly watch: SolveWatch;
  private kick: StereoSignal | null = null;

  constructor(private readonly question: WalkQuestion) {
    this.treatment = question.base;
    this.watch = question.watch;
    this.requests = new Map(question.requests.map((request) => [formatAddress(request.address), request]));
  }

  async run(): Promise<WalkResult> {
    for (const track of this.treatment.rest.tracks) {
      for (const { stage } of track.stages) this.settle({ role: 'rest', track: track.file, lane: null, stage });
    }
    this.kick = (await this.walkRole('kick')).out;
    const bass = await this.walkRole('bass');
    return {
      treatment: this.treatment,
      stages: this.stages,
      kick: this.kick,
      bass: bass.out,
      bassLowsAtTrim: bass.lowsAtTrim,
    };
  }

  /** A stage whose sound need not be at hand: it takes what was given. */
  private settle(address: StageAddress): void {
    const request = this.requests.get(formatAddress(address));
    if (request === undefined) return;
    this.take(address, request, asGiven(this.placeOf(address, request, SILENCE, itself)), 1);
  }

  private async walkRole(role: 'kick' | 'bass'): Promise<Bus> {
    const { tracks, ...buses } = this.question.song.source;
    const treated: StereoSignal[] = [];
    for (const { file, signal } of tracks[role]) {
      const path = this.treatment[role].tracks.find((track) => track.file === file)!;
      let sound = signal;
      for (const { stage } of path.stages) sound = await this.pass({ role, track: file, lane: null, stage }, sound);
      treated.push(sound);
    }
    const untouched = treated.every((sound, i) => sound === tracks[role][i]!.signal);
    let bus = untouched ? buses[role] : sumOf(treated);
    let lowsAtTrim: number | null = null;
    if (bus === null) return { out: null, lowsAtTrim };
    for (const { stage } of this.treatment[role].stages) {
      if (stage === 'split') bus = await this.walkLanes(role, bus);
      else bus = await this.pass({ role, track: null, lane: null, stage }, bus);
      if (stage === 'trim' && role === 'bass') lowsAtTrim = lowsEnergy(bus);
    }
    return { out: bus, lowsAtTrim };
  }

  private async walkLanes(role: TreatedRole, bus: StereoSignal): Promise<StereoSignal> {
    const lanes = (['low', 'high'] as const).map((lane) => ({
      lane,
      addresses: this.treatment[role].lanes[lane]
        .map(({ stage }): StageAddress => ({ role, track: null, lane, stage }))
        .filter((address) => this.requests.has(formatAddress(address))),
    }));
    if (lanes.every(({ addresses }) => addresses.length === 0)) return bus;
    const split = this.withGiven({ role, track: null, lane: null, stage: 'split' }, true);
    const made = await renderLanes(split, bus, this.treatment, () => this.watch.look());
    let sum = made.sum;
    let touched = false;
    for (const { lane, addresses } of lanes) {
      const untouched = made[lane];
      let now = untouched;
      for (const address of addresses) now = await this.pass(address, now, (out) => changedBy(sum, untouched, out));
      if (now === untouched) continue;
      sum = changedBy(sum, untouched, now);
      touched = true;
    }
    return touched ? sum : bus;
  }

  /** A stage with nothing asked of it but what was given by hand, put into the treatment. */
  private withGiven(address: StageAddress, on: boolean): StageInstance {
    const old = stageAt(this.treatment, address)!;
    const request = this.requests.get(formatAddress(address));
    const instance = { ...old, on, settings: { ...old.settings, ...request?.settings } };
    this.treatment = withStage(this.treatment, address, instance);
    return instance;
  }

  /** Solves one stage and gives what leaves it. */
  private async pass(address: StageAddress, input: StereoSignal, bassWith: BassWith = itself): Promise<StereoSignal> {
    const name = formatAddress(address);
    const request = this.requests.get(name);
    const solver = SOLVERS[address.stage];
    if (request === undefined || solver === undefined) return input;
    const place = this.placeOf(address, request, input, bassWith);
    const solution = await this.solutionOf(request, place, solver);
    const instance = this.take(address, request, solution, place.strength);
    if (!solution.on) return input;
    return solution.output ?? (await place.render(instance)).output;
  }

  private async solutionOf(request: StageRequest, place: StagePlace, solver: StageSolver): Promise<StageSolution> {
    const name = formatAddress(place.address);
    const turned = this.question.turnedDown.get(name);
    if (turned?.share === 0) {
      return leftAlone(place, `Off: with it, ${named(turned)} got worse by more than its tolerance.`, false);
    }
    if (!this.watch.stopped) this.watch.begin(`solving ${name}`, name);
    if ((await this.watch.look()) && !this.holdsLows(place)) {
      return leftAlone(place, 'Off: solving was stopped before it.', null);
    }
    const solution = await this.solvedOnce(request, place, solver);
    const trials = this.question.amounts.get(name)?.trials ?? solution.trials;
    if (turned === undefined || !solution.on) return { ...solution, trials };
    const to = `${(100 * turned.share).toFixed(turned.share < 0.1 ? 1 : 0)} %`;
    const remark = `Turned down to ${to}: with more, ${named(turned)} got worse by more than its tolerance.`;
    return { ...solution, trials, remark };
  }

  /** Trim after a stage that is on: what was kept was measured with the lows held. */
  private holdsLows({ address }: StagePlace): boolean {
    return address.stage === 'trim' && this.stages.some(({ solution }) => solution.on);
  }

  private placeOf(address: StageAddress, request: StageRequest, input: StereoSignal, bassWith: BassWith): StagePlace {
    const old = stageAt(this.treatment, address)!;
    const name = formatAddress(address);
    const found = this.question.amounts.get(name);
    return {
      address,
      song: this.question.song,
      settings: { ...old.settings, ...request.settings, ...(found && { [found.key]: found.value }) },
      figures: request.figures,
      given: found === undefined ? request.given : new Set([...request.given, found.key]),
      wish: request.wish,
      strength: this.question.turnedDown.get(name)?.share ?? 1,
      input,
      kick: this.kick,
      bassWith,
      render: (instance, on) => this.render(instance, input, on),
      searched: (statistic, best) => {
        this.watch.found(bestOf(statistic, best, declarationOf(address.stage)));
        return this.watch.look();
      },
    };
  }

  /** The sound that reaches a stage follows from what was solved before it, so that names what was asked. Sound is not kept. */
  private async solvedOnce(request: StageRequest, place: StagePlace, solver: StageSolver): Promise<StageSolution> {
    const { kick, bass } = this.treatment;
    const given = [...place.given].map((key) => [key, place.settings[key]]);
    const asked = JSON.stringify([kick, bass, { ...request, given }, place.strength]);
    const known = this.question.solved.get(asked);
    if (known !== undefined) return known;
    const solution = await solver(place);
    this.question.solved.set(asked, { ...solution, output: null });
    return solution;
  }

  private take(address: StageAddress, request: StageRequest, solution: StageSolution, strength: number): StageInstance {
    const instance: StageInstance = {
      stage: address.stage,
      on: solution.on,
      settings: solution.settings,
      figures: solution.figures,
    };
    this.treatment = withStage(this.treatment, address, instance);
    this.stages.push({ address, request, solution, strength });
    return instance;
  }

  private async render(
    instance: StageInstance,
    input: StereoSignal,
    on?: { input: StereoSignal; notes: readonly Note[]; hits: readonly Hit[] },
  ): Promise<StageSound> {
    const { sampleRate_Hz, notes, hits } = this.treatment;
    const context = { sampleRate_Hz, notes: on?.notes ?? notes, hits: on?.hits ?? hits };
    const heard = { signal: on?.input ?? input, firstSongSample: 0 };
    const pause = () => this.watch.look();
    const key = on === undefined ? this.kick : null;
    const { signal, meter_dB } = await renderStageWithPauses(instance, heard, context, key, pause);
    this.watch.rendered();
    return { output: signal, meter_dB };
  }
}

/** Off, but with the figures that came with the finding: a hand may switch it on. */
function leftAlone(place: StagePlace, remark: string, met: boolean | null): StageSolution {
  return { ...leftOff(place, null, remark, met), figures: place.figures };
}

/** What got worse, as a part of a sentence. */
function named({ because }: TurnedDown): string {
  return because.map((name) => name.replace(/, (.*)$/, ' ($1)')).join(' and ');
}

const SILENCE: StereoSignal = { left: new Float32Array(0), right: new Float32Array(0), sampleRate_Hz: 48_000 };

/** sum + (after - before): a sound of which one lane was treated. */
function changedBy(sum: StereoSignal, before: StereoSignal, after: StereoSignal): StereoSignal {
  const channel = (whole: Channel, old: Channel, now: Channel): Float32Array => {
    const changed = new Float32Array(whole.length);
    for (let n = 0; n < changed.length; n++) changed[n] = whole[n]! + (now[n]! - old[n]!);
    return changed;
  };
  const left = channel(sum.left, before.left, after.left);
  const mono = isMono(sum) && isMono(before) && isMono(after);
  const right = mono ? left : channel(sum.right, before.right, after.right);
  return { left, right, sampleRate_Hz: sum.sampleRate_Hz };
}
