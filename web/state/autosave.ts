const DELAY_ms = 500;

/** Saves a moment after the last change, and at once when the page is left. */
export class Autosave {
  private timer: ReturnType<typeof setTimeout> | null = null;

  constructor(private readonly save: () => Promise<void>) {
    addEventListener('pagehide', () => this.now());
  }

  soon(): void {
    if (this.timer !== null) clearTimeout(this.timer);
    this.timer = setTimeout(() => this.now(), DELAY_ms);
  }

  private now(): void {
    if (this.timer === null) return;
    clearTimeout(this.timer);
    this.timer = null;
    // the session stays on the page where it cannot be stored; the title block then shows the last time it was
    this.save().catch(() => undefined);
  }
}
