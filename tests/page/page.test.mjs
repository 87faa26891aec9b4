// SPDX-License-Identifier: GPL-3.0-or-later
// The page around the view: readable by everyone, on any screen, on paper, and without what the view needs.
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { after, test } from 'node:test';

import { browser, halfTurn, kept, opened, pageOf, plan, written } from './support.mjs';

after(() => browser.close());

const require = createRequire(import.meta.url);
const axe = readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8');

const pages = {
  verified: pageOf([plan('odd-edge-to-box.yaml')], { code: 0 }),
  refuted: pageOf([plan('broken/missing-and-excess.yaml')], { code: 1 }),
  invalid: pageOf([plan('broken/bare-angle.yaml')], { code: 2 }),
  stopped: pageOf([plan('broken/decimal-angle.yaml')], { code: 3 }),
  flat: pageOf([plan('greek-cross-to-square.yaml')], { code: 0 }),
  several: pageOf([plan('odd-edge-to-box.yaml'), plan('broken/overlap.yaml'), plan('broken/bare-angle.yaml')], { code: 2 }),
};
const looks = {
  light: { colorScheme: 'light' },
  dark: { colorScheme: 'dark' },
  narrow: { viewport: { width: 390, height: 800 } },
  forced: { forcedColors: 'active' },
};

for (const [name, file] of Object.entries(pages)) {
  for (const [look, options] of Object.entries(looks)) {
    test(`${name}, ${look}: nothing is in a reader's way`, () => opened(file, async (tab) => {
      await tab.waitForTimeout(300);
      await kept(tab, `${name}-${look}`, { fullPage: true });
      const wide = await tab.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
      assert.equal(wide, 0);
      if (look === 'forced') return; // its colours are not the page's
      // Past the page's own policy, as a reader's tools are.
      await tab.evaluate(axe);
      const { violations } = await tab.evaluate(() => window.axe.run(document));
      assert.deepEqual(violations.map(({ id, nodes }) => [id, nodes.map(({ html }) => html)]), []);
    }, options));
  }
}

test('without JavaScript all else stands, and a line says what is not there', () => opened(pages.verified, async (tab) => {
  assert.ok(await tab.isHidden('#view'));
  assert.ok(await tab.getByText('it needs JavaScript').isVisible());
  assert.ok(await tab.locator('figure svg').first().isVisible());
  assert.ok(await tab.locator('figure svg').count() >= 9);
  assert.equal(await tab.locator('button:visible').count(), 0);
  assert.ok(await tab.getByText('What this rests on').isVisible());
}, { javaScriptEnabled: false }));

test('without WebGL all else stands, and a line says what is not there', () => opened(pages.verified, async (tab) => {
  assert.ok(await tab.getByText('offers no WebGL').isVisible());
  assert.ok(await tab.isHidden('#view-body'));
  assert.equal(await tab.locator('button.show-in-view:visible').count(), 0);
}, { before: () => { HTMLCanvasElement.prototype.getContext = () => null; } }));

test('figures are numbered in order, in their own size, and pieces have one colour in pictures, table and view', () => opened(pages.refuted, async (tab) => {
  const numbers = await tab.locator('figcaption .number').allTextContents();
  assert.deepEqual(numbers, numbers.map((_, i) => `Fig. ${i + 1}`));
  assert.ok(numbers.length >= 5);
  const scales = await tab.locator('figure svg').evaluateAll((all) =>
    all.map((svg) => svg.getBoundingClientRect().width / Number(svg.getAttribute('width'))));
  for (const scale of scales) assert.ok(Math.abs(scale - 1) < 1e-3);
  const colours = await tab.evaluate(() => {
    const { stage } = window.cutproofView;
    const code = (text) => text.match(/\d+/g).slice(0, 3).map(Number);
    return [...document.querySelectorAll('#pieces ~ .scroll tbody tr')].map((row) => {
      const name = row.querySelector('bdi').textContent;
      const paint = stage.paints.find((each) => each.name === name);
      return { table: code(getComputedStyle(row.querySelector('.swatch')).backgroundColor), view: paint.colour.map((x) => Math.round(x * 255)),
        picture: [...document.querySelectorAll(`figure [data-piece="${name}"] path[class*="-c"]`)]
          .map((path) => getComputedStyle(path).fill).filter((fill) => fill.startsWith('rgb')).map(code) };
    });
  });
  assert.equal(colours.length, 2);
  for (const { table, view, picture } of colours) {
    assert.deepEqual(table, view);
    assert.ok(picture.length > 0);
    // In one of three tones.
    for (const fill of picture) assert.ok([1, 0.94, 0.88].some((tone) => fill.every((x, i) => Math.abs(x - view[i] * tone) < 2)), `${fill} ${view}`);
  }
}, { viewport: { width: 390, height: 800 } }));

test('on paper there are no controls', () => opened(pages.verified, async (tab) => {
  await tab.emulateMedia({ media: 'print' });
  assert.ok(await tab.isHidden('#view'));
  assert.equal(await tab.locator('button:visible').count(), 0);
  const paper = await tab.pdf({ format: 'A4' });
  assert.equal(paper.subarray(0, 5).toString(), '%PDF-');
}));

test('strangers\' text does nothing', async () => {
  const hostile = '</script><img src=x onerror=alert(1)><!-- \\u202e';
  const text = halfTurn.replace('A prism becomes a box', `"${hostile}"`).replace('over the slanting side', `"${hostile}"`);
  await opened(pageOf([written('hostile.yaml', text)], { code: 0 }), async (tab) => {
    assert.equal(await tab.locator('img').count(), 0);
    assert.match(await tab.textContent('h1'), /<img src=x onerror=alert\(1\)>/);
    assert.match(await tab.textContent('#view-words'), /<img src=x onerror=alert\(1\)>/);
  });
});

test('sizes far apart, beyond doubles, and no solids at all give pages that open', async () => {
  const box = (size) => `cutproof: 1\nstart: { A: { box: { size: [${size}, 1, 1] } } }\nsteps:\n  - { cut: A, by: { equation: "x = ${size}/2" }, into: [b, c] }\n  - move: { b: { translation: [1e9, 0, 0] } }\ngoal: { box: { size: [${size}, 1, 1] } }\n`;
  for (const [name, text] of [['small', box('1e-30')], ['large', box('1e9')], ['beyond', box('1e400')], ['empty', 'cutproof: 1\n']]) {
    await opened(pageOf([written(`${name}.yaml`, text)]), async (tab) => {
      assert.ok(await tab.getByText('What this rests on').isVisible(), name);
      if (name === 'beyond') assert.match(await tab.textContent('#view-notice'), /cannot be shown in space/);
    });
  }
});

test('a checker of HTML finds no error', { skip: spawnSync('java', ['-version']).error !== undefined && 'java is not there' }, () => {
  const jar = require.resolve('vnu-jar').replace(/vnu-jar\.js$/, 'build/dist/vnu.jar');
  const done = spawnSync('java', ['-jar', jar, '--errors-only', ...Object.values(pages)], { encoding: 'utf8' });
  assert.equal(done.stderr, '');
  assert.equal(done.status, 0);
});
