// SPDX-License-Identifier: GPL-3.0-or-later
// Dihedral angles as exact objects and as texts.
#include "dehn/invariant.hpp"
#include "number/print.hpp"
#include "number/tower.hpp"

namespace cutproof {

namespace {

using Kind = DihedralAngle::Kind;

/// lambda in n1 x n2 = lambda * e
Number lambda_of(const EdgeTerm& term) {
  const Vector3 across = cross(term.first, term.second);
  const Number lambda = !term.edge.x.is_zero()   ? divide(across.x, term.edge.x)
                        : !term.edge.y.is_zero() ? divide(across.y, term.edge.y)
                                                 : divide(across.z, term.edge.z);
  if (lambda * term.edge != across) throw ToolFault("an edge is not parallel to both faces that meet there");
  return lambda;
}

/// 1 where the cosine is positive, -1 where it is negative.
int sign_of_cosine(Kind kind) {
  return kind == Kind::acute || kind == Kind::reflex_before_full_turn ? 1 : -1;
}

RadicalSum cosine(const DihedralAngle& angle) {
  RadicalSum sum;
  if (angle.kind == Kind::right || angle.kind == Kind::reflex_right) return sum;
  const Number secant_squared = angle.tangent_squared + Number(1L, angle.tangent_squared.field());
  const Number factor = divide(Number(1L, secant_squared.field()), secant_squared);
  sum.add(sign_of_cosine(angle.kind) > 0 ? factor : -factor, secant_squared);
  return sum;
}

}  // namespace

DihedralAngle dihedral_angle(const EdgeTerm& term) {
  const Number lambda = lambda_of(term), p = dot(term.first, term.second);
  if (lambda.is_zero()) throw ToolFault("an edge across which the surface is flat, or folded back");
  const bool reflex = lambda.sign() < 0;
  if (p.is_zero()) return {reflex ? Kind::reflex_right : Kind::right, Number(0L, p.field())};
  // arg(p + lambda*sqrt(-c)) is the exterior angle
  const Number tangent_squared = divide(square(lambda) * dot(term.edge, term.edge), square(p));
  if (reflex) return {p.sign() > 0 ? Kind::reflex_beyond_half_turn : Kind::reflex_before_full_turn, tangent_squared};
  return {p.sign() > 0 ? Kind::obtuse : Kind::acute, tangent_squared};
}

bool operator==(const DihedralAngle& a, const DihedralAngle& b) {
  return a.kind == b.kind && a.tangent_squared == b.tangent_squared;
}

Angle to_angle(const DihedralAngle& angle) {
  const bool turned = angle.is_reflex();
  if (angle.kind == Kind::right || angle.kind == Kind::reflex_right)
    return pi_angle(turned ? Number::fraction(3, 2) : Number::fraction(1, 2));
  const Number one(1L, angle.tangent_squared.field());
  const bool acute = angle.kind == Kind::acute || angle.kind == Kind::reflex_beyond_half_turn;
  const Angle ray = ray_angle(acute ? one : -one, angle.tangent_squared);
  return turned ? pi_angle(Number(1)) + ray : ray;
}

std::string cosine_text(const DihedralAngle& angle) {
  return to_exact(cosine(angle));
}

std::string people_text(const DihedralAngle& angle) {
  const RadicalSum signed_cosine = cosine(angle);
  if (angle.kind == Kind::right) return "90 deg";
  if (angle.kind == Kind::reflex_right) return "270 deg";
  // A reflex angle is 360 degrees minus the angle in (0, 180) with the same cosine.
  const std::string by_cosine = "arccos(" + to_exact(signed_cosine) + ")";
  std::string shortest = by_cosine;
  if (signed_cosine.sign() > 0) {
    RadicalSum tangent;
    tangent.add(Number(1L, angle.tangent_squared.field()), angle.tangent_squared);
    const std::string by_tangent = "arctan(" + to_exact(tangent) + ")";
    if (by_tangent.size() < by_cosine.size()) shortest = by_tangent;
  }
  return angle.is_reflex() ? "360 deg - " + shortest : shortest;
}

}  // namespace cutproof
