import { useEffect, useRef, useState, type PointerEvent } from 'react';
import type { Wish } from '../../../core/wishes/wish.js';
import { tidied } from '../../fields/say-value.js';
import { withLimit } from '../../fields/wish-sentence.js';
import { heldUnderFinger } from '../../design/held-under-finger.js';
import { DrawingSvg } from '../../marks/DrawingSvg.js';
import { tradeCurve, type TradeQuestion } from './trade-curve.js';

/** The trade curve with its wish, which can be dragged where it is drawn, and the same as a table. */
export function TradeFigure({
  question,
  width,
  height,
  title,
  onWish,
}: {
  readonly question: TradeQuestion;
  readonly width: number;
  readonly height: number;
  readonly title: string;
  onWish(wish: Wish): void;
}) {
  const [pulled, setPulled] = useState<Wish | null>(null);
  const wish = pulled ?? question.wish;
  const curve = tradeCurve({ ...question, wish }, width, height);
  const steady = useRef(curve);
  const hand = useRef<Wish | null>(null);
  const pullTo = (next: Wish | null): void => {
    hand.current = next;
    setPulled(next);
  };
  useEscape(pulled !== null, () => pullTo(null));
  const pull = (limit: 'low' | 'high') => ({
    onPointerDown(event: PointerEvent<SVGPathElement>) {
      steady.current = curve;
      event.currentTarget.setPointerCapture(event.pointerId);
      if (question.wish !== null) pullTo(question.wish);
    },
    onPointerMove(event: PointerEvent<SVGPathElement>) {
      if (hand.current === null) return;
      const top = event.currentTarget.ownerSVGElement!.getBoundingClientRect().top;
      const result = steady.current.resultAt(event.clientY - top) * question.scale;
      pullTo(withLimit(hand.current, limit, tidied(result, question.unit) / question.scale));
    },
    onPointerUp() {
      if (hand.current !== null) onWish(hand.current);
      pullTo(null);
    },
    onPointerCancel: () => pullTo(null),
  });
  return (
    <figure className="path-figure">
      <figcaption className="axis-name">{title}</figcaption>
      <svg
        width={width}
        height={height}
        viewBox={`0 0 ${width} ${height}`}
        role="img"
        aria-label={`Trade curve: ${title}`}
      >
        <DrawingSvg drawing={curve.drawing} />
        {(['low', 'high'] as const).map((limit) => {
          const y = curve.limits[limit];
          return y === null ? null : (
            <path key={limit} ref={heldUnderFinger} className="wish-handle" d={`M48 ${y}H${width}`} {...pull(limit)}>
              <title>drag what is wanted</title>
            </path>
          );
        })}
      </svg>
      <details className="as-table">
        <summary>as a table</summary>
        <table>
          <thead>
            <tr>
              <th scope="col">{question.amountName}</th>
              <th scope="col">result</th>
              <th scope="col" />
            </tr>
          </thead>
          <tbody>
            {curve.rows.map(({ amount, result, chosen }) => (
              <tr key={amount}>
                <td>{amount}</td>
                <td>{result}</td>
                <td>{chosen ? 'chosen' : ''}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </details>
    </figure>
  );
}

/** Escape while something is being dragged. */
function useEscape(dragging: boolean, takeBack: () => void): void {
  useEffect(() => {
    if (!dragging) return undefined;
    const hear = (event: KeyboardEvent): void => {
      if (event.key !== 'Escape') return;
      event.stopPropagation();
      takeBack();
    };
    addEventListener('keydown', hear, true);
    return () => removeEventListener('keydown', hear, true);
  });
}
