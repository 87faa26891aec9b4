// SPDX-License-Identifier: GPL-3.0-or-later
// How long a frame of the view takes with a thousand pieces, beside a page that only clears a canvas:
//   cd tests/page && npm ci && CUTPROOF_PROGRAM=PROGRAM node frames.mjs
// Prints milliseconds of script a frame (medians and the longest), draw calls, frames a second, and seconds to the first picture.
// A measurement, not a test: no time is demanded. The table is in docs/performance.md.
import { browser, opened, pageOf, written } from './support.mjs';

const cuts = ['x', 'y', 'z'].flatMap((axis) => [...Array(9).keys()].map((i) => `  - { cut: all, by: { equation: "${axis} = ${i + 1}" } }`));
const box = '{ box: { size: [10, 10, 10] } }';
const steps = [...cuts, '  - { move: { all: { rotation: { about: z, angle: 180 deg } } } }', '  - { move: { all: { translation: [10, 10, 0] } } }'];
const cubes = written('cubes.yaml', `cutproof: 1\nstart: { C: ${box} }\nsteps:\n${steps.join('\n')}\ngoal: ${box}\n`);

/** Runs in the page before all else: notes how long the script of each frame takes, and when the view draws first. */
const watch = () => {
  window.frameTimes = [];
  window.frameStarts = [];
  const ask = window.requestAnimationFrame.bind(window);
  window.requestAnimationFrame = (act) => ask((now) => {
    const begin = performance.now();
    act(now);
    window.frameTimes.push(performance.now() - begin);
    window.frameStarts.push(begin);
  });
};

const empty = written('empty.html', `<!doctype html><title>empty</title><canvas width=900 height=600></canvas><script>
const pen = document.querySelector('canvas').getContext('webgl2');
const draw = () => { pen.clear(pen.COLOR_BUFFER_BIT); requestAnimationFrame(draw); };
requestAnimationFrame(draw);
</script>`);

/** The frames drawn while `act` runs. */
async function frames(tab, act) {
  await tab.evaluate(() => { window.frameTimes.length = window.frameStarts.length = 0; });
  await act();
  return tab.evaluate(() => {
    const sorted = [...window.frameTimes].sort((a, b) => a - b);
    const span = window.frameStarts.at(-1) - window.frameStarts[0];
    return { count: sorted.length, median: sorted[Math.floor(sorted.length / 2)], longest: sorted.at(-1),
      rate: 1000 * (sorted.length - 1) / span };
  });
}

const row = (what, { count, median, longest, rate }) =>
  console.log(`${what.padEnd(44)} ${String(count).padStart(5)} ${median.toFixed(2).padStart(8)} ${longest.toFixed(2).padStart(8)} ${rate.toFixed(1).padStart(8)}`);

console.log(`${''.padEnd(44)} ${'drawn'.padStart(5)} ${'median'.padStart(8)} ${'longest'.padStart(8)} ${'a second'.padStart(8)}`);
await opened(empty, async (tab) => row('an empty canvas', await frames(tab, () => tab.waitForTimeout(5000))), { before: watch });
const page = pageOf([cubes], { code: 0 });
await opened(page, async (tab) => {
  await tab.waitForFunction(() => window.cutproofView?.drawn > 0);
  const first = await tab.evaluate(() => (window.frameStarts[0] + window.frameTimes[0]) / 1000);
  await tab.locator('#view-canvas').focus();
  row('1,000 pieces, turned by a key held down', await frames(tab, async () => {
    for (let i = 0; i < 60; ++i) await tab.keyboard.press('ArrowLeft', { delay: 50 });
  }));
  row('1,000 pieces, played through: all of them move', await frames(tab, async () => {
    await tab.keyboard.press('Space');
    await tab.waitForTimeout(20000);
  }));
  const calls = await tab.evaluate(() => window.cutproofView.drawing.renderer.info.render.calls);
  console.log(`draw calls: ${calls}; opened and first drawn in ${first.toFixed(2)} s`);
}, { before: watch });
await browser.close();
