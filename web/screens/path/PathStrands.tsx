import { useRef, useState, type KeyboardEvent, type PointerEvent } from 'react';
import { heldUnderFinger } from '../../design/held-under-finger.js';
import { DrawingSvg } from '../../marks/DrawingSvg.js';
import { useKey } from '../../keys/use-keys.js';
import { frameWordsAt, type PlacedWords } from './frame-words.js';
import { movedInLane, type PathStage } from './path-stages.js';
import type { PathScreenProps } from './path-props.js';
import { solvedAt } from './path-solution.js';
import { onPaper } from './strand-course.js';
import { strandPicture, type StrandFrame, type StrandPicture } from './strand-picture.js';
import { uprightLength } from './strand-slots.js';
import { laneOrderAt } from './lane-order.js';
import './strands.css';

export interface PathStrandsProps extends PathScreenProps {
  readonly opened: string;
  readonly width: number;
  readonly depth: number;
  readonly upright: boolean;
  /** Stages that do something at the point that is read. */
  readonly lit: ReadonlySet<string>;
}

const UPRIGHT_ACROSS = 140;

/** The strands with their frames: one tab stop, arrows from frame to frame, Enter opens, { } change the order of a lane. */
export function PathStrands(props: PathStrandsProps) {
  const { treatment, width, depth, upright, opened } = props;
  const length = upright ? uprightLength(treatment) : width;
  const picture = strandPicture(treatment, { length, depth: upright ? UPRIGHT_ACROSS : depth, upright });
  const svg = useRef<SVGSVGElement>(null);
  const [focused, setFocused] = useState(opened);
  const current = picture.frames.some(({ stage }) => stage.key === focused) ? focused : picture.frames[0]?.stage.key;
  const moveStage = (by: 1 | -1) => () => {
    const moved = current === undefined ? null : movedInLane(laneOf(picture, current), current, by);
    if (moved !== null) props.onOrder(moved);
  };
  useKey('stage-earlier', moveStage(-1));
  useKey('stage-later', moveStage(1));
  const onKeyDown = (event: KeyboardEvent): void => {
    const order = picture.frames.map(({ stage }) => stage.key);
    const next = nextFrame(order, current ?? '', event.key);
    if (next !== null) {
      setFocused(next);
      svg.current?.querySelector<SVGElement>(`[data-key="${CSS.escape(next)}"]`)?.focus();
    } else if ((event.key === 'Enter' || event.key === ' ') && current !== undefined) props.onOpen(current);
    else return;
    event.preventDefault();
    event.stopPropagation();
  };
  return (
    <svg
      ref={svg}
      className="strands"
      width={width}
      height={upright ? length : depth}
      viewBox={`0 0 ${width} ${upright ? length : depth}`}
      role="group"
      aria-label="The path: arrows go from stage to stage, Enter opens one, braces move it in its lane"
      onKeyDown={onKeyDown}
      onFocus={({ target }) => {
        const key = target.closest<SVGElement>('[data-key]')?.dataset['key'];
        if (key !== undefined) setFocused(key);
      }}
    >
      <DrawingSvg drawing={{ strokes: picture.strokes, labels: picture.names }} />
      <SoloRegions picture={picture} soloed={props.soloed} onSolo={props.onSolo} />
      {picture.frames.map((frame) => (
        <Frame
          key={frame.stage.key}
          frame={frame}
          words={frameWordsAt(frame, solvedAt(props.solution, frame.stage.key), picture, { upright, width })}
          upright={upright}
          open={frame.stage.key === opened}
          lit={props.lit.has(frame.stage.key)}
          tabStop={frame.stage.key === current}
          onOpen={() => {
            setFocused(frame.stage.key);
            props.onOpen(frame.stage.key);
          }}
          onDragEnd={(along) => {
            const order = laneOrderAt(laneOf(picture, frame.stage.key), picture.slots.stages, frame.stage.key, along);
            if (order !== null) props.onOrder(order);
          }}
        />
      ))}
    </svg>
  );
}

