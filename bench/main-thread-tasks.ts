import type { Browser } from 'playwright-core';

interface TraceEvent {
  readonly ph: string;
  readonly name: string;
  readonly pid: number;
  readonly tid: number;
  /** Processor time of the thread, in microseconds. */
  readonly tdur?: number;
  readonly args: { readonly name?: string };
}

const CATEGORIES = ['toplevel', 'devtools.timeline'];

/** Processor time of every task of the pages' own threads while something is done, ms: what other threads take is not counted. */
export async function mainThreadTasks(browser: Browser, work: () => Promise<void>): Promise<number[]> {
  const session = await browser.newBrowserCDPSession();
  const events: TraceEvent[] = [];
  session.on('Tracing.dataCollected', ({ value }) => events.push(...(value as unknown as TraceEvent[])));
  const ended = new Promise<void>((done) => session.once('Tracing.tracingComplete', () => done()));
  await session.send('Tracing.start', {
    transferMode: 'ReportEvents',
    traceConfig: { recordMode: 'recordContinuously', includedCategories: CATEGORIES },
  });
  await work();
  await session.send('Tracing.end');
  await ended;
  const threadOf = ({ pid, tid }: TraceEvent) => `${pid} ${tid}`;
  const pages = new Set(
    events.filter(({ name, args }) => name === 'thread_name' && args.name === 'CrRendererMain').map(threadOf),
  );
  return events
    .filter((event) => event.ph === 'X' && event.name.endsWith('RunTask') && pages.has(threadOf(event)))
    .map(({ tdur = 0 }) => tdur / 1000);
}
