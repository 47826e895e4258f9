import { sumOf, type StereoSignal } from '../signal/stereo-signal.js';
import type { Hit, Note } from '../song/song.js';
import { renderLanes } from '../render/render-lanes.js';
import { renderStage } from '../render/render-stage.js';
import { formatAddress, stageAt, withStage } from '../treatment/paths.js';
import type { StageAddress, StageInstance, TreatedRole, Treatment } from '../treatment/treatment.js';
import type { StageRequest } from './stage-request.js';
import { SOLVERS } from './solver-registry.js';
import type { SolveSong, StagePlace, StageSolution, StageSound } from './stage-solver.js';

/** How one stage of the path was solved. */
export interface StageSolved {
  readonly address: StageAddress;
  readonly request: StageRequest;
  readonly solution: StageSolution;
  readonly strength: number;
}

/** One walk along the whole path: the treatment it found, and the sound that leaves it. */
export interface WalkResult {
  readonly treatment: Treatment;
  readonly stages: readonly StageSolved[];
  readonly kick: StereoSignal | null;
  readonly bass: StereoSignal | null;
  /** The bass as it leaves trim, before room is made. */
  readonly bassAtTrim: StereoSignal | null;
  readonly renders: number;
}

export interface WalkQuestion {
  readonly song: SolveSong;
  /** All stages off. */
  readonly base: Treatment;
  readonly requests: readonly StageRequest[];
  /** Stages turned down: share of the amount that was solved, by address. */
  readonly strengths: ReadonlyMap<string, number>;
  /** What earlier walks of the same song solved: where nothing before a stage has changed, its solution stands. */
  readonly solved: Map<string, StageSolution>;
  readonly onStage?: (address: string) => void;
}

/** Solves every requested stage in the signal's order, each on the sound that really reaches it. */
export function walkPath(question: WalkQuestion): WalkResult {
  return new PathWalk(question).run();
}

type Lanes = { low: StereoSignal; high: StereoSignal };

class PathWalk {
  private treatment: Treatment;
  private readonly stages: StageSolved[] = [];
  private renders = 0;
  private readonly requests: ReadonlyMap<string, StageRequest>;

  constructor(private readonly question: WalkQuestion) {
    this.treatment = question.base;
    this.requests = new Map(question.requests.map((request) => [formatAddress(request.address), request]));
  }

  run(): WalkResult {
    for (const track of this.treatment.rest.tracks) {
      for (const { stage } of track.stages) this.settle({ role: 'rest', track: track.file, lane: null, stage });
    }
    const kick = this.walkRole('kick', null);
    const bass = this.walkRole('bass', kick.out);
    return {
      treatment: this.treatment,
      stages: this.stages,
      kick: kick.out,
      bass: bass.out,
      bassAtTrim: bass.atTrim,
      renders: this.renders,
    };
  }

  /** A stage whose sound need not be at hand: it takes what was given. */
  private settle(address: StageAddress): void {
    const request = this.requests.get(formatAddress(address));
    if (request === undefined) return;
    const old = stageAt(this.treatment, address)!;
    const settings = { ...old.settings, ...request.settings };
    const solution: StageSolution = {
      on: true,
      settings,
      figures: request.figures,
      now: null,
      reached: null,
      met: null,
      trials: [],
      amountKey: null,
      remark: null,
      output: null,
    };
    this.take(address, request, solution, 1);
  }

  private walkRole(
    role: 'kick' | 'bass',
    kick: StereoSignal | null,
  ): { out: StereoSignal | null; atTrim: StereoSignal | null } {
    const tracks = this.question.song.source.tracks[role];
    const treated = tracks.map(({ file, signal }) => {
      const path = this.treatment[role].tracks.find((track) => track.file === file)!;
      const at = (stage: StageInstance['stage']): StageAddress => ({ role, track: file, lane: null, stage });
      return path.stages.reduce((sound, { stage }) => this.pass(at(stage), sound, kick, (out) => out), signal);
    });
    let bus = treated.length === 1 ? treated[0]! : sumOf(treated);
    let atTrim: StereoSignal | null = null;
    if (bus === null) return { out: null, atTrim: null };
    for (const { stage } of this.treatment[role].stages) {
      if (stage === 'split') bus = this.walkLanes(role, bus, kick);
      else bus = this.pass({ role, track: null, lane: null, stage }, bus, kick, (out) => out);
      if (stage === 'trim') atTrim = bus;
    }
    return { out: bus, atTrim };
  }

