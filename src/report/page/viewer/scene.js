// SPDX-License-Identifier: GPL-3.0-or-later
// A scene (docs/scene.schema.json) told as a timeline: which pieces there are after each step, and where each block lies.
// The file says only what changes from state to state, so each block and piece keeps the list of its changes.

import { identity } from './motion.js';

function numbersAreFinite(value) {
  return Array.isArray(value) ? value.every(numbersAreFinite) : typeof value !== 'number' || Number.isFinite(value);
}

// The last entry that is not after the state; entries are [state, value] by increasing state.
function lastUpTo(changes, state) {
  let low = 0;
  let high = changes.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (changes[middle][0] <= state) low = middle + 1;
    else high = middle;
  }
  return low > 0 ? changes[low - 1][1] : undefined;
}

export class Scene {
  /** Throws an Error, whose message says so to the reader, for coordinates that cannot be drawn. */
  constructor(data) {
    this.blocks = data.blocks ?? [];
    this.states = data.states ?? [];
    this.regions = data.regions ?? [];
    this.goals = data.goals ?? [];
    this.flat = data.dimension === 2;
    const drawable = (solid) => numbersAreFinite(solid.vertices) && solid.vertices.flat().every((x) => x !== null);
    if (!this.blocks.every(drawable) || !this.regions.every(drawable) || !this.goals.every(drawable)) {
      throw new Error('Some coordinates are too large to be drawn.');
    }
    this.pieces = [];
    this.poseChanges = this.blocks.map(() => []);
    this.pieceChanges = this.blocks.map(() => []);
    const present = new Map();
    this.states.forEach((state, k) => {
      for (const [block, pose] of state.poses ?? []) this.poseChanges[block].push([k, pose]);
      for (const name of state.gone ?? []) {
        const piece = present.get(name);
        if (piece === undefined) continue;
        piece.died = k;
        present.delete(name);
      }
      for (const { name, blocks, edges } of state.pieces ?? []) {
        let piece = present.get(name);
        if (piece === undefined || piece.blocks.join() !== blocks.join()) {
          if (piece !== undefined) piece.died = k;
          piece = { name, blocks, born: k, died: Infinity, edges: [] };
          present.set(name, piece);
          this.pieces.push(piece);
        }
        for (const block of blocks) this.pieceChanges[block].push([k, piece]);
        if (edges !== undefined) piece.edges.push([k, edges]);
      }
    });
  }

  get last() {
    return this.states.length - 1;
  }

  /** Null while the block is not there. */
  poseAt(block, state) {
    const pose = lastUpTo(this.poseChanges[block], state);
    return pose === undefined ? identity : pose;
  }

  /** Null where no piece holds the block. */
  pieceOf(block, state) {
    const piece = lastUpTo(this.pieceChanges[block], state);
    return piece !== undefined && piece.died > state ? piece : null;
  }

  piecesAt(state) {
    return this.pieces.filter((piece) => piece.born <= state && state < piece.died);
  }
}
