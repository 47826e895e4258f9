import type { StageSolved } from '../../../core/solve/path-walk.js';
import type { Trial } from '../../../core/solve/bounded-search.js';
import type { SettingDeclaration, StageDeclaration } from '../../../core/treatment/stage.js';
import { declarationOf } from '../../../core/treatment/stage-registry.js';
import type { Wish } from '../../../core/wishes/wish.js';
import { parseWish } from '../../../core/wishes/wish-text.js';
import { WishSentence } from '../../fields/WishSentence.js';
import { Balloon } from '../../marks/Balloon.js';
import { DrawingSvg } from '../../marks/DrawingSvg.js';
import { KeyCap } from '../../keys/KeyCap.js';
import { useKey } from '../../keys/use-keys.js';
import type { PathScreenProps } from './path-props.js';
import { solvedAt } from './path-solution.js';
import type { PathStage } from './path-stages.js';
import { PlaceInLane } from './PlaceInLane.js';
import { StageSettings } from './StageSettings.js';
import { stageAccount } from './stage-account.js';
import { stageAtWork } from './stage-at-work.js';
import type { SongPoint } from './stages-at-point.js';
import { askedWish, shownUnit } from './stage-words.js';
import { TradeFigure } from './TradeFigure.js';
import { drawWorkPlot } from './work-plot.js';

export interface OpenStageProps extends PathScreenProps {
  readonly stage: PathStage;
  readonly figure: { readonly width: number; readonly height: number };
  /** What is read in the song: the stage is drawn at work there. */
  readonly point: SongPoint;
}

/** The open stage as detail A: its wish as a sentence, what it buys, the stage at work, its settings. */
export function OpenStage(props: OpenStageProps) {
  return (
    <section className="open-stage" aria-label={`Open: ${declarationOf(props.stage.address.stage).name}`}>
      <StageWish {...props} />
      <StageTrade {...props} />
      <StageWork {...props} />
      <StageSettings {...props} />
    </section>
  );
}

function StageWish({
  stage,
  treatment,
  solution,
  measured,
  byHand,
  onWish,
  without,
  onStage,
  onWithout,
  onSolve,
  onSetting,
  onOrder,
  unsolved,
  wishes,
}: OpenStageProps) {
  const { name, help, source, wish: declared } = declarationOf(stage.address.stage);
  const solved = solvedAt(solution, stage.key);
  const proposed = declared === null ? null : parseWish(declared.statistic, declared.default);
  const wish = standingWish(wishes, solved, declared) ?? proposed;
  const hand = [...byHand].some((address) => address.startsWith(`${stage.key}.`));
  const { on } = stage.instance;
  const amount =
    solved?.solution.amountKey ??
    declarationOf(stage.address.stage).settings.find(({ kind }) => kind === 'number')?.key;
  const setByHand = () => onSetting(`${stage.key}.${amount}`, stage.instance.settings[amount ?? '']!);
  useKey('by-hand', amount === undefined ? null : setByHand);
  useKey('stage-switch', () => onStage(stage.key, !on));
  const leftOut = without === stage.key;
  useKey('without', on || leftOut ? () => onWithout(leftOut ? null : stage.key) : null);
  return (
    <div className="open-part">
      <h2>
        <Balloon mark="A" chosen /> {name} <small>{placeOf(stage)}</small>
      </h2>
      {declared !== null && wish !== null && (
        <WishSentence
          wish={wish}
          declared={declared}
          shown={shownUnit(wish.statistic, declared.unit)}
          proposed={proposed ?? wish}
          present={[solved?.solution.now, solved?.solution.reached].filter((value) => typeof value === 'number')}
          onWish={(next) => onWish(stage.key, next)}
        />
      )}
      <dl className="account">
        {stageAccount({
          ...{ stage, solved, solution, measured, hand, unsolved },
          hitCount: treatment.hits.length,
        }).map(({ term, says }) => (
          <div key={term}>
            <dt>{term}</dt>
            <dd>{says}</dd>
          </div>
        ))}
      </dl>
      <p className="acts">
        <button type="button" className="act" onClick={onSolve}>
          {solved === null ? 'Solve' : 'Solve again'}
          <KeyCap action="solve" />
        </button>
        {amount !== undefined && (
          <button type="button" className="act-quiet" onClick={setByHand}>
            Set by hand
            <KeyCap action="by-hand" />
          </button>
        )}
        <button type="button" className="act-quiet" onClick={() => onStage(stage.key, !on)}>
          {on ? 'Turn off' : 'Turn on'}
          <KeyCap action="stage-switch" />
        </button>
        {(on || leftOut) && (
          <button
            type="button"
            className="act-quiet"
            aria-pressed={leftOut}
            onClick={() => onWithout(leftOut ? null : stage.key)}
          >
            Hear without it
            <KeyCap action="without" />
          </button>
        )}
        <PlaceInLane {...{ stage, treatment, onOrder }} />
      </p>
      <details className="stage-help">
        <summary>What it does, and when to leave it off</summary>
        <p>{help}</p>
        <p>Source: {source}</p>
      </details>
    </div>
  );
}

