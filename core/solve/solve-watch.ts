import { statisticAt } from '../wishes/statistics.js';
import type { StageDeclaration } from '../treatment/stage.js';

/** Asked between renders and inside long ones, so that a host can answer its listeners and end the work. */
export interface Checkpoint {
  (): Promise<'go on' | 'stop'>;
}

/** The best result of the stage under way: a figure of a measure, or the stage's own. */
export interface BestSoFar {
  readonly statistic: string;
  readonly name: string;
  readonly value: number;
  readonly unit: string;
}

/** How far solving has come. */
export interface SolveProgress {
  /** Address of the stage under way; null while the whole song is measured. */
  readonly stage: string | null;
  readonly renders: number;
  /** An estimate, never under `renders`. */
  readonly aboutRenders: number;
  readonly best: BestSoFar | null;
}

/** Told what is being done, how much of how much is done, and where the search stands. */
export interface SolveListener {
  (what: string, done: number, total: number, solving: SolveProgress): void;
}

/**
 * Counts renders, tells the host how far solving has come and hears from it whether to go on. Once it has heard `stop` it asks
 * no more: what is under way is brought to its end.
 */
export class SolveWatch {
  renders = 0;
  private what = 'solving';
  private stage: string | null = null;
  private best: BestSoFar | null = null;
  private heard = false;
  /** Where the stage under way stood as `stop` was heard. */
  bestWhenStopped: BestSoFar | null = null;

  constructor(
    private readonly expectedRenders: number,
    private readonly listener?: SolveListener,
    private readonly checkpoint?: Checkpoint,
  ) {}

  get stopped(): boolean {
    return this.heard;
  }

  /** @param stage its address, null for the whole song. */
  begin(what: string, stage: string | null): void {
    this.what = what;
    if (stage !== null) this.best = null;
    this.stage = stage;
    this.tell();
  }

  rendered(): void {
    this.renders += 1;
    this.tell();
  }

  found(best: BestSoFar): void {
    this.best = best;
    this.tell();
  }

  /** Lets the host have its say. @returns true where the work is to end. */
  async look(): Promise<boolean> {
    if (this.heard || this.checkpoint === undefined) return this.heard;
    this.heard = (await this.checkpoint()) === 'stop';
    if (this.heard) this.bestWhenStopped = this.best;
    return this.heard;
  }

  private tell(): void {
    const aboutRenders = Math.max(this.expectedRenders, this.renders + (this.stage === null ? 0 : 1));
    const { stage, renders, best } = this;
    this.listener?.(this.what, renders, aboutRenders, { stage, renders, aboutRenders, best });
  }
}

/** A stage's result by the name and unit of its statistic. */
export function bestOf(statistic: string, value: number, declaration: StageDeclaration): BestSoFar {
  const measured = statisticAt(statistic);
  const { name, unit } = measured ?? declaration.wish ?? { name: statistic, unit: '' };
  return { statistic, name, value, unit };
}

/** `−12.9 LU, carry on a laptop`. */
export function formatBest({ name, value, unit }: BestSoFar): string {
  const shown = (unit === '%' ? 100 * value : value).toFixed(unit === '%' ? 0 : 1).replace('-', '\u2212');
  return `${shown}${unit === '' ? '' : ` ${unit}`}, ${name}`;
}
