// SPDX-License-Identifier: GPL-3.0-or-later
// One plan on the stage: from the moment, how far apart things are and what is picked follow the rows that the drawing needs;
// turning and zooming change none of them. Everything is calculated in doubles about the middle of what is seen, so that
// neither small nor far pieces tremble; the drawing's single precision only sees numbers near 1.

import { add, dot, identity, inverse, length, moved, subtract, times, turned } from './motion.js';
import { Timeline, eased } from './moment.js';
import { Scene } from './scene.js';
import { Solid } from './solids.js';

const apartMost = 1.5; // by how much more than 1 the pieces' centres are scaled
const openMost = 0.35; // the same half-way through a cut
const oneScale = 3; // states whose reach differs by less are drawn in one scale

const paper = [0.98, 0.97, 0.945];
const ink = [0.1, 0.09, 0.08];
const regionInk = [0.66, 0.06, 0.1];
// P. Tol, Colour Schemes, SRON/EPS/TN/09-002: "bright", in the order of the pictures.
const colours = ['4477AA', 'EE6677', 'CCBB44', '66CCEE', '228833', 'AA3377', 'BBBBBB']
  .map((text) => [0, 2, 4].map((i) => parseInt(text.slice(i, i + 2), 16) / 255));

const regionKinds = { overlap: 0, missing: 1, excess: 2 };

const mixed = (a, b, share) => a.map((x, i) => x * (1 - share) + b[i] * share);

/** { colour: 0 to 6, hatch: 0 to 6 } for the n-th of the pieces at the end. */
export function defaultPaint(n) {
  return [n % 7, Math.floor(n / 7) % 7];
}

export class Stage {
  constructor(plan) {
    this.scene = new Scene(plan.scene);
    this.solids = this.scene.blocks.map((block) => new Solid(block));
    this.regionSolids = this.scene.regions.map((region) => new Solid(region));
    this.timeline = new Timeline(this.scene);
    this.moment = this.scene.last;
    this.azimuth = plan.azimuth ?? (this.scene.flat ? 0 : -62);
    this.elevation = plan.elevation ?? (this.scene.flat ? 90 : 24);
    this.zoom = 1;
    this.apart = 0;
    this.picked = null; // a piece's name
    this.places = []; // of blocks, as last calculated: null, or { piece, pose, alpha, matrix, shift }
    this.#paint(plan.colours ?? {});
    this.#layRows();
    this.fits = new Map();
  }

