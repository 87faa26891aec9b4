// SPDX-License-Identifier: GPL-3.0-or-later
// Angles are kept as they are written; only like terms are collected.
#include "number/angle.hpp"
#include "number/complaint.hpp"

#include "number/flint.hpp"

namespace cutproof {

namespace {

bool same_ray(const RayAngle& a, const RayAngle& b) {
  return square(a.x) * b.y2 == square(b.x) * a.y2;
}

void add_ray(Angle& angle, const Number& multiple, const RayAngle& ray) {
  if (ray.x.sign() <= 0) {  // a ray that did not come through `ray_angle`
    const Angle normal = ray_angle(ray.x, ray.y2);
    angle.pi_multiple += multiple * normal.pi_multiple;
    for (const auto& [times, acute] : normal.rays) add_ray(angle, multiple * times, acute);
    return;
  }
  for (auto it = angle.rays.begin(); it != angle.rays.end(); ++it) {
    if (!same_ray(it->second, ray)) continue;
    it->first += multiple;
    if (it->first.is_zero()) angle.rays.erase(it);
    return;
  }
  angle.rays.emplace_back(multiple, ray);
}

}  // namespace

Angle pi_angle(const Number& rational_multiple) {
  Angle angle;
  angle.pi_multiple = rational_multiple;
  return angle;
}

Angle degrees_angle(const Number& rational_multiple) {
  return pi_angle(rational_multiple * Number::fraction(1, 180));
}

Angle ray_angle(const Number& x, const Number& y2) {
  const int side = x.sign();
  if (y2.sign() < 0) throw ToolFault("a ray was given a negative square");
  if (y2.is_zero()) {
    if (side == 0) throw Refused(Wrong::angle_of_zero_vector);
    return pi_angle(Number(side > 0 ? 0 : 1));
  }
  if (side == 0) return pi_angle(Number::fraction(1, 2));
  if (side < 0) return pi_angle(Number(1)) - ray_angle(-x, y2);
  const Number x2 = square(x);
  if (y2 == x2) return pi_angle(Number::fraction(1, 4));
  if (y2 == Number(3) * x2) return pi_angle(Number::fraction(1, 3));
  if (Number(3) * y2 == x2) return pi_angle(Number::fraction(1, 6));
  Angle angle;
  angle.rays.emplace_back(Number(1), RayAngle{x, y2});
  return angle;
}

Angle arc_cosine(const Number& cosine) {
  const Number y2 = Number(1) - square(cosine);
  if (y2.sign() < 0) throw Refused(Wrong::cosine_out_of_range);
  return ray_angle(cosine, y2);
}

Angle arc_sine(const Number& sine) {
  if ((Number(1) - square(sine)).sign() < 0) throw Refused(Wrong::sine_out_of_range);
  return pi_angle(Number::fraction(1, 2)) - arc_cosine(sine);
}

Angle arc_tangent(const Number& tangent) {
  const Angle size = ray_angle(Number(1), square(tangent));
  return tangent.sign() < 0 ? -size : size;
}

Angle operator+(const Angle& a, const Angle& b) {
  Angle sum = pi_angle(a.pi_multiple + b.pi_multiple);
  for (const Angle* term : {&a, &b})
    for (const auto& [multiple, ray] : term->rays) add_ray(sum, multiple, ray);
  return sum;
}

Angle operator-(const Angle& a) {
  return Number(-1) * a;
}

Angle operator-(const Angle& a, const Angle& b) {
  return a + -b;
}

Angle operator*(const Number& factor, const Angle& angle) {
  Angle result;
  result.pi_multiple = factor * angle.pi_multiple;
  if (!factor.is_zero())
    for (const auto& [multiple, ray] : angle.rays) result.rays.emplace_back(factor * multiple, ray);
  return result;
}

void enclose(const Angle& angle, arb_t ball, slong precision) {
  Ball part, multiple, height;
  angle.pi_multiple.enclose(multiple, precision);
  arb_const_pi(ball, precision);
  arb_mul(ball, ball, multiple, precision);
  for (const auto& [times, ray] : angle.rays) {
    ray.x.enclose(part, precision);
    ray.y2.enclose(height, precision);
    arb_sqrt(height, height, precision);
    arb_atan2(part, height, part, precision);
    times.enclose(multiple, precision);
    arb_addmul(ball, part, multiple, precision);
  }
}

}  // namespace cutproof
