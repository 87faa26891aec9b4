// SPDX-License-Identifier: GPL-3.0-or-later
// Buttons, sliders, keys and fingers: what each does to the view. Whatever a key does, a button or a slider does too.

const turnBy = 15; // degrees a key or a button
const zoomBy = 1.25;
const dragTurn = 0.4; // degrees a pixel

const byId = (id) => document.getElementById(id);

export function bindControls(view) {
  const toggle = () => (view.playing ? view.stop() : view.play());
  const deeds = {
    previous: () => view.next(-1),
    next: () => view.next(1),
    play: toggle,
    left: () => view.turn(-turnBy, 0),
    right: () => view.turn(turnBy, 0),
    up: () => view.turn(0, turnBy),
    down: () => view.turn(0, -turnBy),
    nearer: () => view.zoom(zoomBy),
    farther: () => view.zoom(1 / zoomBy),
    back: () => view.back(),
    release: () => view.pick(null),
  };
  for (const [name, deed] of Object.entries(deeds)) byId(`view-${name}`).addEventListener('click', deed);
  byId('view-step').addEventListener('input', (event) => {
    view.stop();
    view.go(Number(event.target.value));
  });
  byId('view-apart').addEventListener('input', (event) => view.comeApart(Number(event.target.value) / 100));
  byId('view-named').addEventListener('change', () => view.request());
  byId('view-plan')?.addEventListener('change', (event) => view.open(Number(event.target.value)));
  bindKeys(view, deeds);
  bindPointer(view);
  new ResizeObserver(() => view.resize()).observe(view.canvas);
  for (const button of document.querySelectorAll('button.show-in-view')) {
    if (!view.plans.has(Number(button.dataset.plan))) continue;
    button.hidden = false;
    button.addEventListener('click', () => {
      const { plan, step } = button.dataset;
      view.open(Number(plan), step === undefined ? undefined : Number(step));
      byId('view').scrollIntoView({ block: 'start' });
      view.canvas.focus({ preventScroll: true });
    });
  }
}

function bindKeys(view, deeds) {
  const anywhere = {
    '+': deeds.nearer, '=': deeds.nearer, '-': deeds.farther, ',': deeds.previous, '.': deeds.next, Escape: deeds.release,
  };
  // Elsewhere the page scrolls by these, and sliders and buttons answer to them.
  const onCanvas = {
    ArrowLeft: deeds.left, ArrowRight: deeds.right, ArrowUp: deeds.up, ArrowDown: deeds.down, ' ': deeds.play,
  };
  byId('view').addEventListener('keydown', (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || !view.isOpen) return;
    const deed = anywhere[event.key] ?? (event.target === view.canvas ? onCanvas[event.key] : undefined);
    if (deed === undefined) return;
    event.preventDefault();
    deed();
  });
}

function bindPointer(view) {
  const { canvas } = view;
  const fingers = new Map();
  let travelled = 0;
  canvas.addEventListener('pointerdown', (event) => {
    fingers.set(event.pointerId, event);
    travelled = 0;
    canvas.setPointerCapture(event.pointerId);
  });
  canvas.addEventListener('pointermove', (event) => {
    const before = fingers.get(event.pointerId);
    if (before === undefined) return;
    const [dx, dy] = [event.clientX - before.clientX, event.clientY - before.clientY];
    if (fingers.size === 2) {
      const [other] = [...fingers.values()].filter((each) => each.pointerId !== event.pointerId);
      const apart = (each) => Math.hypot(each.clientX - other.clientX, each.clientY - other.clientY);
      view.zoom(apart(event) / (apart(before) || 1));
    } else {
      view.turn(-dx * dragTurn, dy * dragTurn);
    }
    travelled += Math.abs(dx) + Math.abs(dy);
    fingers.set(event.pointerId, event);
  });
  canvas.addEventListener('pointerup', (event) => {
    if (fingers.delete(event.pointerId) && travelled < 5) view.pickAt(event.clientX, event.clientY);
  });
  canvas.addEventListener('pointercancel', (event) => fingers.delete(event.pointerId));
  canvas.addEventListener('wheel', (event) => {
    if (document.activeElement !== canvas && !event.ctrlKey) return; // the page scrolls on
    event.preventDefault();
    view.zoom(Math.exp(-event.deltaY * 0.0015));
  }, { passive: false });
}