  #paint(given) {
    const order = new Map();
    this.paints = this.scene.blocks.map((block, i) => {
      const owner = block.end_piece ?? this.scene.pieceOf(i, this.scene.last)?.name ?? `block ${i}`;
      if (!order.has(owner)) order.set(owner, order.size);
      const [colour, hatch] = Object.hasOwn(given, owner) ? given[owner] : defaultPaint(order.get(owner));
      return { colour: colours[colour % 7], name: owner, base: colour % 7, hatch };
    });
  }

  #layRows() {
    const blocks = this.scene.blocks.length;
    this.joined = this.scene.pieces.filter((piece) => piece.blocks.length > 1 && piece.edges.length > 0);
    this.joinedRow = new Map(this.joined.map((piece, i) => [piece, 2 * blocks + i]));
    this.regionRow = 2 * blocks + this.joined.length;
    this.rowCount = this.regionRow + this.regionSolids.length;
  }

  /** What the drawing shows of this plan. */
  things() {
    const blocks = this.scene.blocks.length;
    const lines = this.solids.map((solid, i) => ({ row: blocks + i, segments: segmentsOf(solid) }));
    for (const piece of this.joined) {
      // Told as they lie in one state; kept in the place of the piece's first block, about that block's centre.
      const [state, segments] = piece.edges[0];
      const pose = this.scene.poseAt(piece.blocks[0], state) ?? identity;
      const back = inverse(pose);
      const centre = this.solids[piece.blocks[0]].centre;
      const home = (point) => subtract(moved(back, point), centre);
      lines.push({ row: this.joinedRow.get(piece), segments: segments.map(([p, q]) => [home(p), home(q)]) });
    }
    const regionThings = this.regionSolids.map((solid, i) => ({ row: this.regionRow + i, solid }));
    return {
      faces: this.solids.map((solid, row) => ({ row, solid })),
      lines,
      regions: regionThings,
      regionLines: regionThings.map(({ row, solid }) => ({ row, segments: segmentsOf(solid) })),
      count: this.rowCount,
    };
  }

  /** Rows of the rotation and zoom that carry places before the reader: x to the right, y up, z towards the reader. */
  get view() {
    const [a, e] = [this.azimuth, this.elevation].map((degrees) => (degrees * Math.PI) / 180);
    const toReader = [Math.cos(e) * Math.sin(a), -Math.cos(e) * Math.cos(a), Math.sin(e)];
    const right = [Math.cos(a), Math.sin(a), 0];
    const up = [-Math.sin(e) * Math.sin(a), Math.sin(e) * Math.cos(a), Math.cos(e)];
    return times9([...right, ...up, ...toReader], this.zoom);
  }

  turn(azimuth, elevation) {
    this.azimuth = ((((this.azimuth + azimuth + 180) % 360) + 360) % 360) - 180;
    this.elevation = Math.max(-90, Math.min(90, this.elevation + elevation));
  }

  // The middle and the reach of what lies on the bench in a state: of the box around all corners.
  #fitOf(state) {
    if (this.fits.has(state)) return this.fits.get(state);
    const low = [Infinity, Infinity, Infinity];
    const high = [-Infinity, -Infinity, -Infinity];
    const points = [];
    const take = (point) => {
      points.push(point);
      for (let k = 0; k < 3; ++k) {
        low[k] = Math.min(low[k], point[k]);
        high[k] = Math.max(high[k], point[k]);
      }
    };
    this.scene.blocks.forEach((_, block) => {
      const pose = this.scene.poseAt(block, state);
      if (pose === null || this.scene.pieceOf(block, state) === null) return;
      const { corners, centre } = this.solids[block];
      for (const corner of corners) take(moved(pose, add(corner, centre)));
    });
    this.scene.regions.forEach((region, i) => {
      if (region.step !== this.scene.states[state].step) return;
      for (const corner of this.regionSolids[i].corners) take(add(corner, this.regionSolids[i].centre));
    });
    const fit = { centre: [0, 0, 0], reach: 1 };
    if (points.length > 0) {
      fit.centre = times(add(low, high), 0.5);
      fit.reach = points.reduce((most, point) => Math.max(most, length(subtract(point, fit.centre))), 0) || 1;
    }
    this.fits.set(state, fit);
    return fit;
  }

  // Between states the middle goes along. The scale stays, where the states are of about one size.
  #fit() {
    const state = Math.floor(this.moment);
    const t = eased(this.moment - state);
    const from = this.#fitOf(state);
    const to = t === 0 ? from : this.#fitOf(state + 1);
    const centre = add(times(from.centre, 1 - t), times(to.centre, t));
    const common = this.#commonReach();
    if (common !== null) return { centre, reach: common };
    const part = from.reach > to.reach ? t * t : 1 - (1 - t) * (1 - t); // the larger reach for the longer time
    return { centre, reach: from.reach * Math.pow(to.reach / from.reach, part) };
  }

  #commonReach() {
    if (this.reach === undefined) {
      const reaches = this.scene.states.map((_, state) => this.#fitOf(state).reach);
      const largest = reaches.reduce((a, b) => Math.max(a, b));
      this.reach = largest < oneScale * reaches.reduce((a, b) => Math.min(a, b)) ? largest : null;
    }
    return this.reach;
  }

  /** Calculates where everything lies; false where that has not changed. */
  place() {
    const key = `${this.moment} ${this.apart}`;
    this.seenFrom = this.view;
    this.seenCentres = null;
    if (key === this.placed) return false;
    this.placed = key;
    const { centre, reach } = this.#fit();
    const apart = this.apart * apartMost + this.timeline.openAt(this.moment) * openMost;
    const scale = 0.97 / (reach * (1 + 0.62 * this.apart * apartMost));
    const now = this.timeline.at(this.moment);
    const shifts = this.#shifts(now, centre, apart);
    this.scale = scale;
    this.places = now.map((entry, block) => {
      if (entry === null) return null;
      const { piece, pose, alpha } = entry;
      const at = subtract(add(moved(pose, this.solids[block].centre), shifts.get(piece)), centre);
      return { piece, pose, alpha, matrix: times9(pose, scale), shift: times(at, scale) };
    });
    const state = Math.round(this.moment);
    this.regionPlaces = this.regionSolids.map((solid, i) =>
      this.moment === state && this.scene.states[state].step === this.scene.regions[i].step &&
        { matrix: times9(identity, scale), shift: times(subtract(solid.centre, centre), scale) });
    return true;
  }

  // Coming apart: the pieces' centres of mass are scaled about the middle.
  #shifts(now, centre, apart) {
    const shifts = new Map();
    now.forEach((entry, block) => {
      if (entry === null) return;
      const weight = this.solids[block].volume || 1e-300;
      const at = times(subtract(moved(entry.pose, this.solids[block].centre), centre), weight);
      const sum = shifts.get(entry.piece) ?? { at: [0, 0, 0], weight: 0 };
      shifts.set(entry.piece, { at: add(sum.at, at), weight: sum.weight + weight });
    });
    for (const [piece, { at, weight }] of shifts) shifts.set(piece, times(at, apart / weight));
    return shifts;
  }

  /** Writes the places and colours into the drawing's rows. */
  fill(rows) {
    const blocks = this.scene.blocks.length;
    const shown = new Set();
    const picking = this.picked !== null && this.places.some((place) => place !== null && place.piece.name === this.picked);
    this.places.forEach((place, block) => {
      if (place === null) {
        rows.hide(block);
        rows.hide(blocks + block);
        return;
      }
      const { piece, matrix, shift, alpha } = place;
      const pale = picking && piece.name !== this.picked;
      const { colour, hatch } = this.paints[block];
      rows.set(block, matrix, shift, pale ? mixed(colour, paper, 0.82) : colour, alpha, pale ? 0 : hatch);
      const line = pale ? mixed(ink, paper, 0.6) : ink;
      if (!this.joinedRow.has(piece)) {
        rows.set(blocks + block, matrix, shift, line, alpha, 0);
        return;
      }
      rows.hide(blocks + block);
      if (piece.blocks[0] !== block) return;
      rows.set(this.joinedRow.get(piece), matrix, shift, line, alpha, 0);
      shown.add(piece);
    });
    for (const [piece, row] of this.joinedRow) {
      if (!shown.has(piece)) rows.hide(row);
    }
    this.regionPlaces.forEach((place, i) => {
      const row = this.regionRow + i;
      if (!place) rows.hide(row);
      else rows.set(row, place.matrix, place.shift, regionInk, 1, regionKinds[this.scene.regions[i].kind] ?? 0);
    });
  }

  /** A corner of a block, or the point relative to its centre, as the reader sees it. */
  seen(block, point) {
    const { matrix, shift } = this.places[block];
    return turned(this.seenFrom, add(turned(matrix, point), shift));
  }

  /** The block that is seen at a point, or null; `depth` is towards the reader. */
  hit(x, y) {
    this.seenCentres ??= this.places.map((place) => place && turned(this.seenFrom, place.shift));
    let best = null;
    this.places.forEach((place, block) => {
      if (place === null || place.alpha < 0.5) return;
      const solid = this.solids[block];
      const reach = solid.radius * this.scale * this.zoom * 1.0001;
      const centre = this.seenCentres[block];
      if (Math.abs(x - centre[0]) > reach || Math.abs(y - centre[1]) > reach) return;
      if (best !== null && centre[2] + reach < best.depth) return;
      const corners = solid.corners.map((corner) => this.seen(block, corner));
      for (const [i, j, k, facet] of solid.triangles) {
        const depth = depthAt(x, y, corners[i], corners[j], corners[k]);
        if (depth !== null && (best === null || depth > best.depth)) best = { block, piece: place.piece, facet, depth };
      }
    });
    return best;
  }

  /** The edge of the piece nearest to the point where it was hit, within the distance, with its angles in degrees. */
  edgeNear(hit, x, y, distance) {
    let best = null;
    for (const block of hit.piece.blocks) {
      if (this.places[block] === null) continue;
      const solid = this.solids[block];
      for (const { from, to, angles } of solid.edges) {
        const [p, q] = [from, to].map((corner) => this.seen(block, solid.corners[corner]));
        const way = subtract(q, p);
        const flat = way[0] * way[0] + way[1] * way[1];
        const t = flat > 0 ? Math.max(0, Math.min(1, ((x - p[0]) * way[0] + (y - p[1]) * way[1]) / flat)) : 0;
        const near = add(p, times(way, t));
        const off = Math.hypot(near[0] - x, near[1] - y);
        if (off > distance || near[2] < hit.depth - 4 * distance) continue;
        if (best === null || off < best.off) best = { off, block, from, to, angles, t };
      }
    }
    if (best === null || hit.piece.blocks.length === 1) return best;
    return this.#joinedEdge(best, hit.piece);
  }

  // Of a piece of several blocks: the angles of all blocks along the edge add up; 180 or 360 degrees are no edge.
  #joinedEdge(edge, piece) {
    const solid = this.solids[edge.block];
    const [p, q] = [edge.from, edge.to].map((corner) => this.seen(edge.block, solid.corners[corner]));
    const middle = add(p, times(subtract(q, p), 0.01 + 0.98 * edge.t));
    const tiny = 1e-7;
    let sum = 0;
    for (const block of piece.blocks) {
      const other = this.solids[block];
      const corners = other.corners.map((corner) => this.seen(block, corner));
      const along = other.edges.find(({ from, to }) => distanceTo(middle, corners[from], corners[to]) < tiny);
      if (along !== undefined) sum += along.angles.reduce((a, b) => a + b, 0);
      else if (other.triangles.some(([i, j, k]) => liesOn(middle, corners[i], corners[j], corners[k], tiny))) sum += 180;
    }
    return Math.abs(sum - 180) < 1e-6 || Math.abs(sum - 360) < 1e-6 ? null : { ...edge, angles: [sum] };
  }
}

