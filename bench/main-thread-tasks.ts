import type { Page } from 'playwright-core';

interface TraceEvent {
  readonly ph: string;
  readonly name: string;
  readonly pid: number;
  readonly tid: number;
  /** Processor time of the thread, in microseconds. */
  readonly tdur?: number;
}

const CATEGORIES = ['toplevel', 'devtools.timeline', 'blink.user_timing'];
/** Set by the page itself, so that its thread is known among those of the browser's own pages. */
const MARK = 'keelson-page';

/** Processor time of every task of the page's own thread while something is done, ms: what other threads take is not counted. */
export async function mainThreadTasks(page: Page, work: () => Promise<void>): Promise<number[]> {
  const session = await page.context().browser()!.newBrowserCDPSession();
  const events: TraceEvent[] = [];
  session.on('Tracing.dataCollected', ({ value }) => {
    for (const event of value) events.push(event as unknown as TraceEvent);
  });
  const ended = new Promise<void>((done) => session.once('Tracing.tracingComplete', () => done()));
  await session.send('Tracing.start', {
    transferMode: 'ReportEvents',
    traceConfig: { recordMode: 'recordContinuously', includedCategories: CATEGORIES },
  });
  await page.evaluate((mark) => performance.mark(mark), MARK);
  await work();
  await session.send('Tracing.end');
  await ended;
  const own = events.find(({ name }) => name === MARK);
  if (own === undefined) throw new Error('the trace holds nothing of the page');
  return events
    .filter(({ ph, name, pid, tid }) => ph === 'X' && name.endsWith('RunTask') && pid === own.pid && tid === own.tid)
    .map(({ tdur = 0 }) => tdur / 1000);
}
