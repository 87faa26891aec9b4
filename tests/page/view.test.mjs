// SPDX-License-Identifier: GPL-3.0-or-later
// The view in space: every key and button does its work, pieces move rigidly, and what is picked is what is seen.
import assert from 'node:assert/strict';
import { after, test } from 'node:test';

import { browser, halfTurn, kept, opened, pageOf, plan, settled, told, written } from './support.mjs';

after(() => browser.close());

const prism = pageOf([written('prism.yaml', halfTurn)], { code: 0 });
const canvas = '#view-canvas';

test('it begins at the end, and says so', () => opened(prism, async (tab) => {
  const view = await told(tab);
  assert.equal(view.moment, 2);
  assert.equal(await tab.textContent('#view-place'), 'Step 2 of 2');
  assert.match(await tab.textContent('#view-words'), /moved tip.*over the slanting side/i);
  await kept(tab, 'prism', { fullPage: true });
}));

test('arrows and buttons turn', () => opened(prism, async (tab) => {
  for (const [key, button, azimuth, elevation] of [['ArrowLeft', 'left', -15, 0], ['ArrowRight', 'right', 15, 0],
    ['ArrowUp', 'up', 0, 15], ['ArrowDown', 'down', 0, -15]]) {
    for (const act of [() => tab.press(canvas, key), () => tab.click(`#view-${button}`)]) {
      const before = await told(tab);
      await act();
      const now = await told(tab);
      assert.ok(Math.abs(now.azimuth - before.azimuth - azimuth) < 1e-6, key);
      assert.ok(Math.abs(now.elevation - before.elevation - elevation) < 1e-6, key);
    }
  }
  const home = await told(tab);
  await tab.press(canvas, 'ArrowLeft');
  await tab.click('#view-back');
  assert.deepEqual(await told(tab), home);
}));

test('keys and buttons zoom', () => opened(prism, async (tab) => {
  for (const [key, button, factor] of [['+', 'nearer', 1.25], ['-', 'farther', 0.8]]) {
    for (const act of [() => tab.press(canvas, key), () => tab.click(`#view-${button}`)]) {
      const before = await told(tab);
      await act();
      assert.ok(Math.abs((await told(tab)).zoom / before.zoom - factor) < 1e-3, key);
    }
  }
}));

test('dragging turns, and the wheel zooms only where the picture has the focus', () => opened(prism, async (tab) => {
  await tab.locator(canvas).scrollIntoViewIfNeeded();
  const box = await tab.locator(canvas).boundingBox();
  const [x, y] = [box.x + 30, box.y + 30];
  const before = await told(tab);
  await tab.mouse.move(x, y);
  await tab.mouse.wheel(0, -1);
  await tab.waitForTimeout(100);
  assert.equal((await told(tab)).zoom, before.zoom);
  await tab.mouse.down();
  await tab.mouse.move(x + 50, y + 20, { steps: 4 });
  await tab.mouse.up();
  const turned = await told(tab);
  assert.ok(Math.abs(turned.azimuth - before.azimuth + 20) < 0.5);
  assert.ok(Math.abs(turned.elevation - before.elevation - 8) < 0.5);
  await tab.focus(canvas);
  await tab.mouse.wheel(0, -100);
  await tab.waitForTimeout(100);
  assert.ok((await told(tab)).zoom > before.zoom);
}));

test('stepping by keys, buttons and slider', () => opened(prism, async (tab) => {
  await tab.press(canvas, ',');
  await settled(tab);
  assert.equal((await told(tab)).moment, 1);
  await tab.click('#view-previous');
  await settled(tab);
  assert.equal((await told(tab)).moment, 0);
  assert.equal(await tab.textContent('#view-place'), 'Start');
  assert.ok(await tab.isDisabled('#view-previous'));
  await tab.press(canvas, '.');
  await settled(tab);
  assert.equal((await told(tab)).moment, 1);
  assert.match(await tab.textContent('#view-words'), /cut T into tip, stump/i);
  await tab.click('#view-next');
  await settled(tab);
  assert.equal((await told(tab)).moment, 2);
  await tab.fill('#view-step', '0');
  await settled(tab);
  assert.equal((await told(tab)).moment, 0);
  assert.equal(await tab.getAttribute('#view-step', 'aria-valuetext'), 'Start');
}));

