import type { StripView } from './strip-view.js';

/** The stretch of song in sight, shared by canvas, box and readings without going through React. */
export class StripWindow {
  private readonly listeners = new Set<() => void>();

  constructor(private current: StripView) {}

  get view(): StripView {
    return this.current;
  }

  set(view: StripView): void {
    if (view.from_s === this.current.from_s && view.to_s === this.current.to_s) return;
    this.current = view;
    for (const listener of this.listeners) listener();
  }

  /** @returns what ends the subscription. */
  readonly subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };
}
