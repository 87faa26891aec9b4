// SPDX-License-Identifier: GPL-3.0-or-later
// Where everything is at a moment: a number whose whole part is a state of the scene and whose rest is the time on the way to
// the next one. Pieces move there as screws, mirrored ones fade over, cuts open and close again.

import { composed, inverse, isMirroring, sameMotion, screwBetween } from './motion.js';

export function eased(t) {
  return t * t * (3 - 2 * t);
}

export class Timeline {
  constructor(scene) {
    this.scene = scene;
    this.step = null;
  }

  // What happens to each block between a state and the next: the way it goes, and the piece that it is shown as.
  #between(state) {
    if (this.step !== null && this.step.state === state) return this.step;
    let parts = false;
    const ways = this.scene.blocks.map((_, block) => {
      const from = this.scene.poseAt(block, state);
      const to = this.scene.poseAt(block, state + 1);
      const before = this.scene.pieceOf(block, state);
      const after = this.scene.pieceOf(block, state + 1);
      const parted = before !== null && after !== null && after.blocks.length < before.blocks.length;
      parts ||= parted;
      const mirrored = from !== null && to !== null && isMirroring(composed(to, inverse(from)));
      const path = from === null || to === null || mirrored || sameMotion(from, to) ? null : screwBetween(from, to);
      return { from, to, piece: parted || before === null ? after : before, mirrored, path };
    });
    this.step = { state, ways, parts };
    return this.step;
  }

  /** Names of the pieces that the step into the state turns into their mirror images. */
  mirroredInto(state) {
    if (state < 1) return [];
    const names = new Set();
    for (const way of this.#between(state - 1).ways) {
      if (way.mirrored && way.piece !== null) names.add(way.piece.name);
    }
    return [...names];
  }

  /** How far a cut stands open, from 0 to 1: half-way to a state that parts a piece. */
  openAt(moment) {
    const state = Math.floor(moment);
    if (moment === state || state >= this.scene.last) return 0;
    return this.#between(state).parts ? Math.sin(Math.PI * (moment - state)) : 0;
  }

  /** For each block null, or { piece, pose, alpha }. */
  at(moment) {
    const state = Math.min(Math.floor(moment), this.scene.last);
    const t = moment - state;
    if (t === 0) {
      return this.scene.blocks.map((_, block) => {
        const pose = this.scene.poseAt(block, state);
        const piece = this.scene.pieceOf(block, state);
        return pose === null || piece === null ? null : { piece, pose, alpha: 1 };
      });
    }
    return this.#between(state).ways.map(({ from, to, piece, mirrored, path }) => {
      if (piece === null || (from === null && to === null)) return null;
      if (from === null) return { piece, pose: to, alpha: t };
      if (to === null) return { piece, pose: from, alpha: 1 - t };
      if (mirrored) return { piece, pose: t < 0.5 ? from : to, alpha: Math.abs(1 - 2 * t) };
      return { piece, pose: path === null ? to : path(eased(t)), alpha: 1 };
    });
  }
}
