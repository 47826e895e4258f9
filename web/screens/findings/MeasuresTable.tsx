import { Fragment } from 'react';
import { MEASURE_HELP } from '../../../core/wishes/measure-help.js';
import type { Wish } from '../../../core/wishes/wish.js';
import type { Measurements } from '../../../core/measure/measurements.js';
import { diamondMark } from '../../marks/diamond-mark.js';
import type { Drawing } from '../../marks/drawing.js';
import { DrawingSvg } from '../../marks/DrawingSvg.js';
import { pathData } from '../../marks/path-data.js';
import { levelTolerance } from '../../marks/tolerance-mark.js';
import { RulerWish } from './RulerWish.js';
import { measureRows, rulerRange, type MeasureRow } from './measure-rows.js';

interface MeasuresTableProps {
  readonly measured: Measurements;
  readonly treated: Measurements | null;
  /** Wishes that stand, by their statistic; they are drawn on the ruler of their measure and dragged there. */
  readonly wishes?: ReadonlyMap<string, Wish>;
  readonly onWish?: (wish: Wish) => void;
}

/** The six measures, each on its ruler with its tolerance shaded. */
export function MeasuresTable({ measured, treated, wishes, onWish }: MeasuresTableProps) {
  return (
    <section className="measures" aria-label="The six measures">
      <h2>
        The six measures <small>whole song; shaded: tolerance</small>
      </h2>
      <table data-treated={treated !== null}>
        <thead>
          <tr>
            <th scope="col">Measure</th>
            <th scope="col" data-numbers="true">
              Source
            </th>
            <th scope="col" className="measures-second">
              <span className="seen-by-ear">second reading</span>
            </th>
            {treated !== null && (
              <th scope="col" data-numbers="true">
                Treated
              </th>
            )}
            <th scope="col">
              <span className="seen-by-ear">ruler</span>
            </th>
            <th scope="col" className="measures-tolerance">
              Tolerance
            </th>
          </tr>
        </thead>
        <tbody>
          {measureRows(measured, treated).map((row) => (
            <MeasureLine
              key={row.id}
              row={row}
              withTreated={treated !== null}
              wish={wishes?.get(row.address) ?? null}
              onWish={onWish}
            />
          ))}
        </tbody>
      </table>
      <details className="findings-help">
        <summary>What each reads, and when it misleads</summary>
        <dl>
          {measureRows(measured, null).map(({ id, name }) => {
            const { reads, source, misleads } = MEASURE_HELP[id];
            return (
              <Fragment key={id}>
                <dt>{name}</dt>
                <dd>
                  {reads} {misleads} <em>{source}</em>
                </dd>
              </Fragment>
            );
          })}
        </dl>
      </details>
    </section>
  );
}

interface MeasureLineProps {
  readonly row: MeasureRow;
  readonly withTreated: boolean;
  readonly wish: Wish | null;
  readonly onWish: ((wish: Wish) => void) | undefined;
}

function MeasureLine({ row, withTreated, wish, onWish }: MeasureLineProps) {
  return (
    <tr title={row.means}>
      <th scope="row">{row.name}</th>
      {row.reason === null ? (
        <>
          <td data-numbers="true">
            <b>{row.shown}</b>&nbsp;{row.unit}
          </td>
          <td className="measures-second">{row.second}</td>
          {withTreated && (
            <td data-numbers="true">
              <b>{row.treatedShown}</b>
            </td>
          )}
        </>
      ) : (
        <td colSpan={withTreated ? 3 : 2} className="measures-second">
          Not measured: {row.reason}
        </td>
      )}
      <td>
        <Ruler row={row} wish={wish} onWish={onWish} />
      </td>
      <td className="measures-tolerance">{row.toleranceShown}</td>
    </tr>
  );
}

const WIDTH = 84;
const EDGE = 6;

function Ruler({ row, wish, onWish }: Omit<MeasureLineProps, 'withTreated'>) {
  return (
    <svg width={WIDTH} height={20} viewBox={`0 0 ${WIDTH} 20`}>
      <g aria-hidden="true">
        <DrawingSvg drawing={rulerDrawing(row)} />
      </g>
      {wish !== null && onWish !== undefined && (
        <RulerWish
          {...{ wish, onWish }}
          name={row.means}
          unit={row.unit}
          range={rulerRange(row)}
          ends={[EDGE, WIDTH - EDGE]}
        />
      )}
    </svg>
  );
}

function rulerDrawing(row: MeasureRow): Drawing {
  const [from, to] = rulerRange(row);
  const x = (value: number): number =>
    Math.round(10 * (EDGE + ((value - from) / (to - from)) * (WIDTH - 2 * EDGE))) / 10;
  const { tolerance, better, value, treated } = row;
  const ends = better === 'higher' ? { left: true, right: false } : { left: false, right: true };
  const shaded =
    tolerance === null
      ? []
      : levelTolerance(
          better === 'higher' ? x(tolerance) : EDGE,
          better === 'higher' ? WIDTH - EDGE : x(tolerance),
          10,
          10,
          ends,
        );
  return {
    strokes: [
      ...shaded,
      {
        path: pathData.level(EDGE, WIDTH - EDGE, 10),
        ink: 'rule-strong',
        width: 1,
        ...(value === null ? { dash: [2, 3] } : {}),
      },
      ...(value !== null && treated !== null
        ? [{ path: pathData.level(x(value), x(treated), 10), ink: 'ink' as const, width: 1.5 }]
        : []),
      ...(value === null ? [] : [diamondMark(x(value), 10, 'source')]),
      ...(treated === null ? [] : [diamondMark(x(treated), 10, 'treated', 4)]),
    ],
    labels: [],
  };
}
