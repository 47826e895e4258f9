import { lengthOf, moved, pinched, time_of, zoomed, type StripView } from './strip-view.js';
import type { StripWindow } from './strip-window.js';

/** What the pointer asks for on the strip. */
export interface GestureEars {
  readonly window: StripWindow;
  duration_s(): number;
  /** The pointer stands over a time, or has left. */
  onPoint(time_s: number | null): void;
  /** A plain click or tap. */
  onPick(time_s: number): void;
  /** A stretch drawn with Shift or by a held finger, or an edge of the loop dragged; called once it is let go. */
  onStretch(from_s: number, to_s: number): void;
  /** The stretch while it is being drawn. */
  onDrawing(from_s: number, to_s: number): void;
  /** What was being drawn is not wanted after all. */
  onTakenBack(): void;
  loop(): readonly [number, number] | null;
}

const CLICK_WITHIN_px = 4;
/** A finger that rests for this long draws a stretch from where it lies; before that it moves the paper or the page. */
const HOLD_ms = 450;
/** Fingers that lie closer count as this far apart. */
const LEAST_APART_px = 20;
/** How near the loop's edge is taken: closer by mouse than by finger. */
const EDGE_WITHIN_px = { mouse: 6, pen: 8, touch: 14 };

/**
 * Wheel moves, Ctrl wheel and pinch zoom, dragging moves the paper, Shift with dragging or a held finger draws a stretch, an
 * edge of the loop can be dragged.
 * @returns what ends the listening.
 */
export function listenToGestures(element: HTMLElement, ears: GestureEars): () => void {
  const gestures = new StripGestures(element, ears);
  const wheel = (event: WheelEvent): void => gestures.wheel(event);
  const down = (event: PointerEvent): void => gestures.down(event);
  const move = (event: PointerEvent): void => gestures.move(event);
  const up = (event: PointerEvent): void => gestures.up(event);
  const leave = (): void => ears.onPoint(null);
  const escape = (event: KeyboardEvent): void => {
    if (event.key === 'Escape' && gestures.takeBack()) event.stopPropagation();
  };
  // while a finger draws a stretch the page stands still, and no menu comes up under it
  const stand = (event: Event): void => {
    if (gestures.drawsByFinger) event.preventDefault();
  };
  element.addEventListener('touchmove', stand, { passive: false });
  element.addEventListener('contextmenu', stand);
  element.addEventListener('wheel', wheel, { passive: false });
  element.addEventListener('pointerdown', down);
  element.addEventListener('pointermove', move);
  element.addEventListener('pointerup', up);
  element.addEventListener('pointercancel', up);
  element.addEventListener('pointerleave', leave);
  addEventListener('keydown', escape, true);
  return () => {
    gestures.end();
    removeEventListener('keydown', escape, true);
    element.removeEventListener('touchmove', stand);
    element.removeEventListener('contextmenu', stand);
    element.removeEventListener('wheel', wheel);
    element.removeEventListener('pointerdown', down);
    element.removeEventListener('pointermove', move);
    element.removeEventListener('pointerup', up);
    element.removeEventListener('pointercancel', up);
    element.removeEventListener('pointerleave', leave);
  };
}

/** A drag as it began: moving the paper, or drawing a stretch from a fixed time. */
type Drag =
  { readonly kind: 'paper'; readonly view: StripView } | { readonly kind: 'stretch'; readonly fixed_s: number };

class StripGestures {
  private readonly pointers = new Map<number, number>();
  private drag: Drag | null = null;
  private start_x = 0;
  private far = false;
  private held = 0;
  /** A finger draws a stretch, or drags an edge of the loop. */
  drawsByFinger = false;
  private pinch: { readonly apart: number; readonly view: StripView; readonly about_s: number } | null = null;

  constructor(
    private readonly element: HTMLElement,
    private readonly ears: GestureEars,
  ) {}

  wheel(event: WheelEvent): void {
    event.preventDefault();
    const { window, duration_s } = this.ears;
    const unit = event.deltaMode === 1 ? 16 : 1;
    if (event.ctrlKey) {
      const about_s = this.timeAt(this.x(event));
      window.set(zoomed(window.view, Math.exp(0.0025 * unit * event.deltaY), about_s, duration_s()));
      return;
    }
    const pixels = unit * (Math.abs(event.deltaX) > Math.abs(event.deltaY) ? event.deltaX : event.deltaY);
    window.set(moved(window.view, (pixels / this.width()) * lengthOf(window.view), duration_s()));
  }

