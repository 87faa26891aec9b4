// SPDX-License-Identifier: GPL-3.0-or-later
// What the tests of pages share: pages of plans, a browser that may not reach any network, and watching it.
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';

import { chromium } from 'playwright-core';

export const project = path.resolve(import.meta.dirname, '../..');
const program = process.env.CUTPROOF_PROGRAM;
const folder = mkdtempSync(path.join(tmpdir(), 'cutproof-pages-'));
process.on('exit', () => rmSync(folder, { recursive: true, force: true }));

export const plan = (name) => path.join(project, 'plans', name);

/** A plan of its own for a test. */
export function written(name, text) {
  const file = path.join(folder, name);
  writeFileSync(file, text);
  return file;
}

/** The page of the plans; `code` is the exit code that the check must have. */
export function pageOf(plans, { code, options = [] } = {}) {
  const file = path.join(folder, `page-${pageOf.count = (pageOf.count ?? 0) + 1}.html`);
  const done = spawnSync(program, ['check', ...plans, ...options, '--quiet', '--report', `html=${file}`], { encoding: 'utf8' });
  if (code !== undefined) assert.equal(done.status, code, done.stderr);
  return file;
}

export const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox'] });

/** Opens the page, gives it to the test, and fails for any complaint of the browser's and any request but the page's own. */
export async function opened(file, act, options = {}) {
  const { before, ...context } = options;
  const tab = await browser.newPage({ viewport: { width: 1200, height: 900 }, ...context });
  tab.setDefaultTimeout(180000); // the machine may be busy
  const troubles = [];
  tab.on('console', (message) => message.type() === 'error' && troubles.push(message.text()));
  tab.on('pageerror', (error) => troubles.push(error.stack));
  const url = pathToFileURL(file).href;
  tab.on('request', (request) => request.url().split('#')[0] !== url && troubles.push(request.url()));
  if (before !== undefined) await tab.addInitScript(before);
  try {
    await tab.goto(url);
    await act(tab);
    assert.deepEqual(troubles, []);
  } finally {
    await tab.close();
  }
}

/** The numbers that the view tells of itself. */
export async function told(tab) {
  await tab.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
  const data = await tab.locator('#view-canvas').evaluate((canvas) => ({ ...canvas.dataset }));
  return Object.fromEntries(Object.entries(data).map(([key, value]) => [key, Number(value)]));
}

/** Waits until nothing moves any more. */
export async function settled(tab) {
  await tab.waitForFunction(() => window.cutproofView.target === null && !window.cutproofView.playing, null, { timeout: 60000 });
  await tab.waitForTimeout(300);
}

export async function kept(tab, name, options = {}) {
  const place = process.env.CUTPROOF_SCREENSHOTS;
  if (place === undefined) return;
  mkdirSync(place, { recursive: true });
  await tab.screenshot({ path: path.join(place, `${name}.png`), ...options });
}

export const halfTurn = `cutproof: 1
title: A prism becomes a box
start: { T: { prism: { base: [[0, 0], [2, 0], [0, 2]], height: 1 } } }
steps:
  - { cut: T, by: { equation: "y = 1" }, into: [tip, stump] }
  - title: over the slanting side
    move: { tip: { half-turn: [[1, 1, 0], [1, 1, 1]] } }
goal: { box: { size: [2, 1, 1] } }
`;
