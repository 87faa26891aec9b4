// SPDX-License-Identifier: GPL-3.0-or-later
// Names on the pieces: each stands on a point of its piece that is seen, and is left out where there is none.

import { add, dot, times, turned } from './motion.js';

const mostNames = 60;

export class Names {
  constructor(layer, onPick) {
    this.layer = layer;
    this.onPick = onPick;
    this.labels = new Map();
    this.anchors = new Map();
  }

  clear() {
    this.layer.replaceChildren();
    this.labels.clear();
    this.anchors.clear();
  }

  #label(name) {
    if (!this.labels.has(name)) {
      const label = document.createElement('span');
      label.textContent = name;
      label.dataset.piece = name;
      label.addEventListener('click', () => this.onPick(name));
      this.layer.append(label);
      this.labels.set(name, label);
    }
    return this.labels.get(name);
  }

  /** Looks for a place for each name anew; toScreen turns what the reader sees into pixels, fromScreen back. */
  arrange(stage, concerned, toScreen, fromScreen) {
    this.anchors.clear();
    const pieces = new Map();
    stage.places.forEach((place, block) => {
      if (place === null || place.alpha < 0.5) return;
      if (!pieces.has(place.piece)) pieces.set(place.piece, []);
      pieces.get(place.piece).push(block);
    });
    const all = pieces.size <= mostNames;
    const taken = [];
    for (const [piece, blocks] of pieces) {
      if (!all && piece.name !== stage.picked && !concerned.has(piece.name)) continue;
      const label = this.#label(piece.name);
      label.hidden = false;
      const [width, height] = [label.offsetWidth, label.offsetHeight];
      const anchor = bestAnchor(stage, piece, blocks, width, height, taken, toScreen, fromScreen);
      if (anchor === null) continue;
      taken.push(anchor.box);
      this.anchors.set(piece.name, anchor);
    }
    this.follow(stage, toScreen);
  }

  /** Moves the names with their pieces. */
  follow(stage, toScreen) {
    for (const [name, label] of this.labels) {
      const anchor = this.anchors.get(name);
      const there = anchor !== undefined && stage.places[anchor.block] !== null;
      label.hidden = !there;
      if (!there) continue;
      const [x, y] = toScreen(stage.seen(anchor.block, anchor.point));
      label.style.transform = `translate(${x.toFixed(1)}px, ${y.toFixed(1)}px) translate(-50%, -50%)`;
      label.classList.toggle('picked', name === stage.picked);
    }
  }
}

// Centres of the piece's blocks and of their facets that face the reader, the largest as seen first. Best where the whole
// name stands on the piece; else its middle does.
function bestAnchor(stage, piece, blocks, width, height, taken, toScreen, fromScreen) {
  const candidates = [];
  for (const block of blocks.slice(0, 20)) {
    const solid = stage.solids[block];
    const { matrix } = stage.places[block];
    const toReader = stage.seenFrom.slice(6, 9);
    const facets = new Map();
    for (const [i, j, k, facet] of solid.triangles.slice(0, 400)) {
      const normal = solid.normals[facet];
      if (dot(toReader, turned(matrix, normal)) <= 0) continue;
      const [p, q, r] = [i, j, k].map((corner) => stage.seen(block, solid.corners[corner]));
      const area = Math.abs((q[0] - p[0]) * (r[1] - p[1]) - (r[0] - p[0]) * (q[1] - p[1]));
      const middle = times(add(solid.corners[i], add(solid.corners[j], solid.corners[k])), 1 / 3);
      const entry = facets.get(facet) ?? { area: 0, sum: [0, 0, 0], triangles: [] };
      entry.area += area;
      entry.sum = add(entry.sum, times(middle, area));
      entry.triangles.push({ area, middle });
      facets.set(facet, entry);
    }
    for (const { area, sum, triangles } of facets.values()) {
      if (area === 0) continue;
      candidates.push({ block, area, point: times(sum, 1 / area) });
      for (const triangle of triangles.slice(0, 6)) {
        candidates.push({ block, area: triangle.area * 0.999, point: triangle.middle });
      }
    }
  }
  candidates.sort((a, b) => b.area - a.area);
  let fallback = null;
  for (const candidate of candidates.slice(0, 12)) {
    const [x, y] = toScreen(stage.seen(candidate.block, candidate.point));
    const box = [x - width / 2, y - height / 2, x + width / 2, y + height / 2];
    if (taken.some((other) => box[0] < other[2] && other[0] < box[2] && box[1] < other[3] && other[1] < box[3])) continue;
    const isSeen = (dx, dy) => stage.hit(...fromScreen(x + dx, y + dy))?.piece === piece;
    if (!isSeen(0, 0)) continue;
    const anchor = { ...candidate, box };
    if (isSeen(-width / 2, 0) && isSeen(width / 2, 0)) return anchor;
    fallback ??= anchor;
  }
  return fallback;
}