/** The stages that a stage may change places with: those of its lane. A stage on the bus or a track keeps its place. */
function laneOf({ slots }: StrandPicture, key: string): readonly PathStage[] {
  const { low, high } = slots.bass;
  return [low, high].find((lane) => lane.some((stage) => stage.key === key)) ?? [];
}

function nextFrame(order: readonly string[], from: string, key: string): string | null {
  const at = order.indexOf(from);
  if (key === 'ArrowRight' || key === 'ArrowDown') return order[Math.min(order.length - 1, at + 1)] ?? null;
  if (key === 'ArrowLeft' || key === 'ArrowUp') return order[Math.max(0, at - 1)] ?? null;
  if (key === 'Home') return order[0] ?? null;
  return key === 'End' ? (order[order.length - 1] ?? null) : null;
}

function SoloRegions({
  picture,
  soloed,
  onSolo,
}: {
  readonly picture: StrandPicture;
  readonly soloed: string | null;
  onSolo(target: string | null): void;
}) {
  return picture.regions.map(({ solo, name, path, width }, i) => (
    <path
      key={i}
      className="solo"
      data-soloed={solo === soloed}
      d={path}
      strokeWidth={width}
      onClick={() => onSolo(solo === soloed ? null : solo)}
    >
      <title>{solo === soloed ? `hear everything again` : `hear the ${name} alone`}</title>
    </path>
  ));
}

interface FrameProps {
  readonly frame: StrandFrame;
  readonly words: PlacedWords;
  readonly upright: boolean;
  readonly open: boolean;
  readonly lit: boolean;
  readonly tabStop: boolean;
  onOpen(): void;
  onDragEnd(along: number): void;
}

function Frame({ frame, words, upright, open, lit, tabStop, onOpen, onDragEnd }: FrameProps) {
  const { stage, along, across, half } = frame;
  const [x1, y1] = onPaper({ along, across: across - half }, upright);
  const [x2, y2] = onPaper({ along, across: across + half }, upright);
  const tick = upright ? `M${x1} ${y1 - 4}v8M${x2} ${y2 - 4}v8` : `M${x1 - 4} ${y1}h8M${x2 - 4} ${y2}h8`;
  const from = useRef<number | null>(null);
  const place = (event: PointerEvent): number => (upright ? event.clientY : event.clientX);
  const [moved, setMoved] = useState(0);
  return (
    <g
      ref={stage.address.lane === null ? null : heldUnderFinger}
      className="frame"
      data-key={stage.key}
      data-on={stage.instance.on}
      data-open={open}
      data-lit={lit}
      role="button"
      tabIndex={tabStop ? 0 : -1}
      aria-pressed={open}
      aria-label={words.says}
      transform={moved === 0 ? undefined : upright ? `translate(0 ${moved})` : `translate(${moved} 0)`}
      onClick={onOpen}
      onPointerDown={(event) => {
        if (stage.address.lane === null) return;
        from.current = place(event);
        event.currentTarget.setPointerCapture(event.pointerId);
      }}
      onPointerMove={(event) => from.current !== null && setMoved(place(event) - from.current)}
      onPointerUp={(event) => {
        const by = from.current === null ? 0 : place(event) - from.current;
        if (Math.abs(by) > 6) onDragEnd(along + by);
        from.current = null;
        setMoved(0);
      }}
      onPointerCancel={() => {
        from.current = null;
        setMoved(0);
      }}
    >
      <path className="frame-hit" d={`M${x1} ${y1}L${x2} ${y2}`} />
      <rect className="frame-focus" {...words.box} />
      <path className="frame-line" d={`M${x1} ${y1}L${x2} ${y2}${tick}`} />
      <DrawingSvg drawing={{ strokes: words.strokes, labels: words.labels }} />
    </g>
  );
}
