import { useEffect, useRef, useState, type KeyboardEvent, type PointerEvent } from 'react';
import type { Wish } from '../../../core/wishes/wish.js';
import { sayValue, tidied } from '../../fields/say-value.js';
import { withLimit } from '../../fields/wish-sentence.js';
import { levelBracket } from '../../marks/bracket-mark.js';
import { heldUnderFinger } from '../../design/held-under-finger.js';
import { DrawingSvg } from '../../marks/DrawingSvg.js';

interface RulerWishProps {
  readonly wish: Wish;
  readonly name: string;
  readonly unit: string;
  /** The scale of the ruler and where its ends are drawn. */
  readonly range: readonly [number, number];
  readonly ends: readonly [number, number];
  onWish(wish: Wish): void;
}

const BRACKET_y = 3;
const REACH_px = 12;

/** A wish on its ruler: a bracket over what meets it, whose end is dragged or moved with the arrows; Escape takes a drag back. */
export function RulerWish({ wish, name, unit, range, ends, onWish }: RulerWishProps) {
  const [pulled, setPulled] = useState<number | null>(null);
  const grip = useRef<{ readonly x: number; readonly value: number; to: number | null } | null>(null);
  const limit = wish.low === null ? 'high' : 'low';
  const value = pulled ?? wish[limit];
  const letGo = (): void => {
    grip.current = null;
    setPulled(null);
  };
  useEffect(() => {
    if (pulled === null) return undefined;
    const hear = (event: globalThis.KeyboardEvent): void => {
      if (event.key !== 'Escape') return;
      event.stopPropagation();
      letGo();
    };
    addEventListener('keydown', hear, true);
    return () => removeEventListener('keydown', hear, true);
  });
  if (value === null) return null;
  const [from, to] = range;
  const [left, right] = ends;
  const x = left + Math.max(0, Math.min(1, (value - from) / (to - from))) * (right - left);
  const take = (next: number): void => onWish(withLimit(wish, limit, next));
  const onKeyDown = (event: KeyboardEvent): void => {
    const step = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1 }[event.key];
    if (step === undefined || event.altKey || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    event.stopPropagation();
    take(tidied(value + step * (event.shiftKey ? 0.1 : 0.5), unit));
  };
  return (
    <g
      ref={heldUnderFinger}
      className="ruler-wish"
      role="slider"
      tabIndex={0}
      aria-label={`Wanted, ${name}, ${limit === 'low' ? 'at least' : 'at most'}`}
      aria-valuemin={from}
      aria-valuemax={to}
      aria-valuenow={value}
      aria-valuetext={sayValue(value, unit)}
      onKeyDown={onKeyDown}
      onPointerDown={(event: PointerEvent<SVGGElement>) => {
        event.currentTarget.setPointerCapture(event.pointerId);
        grip.current = { x: event.clientX, value, to: null };
      }}
      onPointerMove={(event) => {
        if (grip.current === null) return;
        const moved = ((event.clientX - grip.current.x) / (right - left)) * (to - from);
        grip.current.to = tidied(grip.current.value + moved, unit);
        setPulled(grip.current.to);
      }}
      onPointerUp={() => {
        const to = grip.current?.to ?? null;
        if (to !== null && to !== wish[limit]) take(to);
        letGo();
      }}
      onPointerCancel={letGo}
    >
      <title>{`wanted: ${sayValue(value, unit)} or ${limit === 'low' ? 'more' : 'less'}; drag it`}</title>
      <DrawingSvg
        drawing={{
          strokes: [limit === 'low' ? levelBracket(x, right, BRACKET_y) : levelBracket(left, x, BRACKET_y)],
          labels: [],
        }}
      />
      <rect x={x - REACH_px} y={-3} width={2 * REACH_px} height={26} />
    </g>
  );
}
