// SPDX-License-Identifier: GPL-3.0-or-later
// A prism has invariant 0 (it can be cut into a box), and that its angles add up to a multiple of a half turn is often the
// only relation between them. It must be found in every field, also where the angles lie in a smaller one. 500 prisms with
// CUTPROOF_SLOW=1, else 50.
#include "dehn/torsion.hpp"
#include "number/tower.hpp"
#include "support.hpp"

#include <flint/ulong_extras.h>
#include <catch2/catch.hpp>

#include <cstdlib>
#include <map>

using namespace cutproof;
using namespace cutproof::test;

namespace {

constexpr int highest_degree = 16;
const std::vector<long> primes = {2, 3, 5, 7, 11, 13};

/// Roots of primes of the orders given, each adjoined to the field of those before it; or the real field of a root of unity.
struct FieldPlan {
  std::vector<std::pair<long, unsigned long>> roots;
  unsigned long root_of_unity = 0;
  bool operator<(const FieldPlan& o) const { return std::tie(roots, root_of_unity) < std::tie(o.roots, o.root_of_unity); }
};

FieldPlan random_plan(std::mt19937& random, int degree) {
  FieldPlan plan;
  std::vector<unsigned long> cyclotomic;
  for (unsigned long n = 3; n <= 60; ++n)
    if (n_euler_phi(n) == 2 * static_cast<unsigned long>(degree)) cyclotomic.push_back(n);
  if (!cyclotomic.empty() && random() % 3 == 0) {
    plan.root_of_unity = cyclotomic[random() % cyclotomic.size()];
    return plan;
  }
  std::vector<long> left = primes;
  while (degree > 1) {
    std::vector<int> divisors;
    for (int d = 2; d <= degree; ++d)
      if (degree % d == 0) divisors.push_back(d);
    const int order = divisors[random() % divisors.size()];
    const std::size_t which = random() % left.size();
    plan.roots.emplace_back(left[which], order);
    left.erase(left.begin() + static_cast<long>(which));
    degree /= order;
  }
  return plan;
}

const Field& field_of(const FieldPlan& plan) {
  static std::map<FieldPlan, std::unique_ptr<FieldTower>> towers;
  std::unique_ptr<FieldTower>& tower = towers[plan];
  if (!tower) {
    tower = std::make_unique<FieldTower>();
    for (const auto& [radicand, order] : plan.roots) tower->root(Number(radicand), order);
    if (plan.root_of_unity != 0) tower->cosine(pi_angle(Number::fraction(2, static_cast<long>(plan.root_of_unity))));
  }
  return tower->top();
}

struct Corner {
  Number x, y;
};
Number turn(const Corner& a, const Corner& b) {
  return a.x * b.y - a.y * b.x;
}

/// Counterclockwise around the origin, which sees every side from inside; corners may be reflex, none is flat. Empty where
/// the dice fell badly.
std::vector<Corner> random_polygon(std::mt19937& random, const Field& field, std::size_t count, const Number& spread) {
  std::vector<Corner> corners;
  const auto coordinate = [&] {
    const Number whole(static_cast<long>(random() % 25) - 12, field);
    return whole + Number::fraction(static_cast<long>(random() % 3) - 1, 2).lifted_to(field) * spread;
  };
  for (std::size_t i = 0; i < count; ++i) corners.push_back({coordinate(), coordinate()});
  std::sort(corners.begin(), corners.end(), [](const Corner& a, const Corner& b) {
    return std::atan2(a.y.approximate(), a.x.approximate()) < std::atan2(b.y.approximate(), b.x.approximate());
  });
  for (std::size_t i = 0; i < count; ++i) {
    const Corner &a = corners[i], &b = corners[(i + 1) % count], &c = corners[(i + 2) % count];
    if (turn(a, b).sign() <= 0 || turn({b.x - a.x, b.y - a.y}, {c.x - b.x, c.y - b.y}).is_zero()) return {};
  }
  return corners;
}

Boundary prism(const std::vector<Corner>& corners, const Number& height) {
  Boundary boundary;
  const Field& field = height.field();
  const Number zero(0L, field), one(1L, field);
  const int n = static_cast<int>(corners.size());
  for (const Corner& each : corners) boundary.vertices.push_back({each.x, each.y, zero});
  for (const Corner& each : corners) boundary.vertices.push_back({each.x, each.y, height});
  std::vector<int> bottom, top;
  for (int i = 0; i < n; ++i) {
    const int next = (i + 1) % n;
    bottom.insert(bottom.begin(), i);
    top.push_back(n + i);
    const Vector3 normal{corners[next].y - corners[i].y, corners[i].x - corners[next].x, zero};
    boundary.facets.push_back({{normal, dot(normal, boundary.vertices[i])}, {{i, next, n + next, n + i}}});
  }
  boundary.facets.push_back({{{zero, zero, -one}, zero}, {bottom}});
  boundary.facets.push_back({{{zero, zero, one}, height}, {top}});
  return boundary;
}

void check_prism(const std::vector<Corner>& corners, const Number& height) {
  const DehnInvariant invariant = invariant_of(edges_of(prism(corners, height)), height.field());
  CHECK(invariant.decision.zero);
  CHECK(fault_in_certificate(invariant) == "");
  if (invariant.decision.angles.empty()) return;
  // One edge a little longer: not 0 any more, unless its angle is a rational multiple of pi.
  std::vector<AngleTerm> longer = invariant.decision.angles;
  const AngleTerm& last = longer.back();
  const bool rational = multiple_of_pi(ray_angle(Number(1L, height.field()), last.tangent_squared)).has_value();
  longer.back().coefficient += Number::fraction(1, 1'000'000).lifted_to(height.field());
  CHECK(decide(longer).zero == rational);
}

}  // namespace

TEST_CASE("Prisms over random polygons in fields of degree 1 to 16 are decided", "[dehn]") {
  constexpr unsigned seed = 20240719;
  const int cases = std::getenv("CUTPROOF_SLOW") != nullptr ? 500 : 50;
  std::mt19937 random(seed);
  WARN("seed " << seed << ", " << cases << " prisms");
  for (int done = 0; done < cases; ++done) {
    const int degree = 1 + done % highest_degree;
    const Field& field = field_of(random_plan(random, degree));
    REQUIRE(field.degree() == degree);
    const Number generator = Number::generator(field);
    const bool irrational_base = random() % 4 == 0, irrational_height = random() % 2 == 0;
    const Number spread = irrational_base ? generator : Number(1L, field);
    const Number height = irrational_height ? square(generator) + Number(1L, field) : Number(1L, field);
    const std::size_t count = 3 + random() % 7;
    std::vector<Corner> corners;
    while (corners.empty()) corners = random_polygon(random, field, count, spread);
    INFO("case " << done << ", degree " << degree << ", " << count << " corners");
    check_prism(corners, height);
  }
}

// All places above one prime give these five angles the same characters.
TEST_CASE("Five angles over Q in larger fields", "[dehn]") {
  for (const FieldPlan& plan : std::vector<FieldPlan>{{{{2, 2}, {3, 2}, {5, 2}}}, {{{2, 8}}}, {{{2, 16}}}, {{{2, 9}}}}) {
    const Field& field = field_of(plan);
    INFO("degree " << field.degree());
    std::vector<Corner> corners;
    for (const auto& [x, y] : std::vector<std::pair<long, long>>{{1, 0}, {8, 3}, {12, 7}, {2, 10}, {0, 7}})
      corners.push_back({Number(x, field), Number(y, field)});
    check_prism(corners, Number(1L, field));
  }
}
