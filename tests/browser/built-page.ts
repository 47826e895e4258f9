import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, BrowserContext, BrowserContextOptions, Locator, Page } from 'playwright-core';
import { repositoryRoot } from '../repository-root.js';
import { drawn } from './drawn.js';
import { openBrowser } from './find-browser.js';
import type { SongFiles } from './song-files.js';

const { serveSite } = (await import(pathToFileURL(join(repositoryRoot, 'scripts', 'site-server.mjs')).href)) as {
  serveSite(folder: string): Promise<{ readonly address: string; close(): Promise<void> }>;
};

/** Long enough for a machine that is busy with other things; nothing waits for it to pass. */
const PATIENCE_ms = 240_000;

/** The built page, served under its own policy, in a browser that reaches nothing else. */
export class BuiltPage {
  private constructor(
    readonly browser: Browser,
    private readonly site: Awaited<ReturnType<typeof serveSite>>,
  ) {}

  static async open(): Promise<BuiltPage> {
    const [site, browser] = await Promise.all([serveSite(join(repositoryRoot, 'dist', 'site')), openBrowser()]);
    return new BuiltPage(browser, site);
  }

  get address(): string {
    return this.site.address;
  }

  /** What a new user has: nothing stored. */
  async newUser(options: BrowserContextOptions = {}, prepare?: (page: Page) => Promise<void>): Promise<Sheet> {
    const context = await this.browser.newContext({ viewport: { width: 1440, height: 900 }, ...options });
    return this.newTab(context, prepare);
  }

  /** One more tab of the same user; `prepare` is done before the page is loaded. */
  async newTab(context: BrowserContext, prepare?: (page: Page) => Promise<void>): Promise<Sheet> {
    const sheet = new Sheet(await context.newPage(), this.address);
    await sheet.record();
    await prepare?.(sheet.page);
    await sheet.page.goto(this.address);
    return sheet;
  }

  /** The server is gone: what the page has not loaded by now it cannot get. */
  async unplug(): Promise<void> {
    await this.site.close();
  }

  async close(): Promise<void> {
    await this.browser.close();
    await this.site.close();
  }
}

/** One tab with the page in it, and everything it did that it should not. */
export class Sheet {
  readonly asked: string[] = [];
  readonly violations: string[] = [];
  readonly errors: string[] = [];

  constructor(
    readonly page: Page,
    private readonly address: string,
  ) {
    page.setDefaultTimeout(PATIENCE_ms);
    page.on('request', (request) => this.asked.push(request.url()));
    page.on('pageerror', (error) => this.errors.push(error.message));
    page.on('console', (message) => {
      if (message.type() === 'error') this.errors.push(message.text());
    });
  }

  async record(): Promise<void> {
    await this.page.exposeFunction('keelsonViolation', (what: string) => this.violations.push(what));
    await this.page.addInitScript(() => {
      addEventListener('securitypolicyviolation', ({ violatedDirective, blockedURI }) => {
        const { keelsonViolation } = window as unknown as { keelsonViolation(what: string): void };
        keelsonViolation(`${violatedDirective} ${blockedURI}`);
      });
    });
  }

  /** Requests to any host but the one the page came from. */
  get askedOfOthers(): string[] {
    return this.asked.filter((url) => !/^(blob|data):/.test(url) && !url.startsWith(this.address));
  }

  button(name: string | RegExp): Locator {
    return this.page.getByRole('button', { name, exact: true });
  }

  tab(name: string): Locator {
    return this.page.getByRole('tab', { name });
  }

  /** By the button for files, as they lie in a folder. */
  async chooseFiles(files: SongFiles): Promise<void> {
    const chooser = this.page.waitForEvent('filechooser');
    await this.button('Choose files').click();
    await (await chooser).setFiles(playwrightFiles(files));
  }

  async openMeasured(files: SongFiles): Promise<void> {
    await this.chooseFiles(files);
    await this.button('See the findings').waitFor();
  }

  /** Chooses the first finding whose sentence matches: its evidence and what would mend it stand afterwards. */
  async choose(sentence: RegExp): Promise<void> {
    await this.chooseItem(this.findings.filter({ hasText: sentence }).first());
  }

  /** Chooses a finding by its line in the list. */
  async chooseItem(finding: Locator): Promise<void> {
    await finding.getByRole('button').click();
    await finding.and(this.page.locator('[data-chosen="true"]')).waitFor();
    await this.drawn();
  }

  /** Treats the findings whose sentences match, on the sheet of findings; the decisions are drawn afterwards. */
  async treat(...sentences: readonly RegExp[]): Promise<void> {
    for (const sentence of sentences) {
      await this.treatInPassing(sentence);
      await this.mending.locator('.decided').filter({ hasText: 'Treated' }).waitFor();
    }
  }

  /** The same, and does not wait until it is drawn or kept: for what comes in the very moment of a decision. */
  async treatInPassing(sentence: RegExp): Promise<void> {
    await this.choose(sentence);
    await this.mending.getByRole('button', { name: /^Treat/ }).click();
  }

  get findings(): Locator {
    return this.page.locator('.findings-list ol > li');
  }

  /** What would mend the chosen finding, and the words that decide. */
  get mending(): Locator {
    return this.page.locator('.findings-mending');
  }

  /** What is drawn is what stands; not while the page is at work. */
  drawn(): Promise<void> {
    return drawn(this.page);
  }

  /** Solves what was agreed to. */
  async solve(): Promise<void> {
    const { bar } = this;
    await bar.getByRole('button', { name: 'Solve' }).click();
    await bar.getByRole('button', { name: 'Print', disabled: false }).waitFor();
    await this.drawn();
  }

  /** Prints what was solved: the proof stands afterwards. */
  async print(): Promise<void> {
    await this.bar.getByRole('button', { name: 'Print', disabled: false }).click();
    await this.page.locator('.print-sheet').getByRole('button', { name: 'Print' }).click();
    await this.page.locator('.proof-screen').waitFor();
    await this.drawn();
  }

  /** The bar that takes back, solves and prints. */
  get bar(): Locator {
    return this.page.locator('.decision-bar');
  }
}

export function playwrightFiles(files: SongFiles): { name: string; mimeType: string; buffer: Buffer }[] {
  return Object.entries(files).map(([name, bytes]) => ({ name, mimeType: 'audio/wav', buffer: Buffer.from(bytes) }));
}
