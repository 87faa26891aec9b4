// SPDX-License-Identifier: GPL-3.0-or-later
// Exact angles: a rational multiple of pi plus rational multiples of angles given by a ray.
#pragma once

#include "number/number.hpp"

#include <utility>
#include <vector>

namespace cutproof {

/// The angle in (0, pi/2) of the ray through (x, sqrt(y2)) with x, y2 > 0: its cosine is x / sqrt(x^2 + y2), its sine
/// sqrt(y2) / sqrt(x^2 + y2). No root needs adjoining until a cosine is asked for.
struct RayAngle {
  Number x, y2;
};

/// pi_multiple * pi + sum of multiple * ray. Like rays are collected (multiples are never 0), and rays whose squared cosine
/// is rational and that are rational multiples of pi (I. Niven: 30, 45 and 60 degrees) are in the multiple of pi. Multiples
/// are elements of Q.
struct Angle {
  Number pi_multiple;
  std::vector<std::pair<Number, RayAngle>> rays;
  bool is_rational_multiple_of_pi() const { return rays.empty(); }
};

/// multiple * pi.
Angle pi_angle(const Number& rational_multiple);
/// multiple * 1 degree.
Angle degrees_angle(const Number& rational_multiple);
/// The angle in [0, pi] of the ray through (x, sqrt(y2)), y2 >= 0, not both 0 (InvalidInput). acos(a) is the ray (a, 1 -
/// a^2), the angle of two vectors u, v the ray (u.v, |u x v|^2), atan(t) for t >= 0 the ray (1, t^2).
Angle ray_angle(const Number& x, const Number& y2);
/// InvalidInput unless -1 <= cosine <= 1.
Angle arc_cosine(const Number& cosine);
Angle arc_sine(const Number& sine);
Angle arc_tangent(const Number& tangent);

Angle operator+(const Angle& a, const Angle& b);
Angle operator-(const Angle& a);
Angle operator-(const Angle& a, const Angle& b);
/// The factor is rational.
Angle operator*(const Number& factor, const Angle& angle);

/// Encloses the angle, in radians.
void enclose(const Angle& angle, arb_t ball, slong precision);

}  // namespace cutproof