function segmentsOf(solid) {
  return solid.edges.map(({ from, to }) => [solid.corners[from], solid.corners[to]]);
}

// The matrix of a motion, scaled.
function times9(m, s) {
  return [m[0] * s, m[1] * s, m[2] * s, m[3] * s, m[4] * s, m[5] * s, m[6] * s, m[7] * s, m[8] * s];
}

function depthAt(x, y, a, b, c) {
  const area = (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1]);
  if (Math.abs(area) < 1e-14) return null;
  const u = ((b[0] - x) * (c[1] - y) - (c[0] - x) * (b[1] - y)) / area;
  const v = ((c[0] - x) * (a[1] - y) - (a[0] - x) * (c[1] - y)) / area;
  const w = 1 - u - v;
  return u < 0 || v < 0 || w < 0 ? null : u * a[2] + v * b[2] + w * c[2];
}

function distanceTo(point, p, q) {
  const way = subtract(q, p);
  const t = Math.max(0, Math.min(1, dot(subtract(point, p), way) / (dot(way, way) || 1)));
  return length(subtract(add(p, times(way, t)), point));
}

function liesOn(point, a, b, c, tiny) {
  const [u, v] = [subtract(b, a), subtract(c, a)];
  const normal = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
  const size = length(normal);
  if (size === 0 || Math.abs(dot(subtract(point, a), normal)) / size > tiny) return false;
  const k = [0, 1, 2].reduce((best, i) => (Math.abs(normal[i]) > Math.abs(normal[best]) ? i : best), 0);
  const [i, j] = [(k + 1) % 3, (k + 2) % 3];
  return depthAt(point[i], point[j], [a[i], a[j], 0], [b[i], b[j], 0], [c[i], c[j], 0]) !== null;
}
