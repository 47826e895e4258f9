/** Changes wait this long at most before they are saved. */
export const AUTOSAVE_ms = 400;

/** Saves soon after the first change that is not saved, so that work without a pause is saved as well. */
export class Autosave {
  private timer: ReturnType<typeof setTimeout> | null = null;

  constructor(private readonly save: () => Promise<void>) {}

  soon(): void {
    this.timer ??= setTimeout(() => void this.now(), AUTOSAVE_ms);
  }

  /** What waits is saved at once. */
  async now(): Promise<void> {
    if (this.timer === null) return;
    clearTimeout(this.timer);
    this.timer = null;
    await this.save();
  }

  /** Whatever waits is let go. */
  drop(): void {
    if (this.timer !== null) clearTimeout(this.timer);
    this.timer = null;
  }

  /** Saves at once when the page is hidden or left: after that it may be ended without a word. */
  watchLeaving(page: Document, window: Window): void {
    window.addEventListener('pagehide', () => void this.now());
    page.addEventListener('visibilitychange', () => page.visibilityState === 'hidden' && void this.now());
  }
}
