// SPDX-License-Identifier: GPL-3.0-or-later
// The view on the page: the plan that is shown, its steps in time, what is picked, and the line that says each step in words.
// The page stands without it; what needs it is hidden until it runs.

import { bindControls } from './controls.js';
import { Drawing } from './drawing.js';
import { Names } from './names.js';
import { Stage } from './stage.js';

const stepTime = 1400; // milliseconds
const pause = 450;
const edgeReach = 7; // pixels

const byId = (id) => document.getElementById(id);
const stillness = window.matchMedia('(prefers-reduced-motion: reduce)');

class View {
  constructor(drawing) {
    this.drawing = drawing;
    this.canvas = byId('view-canvas');
    this.names = new Names(byId('view-names'), (name) => this.pick(name));
    // By the plan's number; plans without solids have no data.
    this.plans = new Map([...document.querySelectorAll('script.plan-data')].map((element) =>
      [Number(element.dataset.plan), { element, stage: null }]));
    this.playing = false;
    this.target = null; // the state that the moment moves to
    this.drawn = 0; // frames so far
    bindControls(this);
  }

  get plan() {
    return this.plans.get(this.current);
  }

  get stage() {
    return this.plan.stage;
  }

  /** Whether a plan is shown. */
  get isOpen() {
    return this.current !== undefined && this.plan.stage !== null;
  }

  /** Shows the plan of the number after the step; without one, the end. */
  open(number, step) {
    this.stop();
    this.current = number;
    const choice = byId('view-plan');
    if (choice !== null) choice.value = String(number);
    const plan = this.plan;
    const notice = byId('view-notice');
    notice.hidden = true;
    if (plan.stage === null) {
      try {
        plan.data = JSON.parse(plan.element.textContent);
        plan.stage = new Stage(plan.data);
        plan.home = [plan.stage.azimuth, plan.stage.elevation];
        plan.concerned = new Set(plan.data.concerned ?? []);
        if (plan.stage.scene.states.length === 0) throw new Error('There are no solids to show.');
      } catch (error) {
        plan.stage = null;
        notice.textContent = `This plan cannot be shown in space. ${error.message}`;
        notice.hidden = false;
        byId('view-body').hidden = true;
        return;
      }
    }
    byId('view-body').hidden = false;
    this.drawing.show(this.stage.things());
    this.stage.placed = null;
    this.names.clear();
    const slider = byId('view-step');
    slider.max = String(this.stage.scene.last);
    byId('view-apart').value = String(Math.round(this.stage.apart * 100));
    this.#listPieces();
    this.resize();
    const states = this.stage.scene.states;
    const state = step === undefined ? this.stage.scene.last : states.findIndex((each) => each.step === step);
    this.jump(state < 0 ? this.stage.scene.last : state);
  }

  jump(state) {
    this.stage.moment = state;
    this.target = null;
    this.#tell(state);
    this.request();
  }

  /** Goes to the state, through what lies between where it is the next one. */
  go(state) {
    const goal = Math.max(0, Math.min(this.stage.scene.last, state));
    const near = Math.abs(goal - this.stage.moment) <= 1.0001;
    if (stillness.matches || !near) {
      this.jump(goal);
      return;
    }
    this.target = goal;
    this.#tell(goal);
    this.request();
  }

  next(by) {
    this.stop();
    const at = this.target ?? this.stage.moment;
    const from = by > 0 ? Math.floor(at) : Math.ceil(at);
    if (this.target !== null) this.stage.moment = this.target;
    this.go(from + by);
  }

  play() {
    if (this.stage.scene.last === 0) return;
    this.playing = true;
    byId('view-play').textContent = 'Stop';
    if (this.stage.moment >= this.stage.scene.last) this.jump(0);
    this.waitUntil = performance.now() + pause;
    this.request();
    if (stillness.matches) this.timer = setInterval(() => this.#playOn(), stepTime);
  }

  stop() {
    this.playing = false;
    clearInterval(this.timer);
    byId('view-play').textContent = 'Play';
    if (this.isOpen && this.target !== null) this.jump(this.target);
  }

  #playOn() {
    if (this.stage.moment >= this.stage.scene.last) this.stop();
    else this.go(Math.floor(this.stage.moment) + 1);
  }

  turn(azimuth, elevation) {
    this.stage.turn(azimuth, elevation);
    this.request();
  }

