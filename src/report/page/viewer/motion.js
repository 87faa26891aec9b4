// SPDX-License-Identifier: GPL-3.0-or-later
// Rigid motions as twelve numbers (three rows of a matrix, then a shift), and the way from one place to another: every
// proper motion is a screw, a rotation about an axis with a slide along it (M. Chasles, 1830; that the axis exists and how it
// is found: O. Bottema and B. Roth, "Theoretical Kinematics", North-Holland 1979, chapter 3; from memory). Doubles: this
// draws and decides nothing.

export const identity = Object.freeze([1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0]);

export const add = (a, b) => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
export const subtract = (a, b) => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const times = (a, s) => [a[0] * s, a[1] * s, a[2] * s];
export const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
export const length = (a) => Math.hypot(a[0], a[1], a[2]);

export function turned(m, p) {
  return [
    m[0] * p[0] + m[1] * p[1] + m[2] * p[2],
    m[3] * p[0] + m[4] * p[1] + m[5] * p[2],
    m[6] * p[0] + m[7] * p[1] + m[8] * p[2],
  ];
}

export function moved(m, p) {
  return add(turned(m, p), [m[9], m[10], m[11]]);
}

/** First b, then a. */
export function composed(a, b) {
  const rows = [];
  for (let i = 0; i < 3; ++i) {
    for (let j = 0; j < 3; ++j) {
      rows.push(a[3 * i] * b[j] + a[3 * i + 1] * b[3 + j] + a[3 * i + 2] * b[6 + j]);
    }
  }
  return [...rows, ...moved(a, [b[9], b[10], b[11]])];
}

/** Of a rigid motion: its matrix's inverse is its transpose. */
export function inverse(m) {
  const back = [m[0], m[3], m[6], m[1], m[4], m[7], m[2], m[5], m[8], 0, 0, 0];
  const shift = turned(back, [m[9], m[10], m[11]]);
  return [...back.slice(0, 9), -shift[0], -shift[1], -shift[2]];
}

export function isMirroring(m) {
  return dot([m[0], m[1], m[2]], cross([m[3], m[4], m[5]], [m[6], m[7], m[8]])) < 0;
}

export function sameMotion(a, b) {
  for (let i = 0; i < 12; ++i) {
    if (a[i] !== b[i]) return false;
  }
  return true;
}

/** The rotation by the angle (radians) about the line through the point along the unit vector (O. Rodrigues, 1840), then the
 * slide along it. */
export function screwMotion({ point, direction: u, angle, along }) {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const d = 1 - c;
  const rows = [
    c + u[0] * u[0] * d, u[0] * u[1] * d - u[2] * s, u[0] * u[2] * d + u[1] * s,
    u[1] * u[0] * d + u[2] * s, c + u[1] * u[1] * d, u[1] * u[2] * d - u[0] * s,
    u[2] * u[0] * d - u[1] * s, u[2] * u[1] * d + u[0] * s, c + u[2] * u[2] * d,
  ];
  const shift = add(subtract(point, turned(rows, point)), times(u, along));
  return [...rows, ...shift];
}

/** The screw of a proper motion: the shorter way round, between 0 and pi. */
export function screwOf(m) {
  const shift = [m[9], m[10], m[11]];
  const skew = [m[7] - m[5], m[2] - m[6], m[3] - m[1]]; // 2 sin(angle) u
  const angle = Math.atan2(length(skew), m[0] + m[4] + m[8] - 1);
  if (angle < 1e-12) {
    const along = length(shift);
    return { point: [0, 0, 0], direction: along > 0 ? times(shift, 1 / along) : [0, 0, 1], angle: 0, along };
  }
  // Twice the symmetric part is (1 - cos) 2 u u^T + 2 cos: its largest column gives u well, also near a half-turn.
  const c = Math.cos(angle);
  const columns = [0, 1, 2].map((j) =>
    [0, 1, 2].map((i) => (m[3 * i + j] + m[3 * j + i]) / 2 - (i === j ? c : 0)));
  let direction = columns.reduce((a, b) => (length(b) > length(a) ? b : a));
  direction = times(direction, 1 / length(direction));
  if (dot(direction, skew) < 0) direction = times(direction, -1);
  const along = dot(shift, direction);
  const across = subtract(shift, times(direction, along));
  // (1 - R) point = across, for a point in the plane across the axis.
  const point = times(add(across, times(cross(direction, across), 1 / Math.tan(angle / 2))), 0.5);
  return { point, direction, angle, along };
}

/** The pose at the time t from 0 to 1 on the screw from one pose to another. Neither is a mirror image of the other. */
export function screwBetween(from, to) {
  const whole = composed(to, inverse(from));
  const screw = screwOf(whole);
  return (t) => {
    if (t <= 0) return from;
    if (t >= 1) return to;
    return composed(screwMotion({ ...screw, angle: screw.angle * t, along: screw.along * t }), from);
  };
}
