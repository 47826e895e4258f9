import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import type { Browser, Page } from 'playwright-core';
import { assertAccessible } from './accessible.js';
import { onceRound, tabTo } from './by-keyboard.js';
import { openBrowser } from './find-browser.js';
import { assertOneSheet, paperPages } from './paper-pages.js';
import { assertReachable } from './reachable.js';

/* What the tests look with must see a fault where there is one: a plain page in order, and the same page with one thing broken. */

let browser: Browser;
let page: Page;

before(async () => {
  browser = await openBrowser();
  page = await browser.newPage({ viewport: { width: 1280, height: 720 } });
});
after(() => browser.close());

const BODY = '<main><h1>Stems</h1><button>Play</button><label>Gain <input></label><button>Print</button></main>';

/** @param style is added to a page in order. */
async function show(body: string, style = ''): Promise<void> {
  const order = ':focus-visible { outline: 2px solid black } button { min-height: 32px; min-width: 32px; margin: 8px }';
  await page.setContent(`<html lang="en"><title>t</title><style>${order} ${style}</style><body>${body}</body></html>`);
}

test('a page in order passes', async () => {
  await show(BODY);
  await assertAccessible(page, 'in order');
  await assertReachable(page, 'in order');
  assert.deepEqual(await onceRound(page), ['button Play', 'input Gain', 'button Print']);
  await tabTo(page, /Print/);
});

test('axe: text too pale, on dark paper only; a field without a name', async () => {
  await show(BODY, ':root[data-paper=dark] h1 { color: #bbb }');
  await assert.rejects(assertAccessible(page, 'pale'), /pale, dark[^]*color-contrast/);
  await show(BODY.replace('<label>Gain <input></label>', '<input>'));
  await assert.rejects(assertAccessible(page, 'nameless'), /nameless, light[^]*label/);
});

test('small windows: a control under something, one beside the window, a page that scrolls sideways', async () => {
  await show(BODY, 'main::after { content: ""; position: fixed; inset: 0 }');
  await assert.rejects(assertReachable(page, 'covered'), /covered at 720 x 450[^]*Play/);
  await show(BODY, 'button:last-child { position: fixed; left: 600px }');
  await assert.rejects(assertReachable(page, 'beside'), /beside at 390 x 844[^]*Print/);
  await show(BODY, 'h1 { width: 730px }');
  await assert.rejects(assertReachable(page, 'wide'), /wide at 720 x 450: pixels beside/);
});

test('keyboard: no mark of focus, a stop out of sight or under something, a trap, a name that never comes', async () => {
  await show(BODY, 'button:last-child { outline: none !important }');
  await assert.rejects(onceRound(page), /Print: no mark of focus/);
  await show(BODY, 'button:last-child { position: fixed; left: -500px }');
  await assert.rejects(onceRound(page), /Print: out of sight/);
  await show(BODY, 'main::after { content: ""; position: fixed; inset: 0 }');
  await assert.rejects(onceRound(page), /Play: out of sight/);
  await show(BODY);
  await page.evaluate(() => {
    const field = document.querySelector('input');
    document.querySelector('button:last-child')?.addEventListener('focus', () => field?.focus());
  });
  await assert.rejects(onceRound(page), /caught: after/);
  await assert.rejects(tabTo(page, /Solve/), /never comes to/);
});

test('paper: pages are counted, and their size read', async () => {
  await show('<main><p>one</p></main>', '@page { size: A4 }');
  const [only, ...others] = await paperPages(page);
  assert.equal(others.length, 0);
  assert.ok(Math.abs(only!.width_pt - 595.28) < 1 && Math.abs(only!.height_pt - 841.89) < 1);
  await show('<main><p style="height: 300mm">two</p></main>', '@page { size: A5 landscape }');
  const long = await paperPages(page);
  assert.ok(long.length >= 2 && long[0]!.width_pt > long[0]!.height_pt);
});

test('one sheet of paper: words that it would cut off, words beside it, type too small, a second page', async () => {
  const sheet =
    'main { box-sizing: border-box; width: 210mm; height: 297mm; padding: 10mm; overflow: hidden; font: 12pt serif }';
  const paper = `@page { size: A4; margin: 0 } body { margin: 0 } ${sheet}`;
  await show('<main><p>one</p></main>', paper);
  await assertOneSheet(page, 'main');
  await show('<main><p style="height: 285mm">one</p><p>two</p></main>', paper);
  await assert.rejects(assertOneSheet(page, 'main'), /beyond the margins[^]*two/);
  await show('<main><p style="white-space: nowrap">one<span style="margin-left: 200mm">two</span></p></main>', paper);
  await assert.rejects(assertOneSheet(page, 'main'), /beyond the margins[^]*two/);
  await show('<main><p>one</p><small style="font-size: 10px">two</small></main>', paper);
  await assert.rejects(assertOneSheet(page, 'main'), /type of 7.5 pt/);
  await show('<main><p>one</p></main><p>two</p>', paper);
  await assert.rejects(assertOneSheet(page, 'main'), /pages/);
});
