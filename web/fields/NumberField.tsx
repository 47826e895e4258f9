import { useRef, useState, type KeyboardEvent, type MouseEvent, type PointerEvent } from 'react';
import { draggedValue, steppedValue } from './drag-value.js';
import { sayNumberOf, sayValue } from './say-value.js';
import { typedValue } from './typed-value.js';
import type { ValueRange } from './value-range.js';
import './fields.css';

export interface NumberFieldProps {
  readonly name: string;
  readonly value: number;
  readonly unit: string;
  readonly range: ValueRange;
  /** The value that was solved; null where none was. Double click and Backspace go back to it, else to `rest`. */
  readonly solved: number | null;
  /** The declared default. */
  readonly rest: number;
  readonly tempo_bpm: number | null;
  /** A wanted result: set in the ink of wishes. */
  readonly wanted?: boolean;
  onChange(value: number): void;
  /** Where double click and Backspace do more than change the value. */
  readonly onBack?: (() => void) | undefined;
}

const MOVES_FROM_px = 3;

/** A number as a blank on a form: click to type, drag sideways, arrows, Backspace for the solved value. An ARIA slider. */
export function NumberField(props: NumberFieldProps) {
  const [typed, setTyped] = useState<string | null>(null);
  const blank = useRef<HTMLSpanElement>(null);
  if (typed !== null) {
    return (
      <TypedBlank
        {...props}
        first={typed}
        onDone={(refocus) => {
          setTyped(null);
          if (refocus) requestAnimationFrame(() => blank.current?.focus());
        }}
      />
    );
  }
  return <RestingBlank {...props} blank={blank} onType={setTyped} />;
}

function RestingBlank(
  props: NumberFieldProps & { readonly blank: React.RefObject<HTMLSpanElement | null>; onType(first: string): void },
) {
  const { name, unit, range, solved, rest, wanted, onChange, blank, onType } = props;
  const { dragged, letGo, ...drag } = useBlankDrag(props, () => onType(sayNumberOf(props.value, unit)));
  const value = dragged ?? props.value;
  const back = props.onBack ?? (() => onChange(solved ?? rest));
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key === 'Escape' && dragged !== null) {
      letGo();
      event.stopPropagation();
      return;
    }
    const stepped = steppedValue(range, value, event.key, event.shiftKey, unit);
    if (stepped !== null) onChange(stepped);
    else if (event.key === 'Backspace' || event.key === 'Delete') back();
    else if (event.key === 'Enter') onType(sayNumberOf(value, unit));
    else if (beginsValue(event.key, unit)) onType(event.key);
    else return;
    event.preventDefault();
    event.stopPropagation();
  };
  return (
    <span
      ref={blank}
      className="blank"
      data-wanted={wanted === true}
      role="slider"
      tabIndex={0}
      aria-label={name}
      aria-valuemin={range.min}
      aria-valuemax={range.max}
      aria-valuenow={value}
      aria-valuetext={`${sayValue(value, unit)}${solved === value ? ', solved' : ''}`}
      onKeyDown={onKeyDown}
      onDoubleClick={back}
      {...drag}
    >
      {solved === value && <span className="solved-bracket" aria-hidden="true" />}
      <b>{sayNumberOf(value, unit)}</b>
      {unit !== '' && <i>{unit}</i>}
    </span>
  );
}

/** A sign, a digit or a point begins a value; where it is a frequency, so does the name of a note. */
function beginsValue(key: string, unit: string): boolean {
  return /^[-+\d.,]$/.test(key) || (unit === 'Hz' && /^[A-Ga-g]$/.test(key));
}

/**
 * A drag moves the value, which is taken when it is let go; Escape takes it back. A press that does not move opens the blank
 * for typing, after a second click could have come.
 */
function useBlankDrag({ value, unit, range, onChange }: NumberFieldProps, onClick: () => void) {
  const from = useRef<{ x: number; value: number; moved: boolean; to: number } | null>(null);
  const waiting = useRef(0);
  const still = useRef(false);
  const [dragged, setDragged] = useState<number | null>(null);
  const letGo = (): void => {
    from.current = null;
    setDragged(null);
  };
  return {
    dragged,
    letGo,
    onPointerDown(event: PointerEvent<HTMLSpanElement>) {
      if (event.button !== 0) return;
      window.clearTimeout(waiting.current);
      event.currentTarget.setPointerCapture(event.pointerId);
      from.current = { x: event.clientX, value, moved: false, to: value };
    },
    onPointerMove(event: PointerEvent<HTMLSpanElement>) {
      const start = from.current;
      if (start === null) return;
      const moved = event.clientX - start.x;
      if (Math.abs(moved) >= MOVES_FROM_px) start.moved = true;
      if (!start.moved) return;
      const { width } = event.currentTarget.getBoundingClientRect();
      start.to = draggedValue(range, start.value, moved, width, event.shiftKey, unit);
      setDragged(start.to);
    },
    onPointerUp() {
      const start = from.current;
      // what was drawn may lag behind the hand
      if (start !== null && start.moved && start.to !== value) onChange(start.to);
      still.current = start !== null && !start.moved;
      letGo();
    },
    // only a click tells how many there were
    onClick({ detail }: MouseEvent) {
      window.clearTimeout(waiting.current);
      if (still.current && detail < 2) waiting.current = window.setTimeout(onClick, DOUBLE_CLICK_ms);
    },
    onPointerCancel: letGo,
  };
}

const DOUBLE_CLICK_ms = 220;

function TypedBlank({
  name,
  value,
  unit,
  range,
  tempo_bpm,
  first,
  onChange,
  onDone,
}: NumberFieldProps & { readonly first: string; onDone(refocus: boolean): void }) {
  const [text, setText] = useState(first);
  const [problem, setProblem] = useState<string | null>(null);
  const whole = first.length > 1;
  const take = (refocus: boolean): void => {
    const read = typedValue(text, range, unit, value, tempo_bpm);
    if ('problem' in read) {
      if (refocus) setProblem(read.problem);
      else onDone(false);
      return;
    }
    if (read.value !== value) onChange(read.value);
    onDone(refocus);
  };
  return (
    <span className="typed">
      <input
        className="blank-input"
        aria-label={`${name}, ${unit === '' ? 'a number' : unit}`}
        aria-invalid={problem !== null}
        value={text}
        autoFocus
        onFocus={(event) => (whole ? event.currentTarget.select() : undefined)}
        onChange={(event) => setText(event.target.value)}
        onBlur={() => take(false)}
        onKeyDown={(event) => {
          event.stopPropagation();
          if (event.key === 'Enter') take(true);
          if (event.key === 'Escape') onDone(true);
        }}
      />
      {problem !== null && (
        <span role="alert" className="typed-problem">
          {problem}
        </span>
      )}
    </span>
  );
}