test('space and the button play from the start to the end, and stop', () => opened(prism, async (tab) => {
  await tab.press(canvas, ' ');
  await tab.waitForFunction(() => window.cutproofView.stage.moment > 0.3 && window.cutproofView.stage.moment < 2);
  assert.equal(await tab.textContent('#view-play'), 'Stop');
  await tab.press(canvas, ' ');
  assert.equal(await tab.textContent('#view-play'), 'Play');
  await settled(tab);
  assert.ok(Number.isInteger((await told(tab)).moment));
  await tab.click('#view-play');
  await tab.waitForFunction(() => window.cutproofView.stage.moment === 2, null, { timeout: 60000 });
  await settled(tab);
  assert.equal(await tab.textContent('#view-play'), 'Play');
}));

test('with reduced motion a step is there at once', () => opened(prism, async (tab) => {
  await tab.press(canvas, ',');
  assert.equal(await tab.evaluate(() => window.cutproofView.stage.moment), 1);
}, { reducedMotion: 'reduce' }));

test('half-way through a half-turn all distances in a piece are kept', () => opened(prism, async (tab) => {
  const poses = await tab.evaluate(() => {
    const view = window.cutproofView;
    view.stage.moment = 1.5;
    view.stage.place();
    return view.poses().map((each) => ({ ...each, points: view.stage.scene.blocks[each.block].vertices }));
  });
  const apply = (m, p) => [0, 1, 2].map((i) => m[3 * i] * p[0] + m[3 * i + 1] * p[1] + m[3 * i + 2] * p[2] + m[9 + i]);
  const distance = (p, q) => Math.hypot(...p.map((x, i) => x - q[i]));
  const tip = poses.filter((each) => each.piece === 'tip');
  assert.ok(tip.length > 0);
  for (const { pose, points } of poses) {
    const now = points.map((point) => apply(pose, point));
    for (let i = 0; i < points.length; ++i) {
      for (let j = 0; j < i; ++j) assert.ok(Math.abs(distance(now[i], now[j]) - distance(points[i], points[j])) < 1e-9);
    }
  }
  // Half of a half-turn about the line through (1, 1, 0) along z is a quarter turn about it.
  const centre = [1, 1, 0.25];
  for (const { pose } of tip) assert.ok(distance(apply(pose, centre), centre) < 1e-9);
  assert.ok(tip.every(({ pose }) => Math.abs(pose[0]) < 1e-9 && Math.abs(Math.abs(pose[1]) - 1) < 1e-9));
}));

test('coming apart', () => opened(prism, async (tab) => {
  const spread = () => tab.evaluate(() => {
    const centres = window.cutproofView.stage.places.filter((place) => place !== null).map((place) => place.shift);
    return Math.hypot(...centres[0].map((x, i) => x - centres[1][i])) / window.cutproofView.stage.scale;
  });
  const before = await spread();
  await tab.fill('#view-apart', '100');
  assert.equal((await told(tab)).apart, 1);
  assert.ok(Math.abs((await spread()) / before - 2.5) < 1e-9);
}));

test('a click at a name picks its piece, Escape and the button let go', () => opened(prism, async (tab) => {
  await settled(tab);
  const names = await tab.locator('#view-names span:not([hidden])').allTextContents();
  assert.deepEqual(names.sort(), ['stump', 'tip']);
  for (const name of names) {
    await tab.locator('#view-names span', { hasText: name }).click();
    assert.match(await tab.textContent('#view-facts'), new RegExp(`^${name} volume`));
    assert.equal(await tab.getAttribute(`#view-pieces button[data-piece=${name}]`, 'aria-pressed'), 'true');
    const [x, y] = await tab.locator('#view-names span', { hasText: name }).evaluate((label) => {
      const [box, frame] = [label.getBoundingClientRect(), document.getElementById('view-canvas').getBoundingClientRect()];
      return [(box.left + box.right) / 2 - frame.left, (box.top + box.bottom) / 2 - frame.top];
    });
    await tab.press(canvas, 'Escape');
    assert.equal(await tab.textContent('#view-facts'), '');
    // The same point of the picture, without the name over it.
    await tab.uncheck('#view-named');
    await tab.locator('#view-names').waitFor({ state: 'hidden' });
    await tab.click(canvas, { position: { x, y } });
    assert.match(await tab.textContent('#view-facts'), new RegExp(`^${name} volume`));
    await tab.click('#view-release');
    assert.equal(await tab.textContent('#view-facts'), '');
    await tab.check('#view-named');
    await settled(tab);
  }
  await tab.click('#view-pieces button[data-piece=tip]');
  assert.match(await tab.textContent('#view-facts'), /^tip volume 1\/2.*edges: .*90°/);
}));