/** What is wished of a stage now, whether or not it is solved for that already. */
function standingWish(
  wishes: OpenStageProps['wishes'],
  solved: StageSolved | null,
  declared: StageDeclaration['wish'],
): Wish | null {
  const asked = askedWish(solved);
  return wishes.get(asked?.statistic ?? declared?.statistic ?? '') ?? asked;
}

function placeOf({ address: { role, track, lane } }: PathStage): string {
  if (track !== null) return track;
  return lane === null ? `on the whole ${role}` : `${lane} lane of the ${role}`;
}

function StageTrade({ stage, solution, figure, wishes, onWish }: OpenStageProps) {
  const { settings, wish: declared } = declarationOf(stage.address.stage);
  const solved = solvedAt(solution, stage.key);
  if (solved === null || declared === null || solved.solution.trials.length === 0) {
    return (
      <div className="open-part">
        <p className="axis-name">what each step buys</p>
        <p className="not-drawn">{whyNoCurve(solved !== null, declared !== null)}</p>
      </div>
    );
  }
  const { trials, amountKey, now, reached, on } = solved.solution;
  const setting = settings.find(({ key }) => key === amountKey);
  const { unit, scale } = shownUnit(askedWish(solved)?.statistic ?? declared.statistic, declared.unit);
  const amount = amountKey === null ? NaN : Number(solved.solution.settings[amountKey]);
  const question = {
    trials: fromNothing(trials, setting, now),
    chosen: on && reached !== null && Number.isFinite(amount) ? { amount, result: reached } : null,
    now,
    wish: standingWish(wishes, solved, declared),
    unit,
    scale,
    amountName: setting?.name ?? 'amount',
    amountUnit: setting?.unit ?? '',
  };
  return (
    <div className="open-part">
      <TradeFigure question={question} {...figure} title={declared.name} onWish={(next) => onWish(stage.key, next)} />
    </div>
  );
}

/** An amount of 0 is the stage without effect: what was measured without it belongs on the curve. */
function fromNothing(
  trials: readonly Trial[],
  setting: SettingDeclaration | undefined,
  now: number | null,
): readonly Trial[] {
  return setting?.min === 0 && now !== null ? [...trials, { amount: 0, result: now }] : trials;
}

function whyNoCurve(solved: boolean, wishes: boolean): string {
  if (!wishes) return 'No result is wanted of this stage; it follows its settings.';
  return solved
    ? 'No renders were needed: the setting follows from the measurement in one step.'
    : 'Not solved yet. Say what is wanted, then solve: every render tried will stand here.';
}

function StageWork({ stage, treatment, figure, point }: OpenStageProps) {
  const plot = stageAtWork(treatment, stage.instance, point);
  if (plot === null) {
    return (
      <div className="open-part">
        <p className="axis-name">at work</p>
        <p className="not-drawn">{declarationOf(stage.address.stage).source}</p>
      </div>
    );
  }
  return (
    <div className="open-part">
      <figure className="path-figure">
        <figcaption className="axis-name">{plot.title}</figcaption>
        <svg {...figure} viewBox={`0 0 ${figure.width} ${figure.height}`} role="img" aria-label={plot.title}>
          <DrawingSvg drawing={drawWorkPlot(plot, figure.width, figure.height)} />
        </svg>
      </figure>
    </div>
  );
}
