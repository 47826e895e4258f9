/** One value that the page shows and that tells when it changes. */
export class StateStore<State> {
  private readonly listeners = new Set<() => void>();

  constructor(private current: State) {}

  readonly read = (): State => this.current;

  /** @returns what ends the subscription. */
  readonly subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  set(change: Partial<State>): void {
    this.current = { ...this.current, ...change };
    for (const listener of this.listeners) listener();
  }
}