test('a click at an edge tells its angle', () => opened(prism, async (tab) => {
  await tab.locator(canvas).scrollIntoViewIfNeeded();
  const places = await tab.evaluate(() => {
    const view = window.cutproofView;
    const box = view.canvas.getBoundingClientRect();
    return view.stage.places.flatMap((place, block) => place === null ? [] : view.stage.solids[block].edges.map((edge) => {
      const { corners } = view.stage.solids[block];
      const middle = [0, 1, 2].map((i) => (corners[edge.from][i] + corners[edge.to][i]) / 2);
      const seen = view.stage.seen(block, middle);
      const [x, y] = view.toScreen(seen);
      const hit = view.stage.hit(seen[0] * 0.999, seen[1] * 0.999);
      const shown = hit !== null && Math.abs(hit.depth - seen[2]) < 0.01 && hit.piece === place.piece;
      return { x: x + box.left, y: y + box.top, angle: edge.angles[0], shown };
    }));
  });
  const told = [];
  await tab.uncheck('#view-named');
  for (const { x, y, angle } of places.filter((place) => place.shown)) {
    await tab.mouse.click(x, y);
    const facts = await tab.textContent('#view-facts');
    if (/This edge/.test(facts)) told.push([Number(facts.match(/This edge: ([\d.]+)°/)[1]), angle]);
  }
  assert.ok(told.length >= 5);
  for (const [said, angle] of told) assert.ok([45, 90, 135].some((each) => Math.abs(each - said) < 1e-6), `${said} ${angle}`);
}));

test('a mirrored piece is said to be one', () => opened(pageOf([plan('broken/mirrored.yaml')], { code: 1 }), async (tab) => {
  assert.match(await tab.textContent('#view-words'), /T2, T3, T6: turned into the mirror image, which no motion does/);
  await kept(tab, 'mirrored', { fullPage: true });
}));

test('a region of a finding is marked', () => opened(pageOf([plan('broken/overlap.yaml')], { code: 1 }), async (tab) => {
  const regions = await tab.evaluate(() => window.cutproofView.stage.regionPlaces.filter((place) => place).length);
  assert.ok(regions >= 1);
  assert.match(await tab.textContent('.legend'), /pieces overlap/);
  await kept(tab, 'overlap', { fullPage: true });
}));

test('each step of the list opens the view there', () => opened(prism, async (tab) => {
  await tab.click('button.show-in-view[data-step="1"]');
  await settled(tab);
  assert.equal((await told(tab)).moment, 1);
  assert.equal(await tab.evaluate(() => document.activeElement.id), 'view-canvas');
}));

test('one view for several plans', () => opened(pageOf(
  [plan('broken/bare-angle.yaml'), written('a.yaml', halfTurn), plan('odd-edge-to-box.yaml')], { code: 2 }), async (tab) => {
  const pieces = () => tab.locator('#view-pieces button').allTextContents();
  assert.deepEqual((await pieces()).sort(), ['stump', 'tip']);
  await tab.selectOption('#view-plan', '2');
  assert.equal((await pieces()).length, 7);
  await tab.click('#plan-2 button.show-in-view[data-step="1"]');
  assert.equal(await tab.inputValue('#view-plan'), '1');
  await settled(tab);
  assert.equal((await told(tab)).moment, 1);
  await kept(tab, 'two-plans', { fullPage: true });
}));

test('colours go with the points of a piece from the start to the end', async () => {
  for (const name of ['odd-edge-to-box.yaml', 'triangle-to-square.yaml', 'staircase.yaml']) {
    await opened(pageOf([plan(name)], { code: 0 }), async (tab) => {
      const wrong = await tab.evaluate(() => {
        const { stage } = window.cutproofView;
        return stage.scene.blocks.flatMap((_, block) => {
          const end = stage.scene.pieceOf(block, stage.scene.last);
          return end !== null && stage.paints[block].name !== end.name ? [block] : [];
        });
      });
      assert.deepEqual(wrong, [], name);
      await kept(tab, name.replace('.yaml', ''), { fullPage: true });
    });
  }
});

test('a frame of a thousand pieces takes few draw calls', async () => {
  const cuts = ['x', 'y', 'z'].flatMap((axis) => [...Array(9).keys()].map((i) => `  - { cut: all, by: { equation: "${axis} = ${i + 1}" } }`));
  const cubes = written('cubes.yaml', `cutproof: 1\nstart: { C: { box: { size: [10, 10, 10] } } }\nsteps:\n${cuts.join('\n')}\ngoal: { box: { size: [10, 10, 10] } }\n`);
  await opened(pageOf([cubes], { code: 0 }), async (tab) => {
    await tab.press(canvas, 'ArrowLeft');
    await told(tab);
    assert.ok(await tab.evaluate(() => window.cutproofView.drawing.renderer.info.render.calls) <= 20);
    assert.equal(await tab.locator('#view-names span:not([hidden])').count(), 0);
    await kept(tab, 'thousand', { fullPage: false });
  });
});
