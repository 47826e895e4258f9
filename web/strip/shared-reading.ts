import { createContext, useContext, useSyncExternalStore } from 'react';

/**
 * The one point of the song that is read: under the pointer or the keyboard in one picture, or pinned. Strip, evidence and path
 * all draw it, without the page being drawn anew.
 */
export class SharedReading {
  private pointed_s: number | null = null;
  private pinned_s: number | null = null;
  private readonly listeners = new Set<() => void>();

  /** What is pointed at, else what is pinned; null for nothing. */
  get time_s(): number | null {
    return this.pointed_s ?? this.pinned_s;
  }

  point(time_s: number | null): void {
    this.change(() => (this.pointed_s = time_s));
  }

  pin(time_s: number | null): void {
    this.change(() => (this.pinned_s = time_s));
  }

  /** @returns what ends the subscription. */
  readonly subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  private change(set: () => void): void {
    const before = this.time_s;
    set();
    if (this.time_s !== before) for (const listener of this.listeners) listener();
  }
}

export const SharedReadingContext = createContext(new SharedReading());

/** The point that is read anywhere on the page, in seconds; null for none. */
export function useReadTime(): number | null {
  const reading = useContext(SharedReadingContext);
  return useSyncExternalStore(reading.subscribe, () => reading.time_s);
}
