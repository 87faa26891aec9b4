// SPDX-License-Identifier: GPL-3.0-or-later
// What is needed of a solid to draw it and to tell about it, from its corners and facets: triangles, edges, centre of mass.

import { ShapeUtils, Vector2 } from 'three';

import { add, cross, dot, length, subtract, times } from './motion.js';

/** Twice the area, along the normal (M. E. Newell's sum). */
function areaVector(cycle, vertices) {
  let sum = [0, 0, 0];
  for (let i = 0; i < cycle.length; ++i) {
    const a = subtract(vertices[cycle[i]], vertices[cycle[0]]);
    const b = subtract(vertices[cycle[(i + 1) % cycle.length]], vertices[cycle[0]]);
    sum = add(sum, cross(a, b));
  }
  return sum;
}

function triangles(facet, vertices, normal) {
  if (facet.length === 1 && facet[0].length === 3) return [facet[0]];
  // Seen along the axis nearest to the normal, with the orientation kept.
  const [x, y, z] = normal.map(Math.abs);
  const [i, j] = z >= x && z >= y ? [0, 1] : x >= y ? [1, 2] : [2, 0];
  const largest = normal[3 - i - j];
  const origin = vertices[facet[0][0]];
  let scale = 0;
  for (const corner of facet[0]) scale = Math.max(scale, length(subtract(vertices[corner], origin)));
  const flat = (corner) => {
    const p = times(subtract(vertices[corner], origin), 1 / scale);
    return largest > 0 ? new Vector2(p[i], p[j]) : new Vector2(p[j], p[i]);
  };
  const all = facet.flat();
  const [outer, ...holes] = facet.map((cycle) => cycle.map(flat));
  return ShapeUtils.triangulateShape(outer, holes).map((triangle) => triangle.map((k) => all[k]));
}

/** Corners relative to the centre of mass, so that small solids far away stay sharp in single precision. */
export class Solid {
  constructor({ vertices, facets }) {
    this.normals = [];
    this.triangles = []; // [corner, corner, corner, facet]
    facets.forEach((facet, f) => {
      const area = areaVector(facet[0], vertices);
      const size = length(area);
      this.normals.push(size > 0 ? times(area, 1 / size) : [0, 0, 1]);
      for (const triangle of triangles(facet, vertices, this.normals[f])) this.triangles.push([...triangle, f]);
    });
    const origin = vertices[0] ?? [0, 0, 0];
    let six = 0;
    let sum = [0, 0, 0];
    for (const [a, b, c] of this.triangles) {
      const [p, q, r] = [a, b, c].map((k) => subtract(vertices[k], origin));
      const part = dot(p, cross(q, r));
      six += part;
      sum = add(sum, times(add(p, add(q, r)), part));
    }
    this.volume = six / 6;
    const middle = vertices.reduce((a, b) => add(a, times(subtract(b, origin), 1 / vertices.length)), [0, 0, 0]);
    const centre = times(sum, 1 / (4 * six));
    this.centre = add(origin, centre.every(Number.isFinite) ? centre : middle);
    this.corners = vertices.map((vertex) => subtract(vertex, this.centre));
    this.radius = this.corners.reduce((most, corner) => Math.max(most, length(corner)), 0);
    this.edges = this.#edges(facets);
  }

  // Each with its dihedral angles in degrees: one, or more where the solid touches itself along the edge.
  #edges(facets) {
    const sides = new Map();
    facets.forEach((facet, f) => {
      for (const cycle of facet) {
        cycle.forEach((from, i) => {
          const to = cycle[(i + 1) % cycle.length];
          const key = from < to ? `${from},${to}` : `${to},${from}`;
          if (!sides.has(key)) sides.set(key, { from: Math.min(from, to), to: Math.max(from, to), uses: [] });
          sides.get(key).uses.push({ f, forward: from < to });
        });
      }
    });
    return [...sides.values()].map(({ from, to, uses }) => ({ from, to, angles: this.#angles(from, to, uses) }));
  }

  #angles(from, to, uses) {
    const along = subtract(this.corners[to], this.corners[from]);
    const unit = times(along, 1 / length(along));
    // Each facet's direction away from the edge; the solid lies on the side against the facet's normal.
    const rays = uses.map(({ f, forward }) => {
      const inward = cross(this.normals[f], times(unit, forward ? 1 : -1));
      return { inward, forward };
    });
    const first = rays[0].inward;
    const second = cross(unit, first);
    const turn = ({ inward }) => (Math.atan2(dot(inward, second), dot(inward, first)) + 2 * Math.PI) % (2 * Math.PI);
    const angles = [];
    for (const ray of rays.filter((each) => each.forward)) {
      // Seen along the edge, the solid lies clockwise of a facet that runs forward, as far as the next that runs back.
      let best = 2 * Math.PI;
      for (const other of rays.filter((each) => !each.forward)) {
        const angle = (turn(ray) - turn(other) + 4 * Math.PI) % (2 * Math.PI);
        best = Math.min(best, angle);
      }
      angles.push((best * 180) / Math.PI);
    }
    return angles;
  }
}