  down(event: PointerEvent): void {
    if (event.button !== 0) return;
    this.element.setPointerCapture(event.pointerId);
    const x = this.x(event);
    this.pointers.set(event.pointerId, x);
    if (this.pointers.size === 2) {
      const [a, b] = [...this.pointers.values()] as [number, number];
      this.pinch = { apart: Math.abs(a - b), view: this.ears.window.view, about_s: this.timeAt((a + b) / 2) };
      this.letGo();
      return;
    }
    this.start_x = x;
    this.far = false;
    const other_s = this.otherEdge(x, event.pointerType);
    if (other_s !== null) this.drag = { kind: 'stretch', fixed_s: other_s };
    else if (event.shiftKey) this.drag = { kind: 'stretch', fixed_s: this.timeAt(x) };
    else this.drag = { kind: 'paper', view: this.ears.window.view };
    if (event.pointerType !== 'touch') return;
    if (this.drag.kind === 'stretch') this.drawsByFinger = true;
    else this.held = window.setTimeout(() => this.holds(x), HOLD_ms);
  }

  move(event: PointerEvent): void {
    const x = this.x(event);
    if (this.pointers.has(event.pointerId)) this.pointers.set(event.pointerId, x);
    if (this.pinch !== null) return this.pinched(this.pinch);
    if (this.drag === null) return this.ears.onPoint(this.timeAt(x));
    if (Math.abs(x - this.start_x) > CLICK_WITHIN_px) this.far = true;
    if (!this.far) return;
    window.clearTimeout(this.held);
    if (this.drag.kind === 'stretch') {
      const at_s = this.timeAt(x);
      return this.ears.onDrawing(Math.min(at_s, this.drag.fixed_s), Math.max(at_s, this.drag.fixed_s));
    }
    const { view } = this.drag;
    const by_s = ((this.start_x - x) / this.width()) * lengthOf(view);
    this.ears.window.set(moved(view, by_s, this.ears.duration_s()));
  }

  up(event: PointerEvent): void {
    const { drag, far } = this;
    const known = this.pointers.delete(event.pointerId);
    if (this.pinch !== null) {
      if (this.pointers.size === 0) this.pinch = null;
      return;
    }
    this.letGo();
    if (event.type === 'pointercancel') this.ears.onTakenBack();
    if (!known || drag === null || event.type === 'pointercancel') return;
    const at_s = this.timeAt(this.x(event));
    if (!far) this.ears.onPick(at_s);
    else if (drag.kind === 'stretch') {
      if (at_s === drag.fixed_s) this.ears.onTakenBack();
      else this.ears.onStretch(Math.min(at_s, drag.fixed_s), Math.max(at_s, drag.fixed_s));
    }
  }

  /** No stretch begins any more. */
  end(): void {
    window.clearTimeout(this.held);
  }

  private letGo(): void {
    this.end();
    this.drag = null;
    this.drawsByFinger = false;
  }

  /** The finger has rested: what is drawn from here on begins where it lies. */
  private holds(x: number): void {
    if (this.drag?.kind !== 'paper' || this.far) return;
    const fixed_s = this.timeAt(x);
    this.drag = { kind: 'stretch', fixed_s };
    this.far = true;
    this.drawsByFinger = true;
    this.ears.onDrawing(fixed_s, fixed_s);
  }

  /** Ends a drag as if it had not begun. @returns whether one was under way. */
  takeBack(): boolean {
    if (this.drag === null || !this.far) return false;
    if (this.drag.kind === 'paper') this.ears.window.set(this.drag.view);
    else this.ears.onTakenBack();
    this.letGo();
    return true;
  }

  private pinched({ apart, view, about_s }: NonNullable<StripGestures['pinch']>): void {
    const [a, b] = [...this.pointers.values()] as [number, number];
    const factor = Math.max(LEAST_APART_px, apart) / Math.max(LEAST_APART_px, Math.abs(a - b));
    const middle = (a + b) / 2 / this.width();
    this.ears.window.set(pinched(view, factor, about_s, middle, this.ears.duration_s()));
  }

  /** The edge of the loop that stays where it is when the one under the pointer is dragged. */
  private otherEdge(x: number, pointer: string): number | null {
    const loop = this.ears.loop();
    if (loop === null) return null;
    const within = EDGE_WITHIN_px[pointer as keyof typeof EDGE_WITHIN_px] ?? EDGE_WITHIN_px.mouse;
    const { view } = this.ears.window;
    const edge_x = loop.map((edge_s) => ((edge_s - view.from_s) / lengthOf(view)) * this.width());
    if (Math.abs(edge_x[0]! - x) <= within) return loop[1];
    return Math.abs(edge_x[1]! - x) <= within ? loop[0] : null;
  }

  private x(event: MouseEvent): number {
    return event.clientX - this.element.getBoundingClientRect().left;
  }

  private width(): number {
    return Math.max(1, this.element.clientWidth);
  }

  private timeAt(x: number): number {
    return Math.max(0, Math.min(this.ears.duration_s(), time_of(this.ears.window.view, this.width(), x)));
  }
}
