/** Longer than this no frame is painted on where what is left can wait for the next. */
const ENOUGH_ms = 6;

/** The time that all canvases together have painted in the frame that is under way. */
class FrameTime {
  private frame_ms = -1;
  private begun_ms = 0;

  /** Whether more may be painted in this frame; the first that asks may. */
  isLeft(frame_ms: number): boolean {
    const now_ms = performance.now();
    if (frame_ms !== this.frame_ms) [this.frame_ms, this.begun_ms] = [frame_ms, now_ms];
    return now_ms - this.begun_ms <= ENOUGH_ms;
  }
}

export const frameTime = new FrameTime();
