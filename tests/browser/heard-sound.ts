import type { Page } from 'playwright-core';

type ListeningWindow = typeof globalThis & { keelsonHeard?: AnalyserNode[] };

/** Puts an ear beside every way out of the page, before the page is loaded. */
export async function listenToPage(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const heard: AnalyserNode[] = [];
    (globalThis as ListeningWindow).keelsonHeard = heard;
    const connect = AudioNode.prototype.connect as (this: AudioNode, ...words: unknown[]) => unknown;
    const overheard = function (this: AudioNode, ...words: unknown[]): unknown {
      if (words[0] instanceof AudioDestinationNode && this.context instanceof AudioContext) {
        const ear = new AnalyserNode(this.context, { fftSize: 32_768 });
        connect.call(this, ear);
        heard.push(ear);
      }
      return connect.apply(this, words);
    };
    Object.assign(AudioNode.prototype, { connect: overheard });
  });
}

/** How many ways out there are; none before the sound was opened. */
export function waysOut(page: Page): Promise<number> {
  return page.evaluate(() => (globalThis as ListeningWindow).keelsonHeard?.length ?? 0);
}

/** The highest absolute sample of the last two thirds of a second that went out. */
export function heardPeak(page: Page): Promise<number> {
  return page.evaluate(() => {
    const samples = new Float32Array(32_768);
    const ears = ((globalThis as ListeningWindow).keelsonHeard ?? []).filter(
      ({ context }) => context.state !== 'closed',
    );
    const peaks = ears.map((ear) => {
      ear.getFloatTimeDomainData(samples);
      return samples.reduce((peak, sample) => Math.max(peak, Math.abs(sample)), 0);
    });
    return Math.max(0, ...peaks);
  });
}

/** Seconds of sound that went out since it was opened: what a test of sound waits by. */
export function sounded_s(page: Page): Promise<number> {
  return page.evaluate(() => (globalThis as ListeningWindow).keelsonHeard?.[0]?.context.currentTime ?? 0);
}

/** Takes the sound from the page as the browser or a lost device does: for a while, or for good. */
export async function takeSound(page: Page, how: 'suspend' | 'close'): Promise<void> {
  await page.evaluate(async (act) => {
    const ear = (globalThis as ListeningWindow).keelsonHeard!.at(-1)!;
    await (ear.context as AudioContext)[act]();
  }, how);
}