  private walkLanes(role: TreatedRole, bus: StereoSignal, kick: StereoSignal | null): StereoSignal {
    const { lanes } = this.treatment[role];
    const addresses = (['low', 'high'] as const).flatMap((lane) =>
      lanes[lane].map(({ stage }): StageAddress => ({ role, track: null, lane, stage })),
    );
    if (!addresses.some((address) => this.requests.has(formatAddress(address)))) return bus;
    const splitAddress: StageAddress = { role, track: null, lane: null, stage: 'split' };
    const split = this.withGiven(splitAddress, true);
    const { low, high, sum } = renderLanes(split, bus, this.treatment);
    const untouched: Lanes = { low, high };
    const now: Lanes = { low, high };
    const bassNow = (lane: 'low' | 'high', out: StereoSignal): StereoSignal =>
      withLanes(sum, untouched, { ...now, [lane]: out });
    for (const address of addresses) {
      const lane = address.lane!;
      now[lane] = this.pass(address, now[lane], kick, (out) => bassNow(lane, out));
    }
    return now.low === low && now.high === high ? bus : withLanes(sum, untouched, now);
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
  private pass(
    address: StageAddress,
    input: StereoSignal,
    kick: StereoSignal | null,
    bassWith: (output: StereoSignal) => StereoSignal,
  ): StereoSignal {
    const name = formatAddress(address);
    const request = this.requests.get(name);
    const solver = SOLVERS[address.stage];
    if (request === undefined || solver === undefined) return input;
    this.question.onStage?.(name);
    const strength = this.question.strengths.get(name) ?? 1;
    const old = stageAt(this.treatment, address)!;
    const place: StagePlace = {
      address,
      song: this.question.song,
      settings: { ...old.settings, ...request.settings },
      figures: request.figures,
      given: request.given,
      wish: request.wish,
      strength,
      input,
      kick,
      bassWith,
      render: (instance, on) => this.render(instance, input, kick, on),
    };
    const solution: StageSolution =
      strength > 0
        ? this.solvedOnce(request, strength, () => solver(place))
        : offSolution(place, 'Off: it made another measure worse than its tolerance allows.');
    const instance = this.take(address, request, solution, strength);
    if (!solution.on) return input;
    return solution.output ?? this.render(instance, input, kick).output;
  }

  /** The sound that reaches a stage follows from what was solved before it, so that names what was asked. Sound is not kept. */
  private solvedOnce(request: StageRequest, strength: number, solve: () => StageSolution): StageSolution {
    const { kick, bass } = this.treatment;
    const asked = JSON.stringify([kick, bass, { ...request, given: [...request.given] }, strength]);
    const known = this.question.solved.get(asked);
    if (known !== undefined) return known;
    const solution = solve();
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

  private render(
    instance: StageInstance,
    input: StereoSignal,
    kick: StereoSignal | null,
    on?: { input: StereoSignal; notes: readonly Note[]; hits: readonly Hit[] },
  ): StageSound {
    this.renders += 1;
    const { sampleRate_Hz, notes, hits } = this.treatment;
    const context = { sampleRate_Hz, notes: on?.notes ?? notes, hits: on?.hits ?? hits };
    const { signal, meter_dB } = renderStage(
      instance,
      { signal: on?.input ?? input, firstSongSample: 0 },
      context,
      on === undefined ? kick : null,
    );
    return { output: signal, meter_dB };
  }
}

function offSolution(place: StagePlace, remark: string): StageSolution {
  return {
    on: false,
    settings: place.settings,
    figures: place.figures,
    now: null,
    reached: null,
    met: false,
    trials: [],
    amountKey: null,
    remark,
    output: null,
  };
}

/** sum + (treated - untouched) of both lanes; a lane that was not touched adds nothing. */
function withLanes(sum: StereoSignal, untouched: Lanes, treated: Lanes): StereoSignal {
  const left = Float64Array.from(sum.left);
  const right = Float64Array.from(sum.right);
  for (const lane of ['low', 'high'] as const) {
    if (treated[lane] === untouched[lane]) continue;
    for (let n = 0; n < left.length; n++) {
      left[n]! += treated[lane].left[n]! - untouched[lane].left[n]!;
      right[n]! += treated[lane].right[n]! - untouched[lane].right[n]!;
    }
  }
  return { left, right, sampleRate_Hz: sum.sampleRate_Hz };
}