  zoom(by) {
    this.stage.zoom = Math.max(0.2, Math.min(40, this.stage.zoom * by));
    this.request();
  }

  back() {
    [this.stage.azimuth, this.stage.elevation] = this.plan.home;
    this.stage.zoom = 1;
    this.comeApart(0);
    this.request();
  }

  comeApart(share) {
    this.stage.apart = share;
    byId('view-apart').value = String(Math.round(share * 100));
    this.request();
  }

  /** Picks a piece by its name; null lets go. */
  pick(name, edge = null) {
    this.stage.picked = name;
    const facts = byId('view-facts');
    facts.replaceChildren();
    for (const button of byId('view-pieces').querySelectorAll('button')) {
      button.setAttribute('aria-pressed', String(button.dataset.piece === name));
    }
    if (name !== null) {
      const title = document.createElement('strong');
      title.textContent = name;
      facts.append(title, ` ${this.#factsOf(name)}`);
      if (edge !== null) {
        const line = document.createElement('span');
        line.className = 'edge-fact';
        line.textContent = `This edge: ${edge.map((angle) => this.#angleText(name, angle)).join(' and ')}.`;
        facts.append(document.createElement('br'), line);
      }
    }
    this.request();
  }

  #factsOf(name) {
    const known = this.plan.data.facts ?? {};
    if (Object.hasOwn(known, name)) return known[name].text;
    const state = Math.round(this.stage.moment);
    const piece = this.stage.scene.piecesAt(state).find((each) => each.name === name);
    if (piece === undefined) return 'is not there after this step.';
    const volume = piece.blocks.reduce((sum, block) => sum + this.stage.solids[block].volume, 0);
    return `volume about ${Number(volume.toPrecision(6))}; it is not a piece of the end.`;
  }

  // The exact angle where the piece has one so near.
  #angleText(name, degrees) {
    const angles = Object.hasOwn(this.plan.data.facts ?? {}, name) ? this.plan.data.facts[name].angles ?? [] : [];
    const exact = angles.find((each) => Math.abs(each.degrees - degrees) < 1e-6);
    return exact === undefined ? `${Number(degrees.toFixed(4))}\u00b0` : exact.text;
  }

  #tell(state) {
    const { states } = this.stage.scene;
    const words = this.plan.data.words?.[state] ?? `${states[state].kind} ${states[state].title}`;
    const mirrored = this.stage.timeline.mirroredInto(state);
    const note = mirrored.length === 0 ? ''
      : ` ${mirrored.join(', ')}: turned into the mirror image, which no motion does; it fades over.`;
    const place = states[state].step === 0 ? 'Start' : `Step ${states[state].step} of ${states[states.length - 1].step}`;
    byId('view-place').textContent = place;
    byId('view-words').textContent = words + note;
    const slider = byId('view-step');
    slider.value = String(state);
    slider.setAttribute('aria-valuetext', place);
    byId('view-previous').disabled = state === 0;
    byId('view-next').disabled = state === this.stage.scene.last;
    if (this.stage.picked !== null) this.pick(this.stage.picked);
    this.#listPieces();
  }

  // A button for each piece on the bench, in the colour of what it becomes.
  #listPieces() {
    const list = byId('view-pieces');
    const pieces = this.stage.scene.piecesAt(Math.min(Math.round(this.target ?? this.stage.moment), this.stage.scene.last));
    const shown = pieces.slice(0, 100);
    const key = shown.map((piece) => piece.name).join('\n');
    if (this.listed === `${this.current}\n${key}`) return;
    this.listed = `${this.current}\n${key}`;
    const hadFocus = list.contains(document.activeElement) ? document.activeElement.dataset.piece : null;
    list.replaceChildren(...shown.map((piece) => {
      const button = document.createElement('button');
      button.type = 'button';
      button.dataset.piece = piece.name;
      button.setAttribute('aria-pressed', String(piece.name === this.stage.picked));
      const paint = this.stage.paints[piece.blocks[0]];
      const swatch = document.createElement('span');
      swatch.className = `swatch c${paint.base} h${paint.hatch}`;
      swatch.setAttribute('aria-hidden', 'true');
      const name = document.createElement('bdi');
      name.textContent = piece.name;
      button.append(swatch, name);
      button.addEventListener('click', () => this.pick(this.stage.picked === piece.name ? null : piece.name));
      return button;
    }));
    if (hadFocus !== null) [...list.children].find((button) => button.dataset.piece === hadFocus)?.focus();
    byId('view-pieces-rest').textContent =
      pieces.length > shown.length ? `and ${pieces.length - shown.length} more: click them in the picture` : '';
  }

  resize() {
    const { width, height } = this.canvas.getBoundingClientRect();
    if (width === 0 || height === 0) return;
    [this.width, this.height] = [width, height];
    this.drawing.resize(width, height);
    this.request();
  }

  request() {
    if (this.frame === undefined) this.frame = requestAnimationFrame((now) => this.#draw(now));
  }

  #draw(now) {
    this.frame = undefined;
    if (!this.isOpen) return;
    const { stage } = this;
    if (this.target !== null) {
      const passed = Math.min(now - (this.before ?? now), 100) / stepTime;
      this.before = now;
      const left = this.target - stage.moment;
      if (Math.abs(left) <= passed) {
        stage.moment = this.target;
        this.target = null;
        this.before = undefined;
        this.waitUntil = now + pause;
        if (stage.picked !== null) this.pick(stage.picked);
      } else {
        stage.moment += Math.sign(left) * passed;
      }
      this.request();
    } else {
      this.before = undefined;
      if (this.playing && !stillness.matches) {
        if (now >= this.waitUntil) this.#playOn();
        this.request();
      }
    }
    const changed = stage.place();
    if (changed || this.filled !== stage.picked) {
      stage.fill(this.drawing.rows);
      this.filled = stage.picked;
      this.drawing.rowsChanged();
    }
    this.drawing.draw(stage.view, stage.zoom);
    ++this.drawn;
    this.#drawNames();
    Object.assign(this.canvas.dataset, { azimuth: stage.azimuth.toFixed(3), elevation: stage.elevation.toFixed(3),
      zoom: stage.zoom.toFixed(4), moment: stage.moment.toFixed(4), apart: stage.apart.toFixed(2) });
  }

  #drawNames() {
    const layer = this.names.layer;
    layer.hidden = !byId('view-named').checked;
    clearTimeout(this.settling);
    if (layer.hidden) return;
    const toScreen = (point) => this.toScreen(point);
    this.names.follow(this.stage, toScreen);
    // Where they are seen best is looked for when all is still.
    const arrange = () => this.names.arrange(this.stage, this.plan.concerned, toScreen, (x, y) => this.fromScreen(x, y));
    if (this.target === null) this.settling = setTimeout(arrange, this.drawn < 2 ? 0 : 90);
  }

  toScreen([x, y]) {
    const half = Math.min(this.width, this.height) / 2;
    return [this.width / 2 + x * half, this.height / 2 - y * half];
  }

  fromScreen(x, y) {
    const half = Math.min(this.width, this.height) / 2;
    return [(x - this.width / 2) / half, (this.height / 2 - y) / half];
  }

  /** Picks what is seen at the point of the window, and tells of an edge near it; lets go where there is nothing. */
  pickAt(clientX, clientY) {
    const box = this.canvas.getBoundingClientRect();
    const [x, y] = this.fromScreen(clientX - box.left, clientY - box.top);
    const hit = this.stage.hit(x, y);
    if (hit === null) {
      this.pick(null);
      return;
    }
    const edge = this.stage.edgeNear(hit, x, y, edgeReach / (Math.min(this.width, this.height) / 2));
    this.pick(hit.piece.name, edge === null ? null : edge.angles);
  }

  /** For tests and for the curious: each piece on the bench with its blocks' poses. */
  poses() {
    return this.stage.places.flatMap((place, block) =>
      place === null ? [] : [{ block, piece: place.piece.name, pose: [...place.pose] }]);
  }
}

function start() {
  const section = byId('view');
  if (section === null || document.querySelector('script.plan-data') === null) return;
  byId('view-missing').hidden = true;
  section.hidden = false;
  let drawing = null;
  try {
    drawing = Drawing.on(byId('view-canvas'));
  } catch {
    // The same as having none.
  }
  if (drawing === null) {
    byId('view-body').hidden = true;
    byId('view-notice').textContent =
      'The view in space is not here: this browser offers no WebGL 2. All pictures and texts are.';
    byId('view-notice').hidden = false;
    return;
  }
  const view = new View(drawing);
  window.cutproofView = view;
  view.open([...view.plans.keys()][0]);
}

start();
