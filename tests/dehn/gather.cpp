// SPDX-License-Identifier: GPL-3.0-or-later
// How invariants are shown: acute angles, and angles that belong together as one.
#include "support.hpp"

#include "dehn/torsion.hpp"
#include "number/print.hpp"
#include "number/tower.hpp"
#include "zoo/published.hpp"

#include <catch2/catch.hpp>

#include <map>

using namespace cutproof;
using namespace cutproof::test;
using zoo::symmetric_points;

namespace {

/// In the angles of the table in J. H. Conway, C. Radin, L. Sadun, "On angles whose squared trigonometric functions are
/// rational", Discrete Comput. Geom. 22 (1999) 321-332: their arctan(sqrt(2)), arctan(2) and arctan(sqrt(5)/2)/2, where
/// arccos(1/3) = 180 deg - 2*arctan(sqrt(2)), arccos(2/3) = arctan(sqrt(5)/2), and the edges as the solids here have them.
const std::map<std::string, std::string>& shown() {
  static const std::map<std::string, std::string> texts = {
      {"tetrahedron", "12*sqrt(2) (x) arccos(1/3)"},
      {"cube", "0"},
      {"octahedron", "-12*sqrt(2) (x) arccos(1/3)"},
      {"truncated tetrahedron", "-12*sqrt(2) (x) arccos(1/3)"},
      {"cuboctahedron", "-24*sqrt(2) (x) arctan(sqrt(2))"},
      {"truncated octahedron", "0"},
      {"rhombic dodecahedron", "0"},
      {"truncated cube", "(48 - 48*sqrt(2)) (x) arctan(sqrt(2))"},
      {"rhombicuboctahedron", "48 (x) arctan(sqrt(2))"},
      {"truncated cuboctahedron", "0"},
      {"dodecahedron", "(30 - 30*sqrt(5)) (x) arctan(2)"},
      {"icosahedron", "60 (x) arccos(2/3)"},
      {"icosidodecahedron", "-120 (x) arctan(3 - sqrt(5))"},
      {"truncated icosahedron", "60 (x) arctan(2)"},
      {"truncated dodecahedron", "(30 - 30*sqrt(5)) (x) arccos(2/3)"},
      {"rhombicosidodecahedron", "120 (x) arctan(3 - sqrt(5))"},
      {"truncated icosidodecahedron", "0"},
  };
  return texts;
}

}  // namespace

TEST_CASE("Invariants of regular and Archimedean solids are shown in acute angles, and in few", "[dehn]") {
  std::size_t compared = 0;
  for (const zoo::PublishedSolid& solid : zoo::published_solids()) {
    INFO(solid.name);
    const DehnInvariant invariant = invariant_of(edges_of(hull(solid.points)), solid.points.front().x.field());
    CHECK(fault_in_certificate(invariant) == "");
    const auto known = shown().find(solid.name);
    if (known == shown().end()) continue;
    CHECK(to_value(invariant).text == known->second);
    ++compared;
  }
  CHECK(compared == shown().size());
}

TEST_CASE("What is gathered is the same invariant, and long sums are left apart", "[dehn]") {
  std::mt19937 random(4811);
  int gathered = 0;
  for (int round = 0; round < 40; ++round) {
    INFO("seed 4811, round " << round);
    const Field* fields[] = {&rationals(), &root_two(), &cube_root_two(), &fourth_degree()};
    const Field& k = *fields[round % 4];
    // One angle taken apart: phi = (phi + psi) - psi, or three times psi.
    const auto positive = [&] {
      return Number(static_cast<long>(random() % 5) + 1, k) + square(random_number(random, k, 2));
    };
    const Number r(static_cast<long>(random() % 3) + 2, k), length = positive();
    const Direction short_one{Number(1L, k), Number::fraction(1, static_cast<long>(random() % 3) + 1).lifted_to(k)};
    const Direction other{Number(1L, k), positive()}, long_one = product(short_one, other, r);
    if (long_one.x.is_zero()) continue;
    const auto term = [&](const Number& coefficient, const Direction& direction) {
      const Number scale = divide(direction.y, direction.x);
      return AngleTerm{r * square(scale), divide(coefficient, scale)};
    };
    const Decision decision = decide({term(length, long_one), term(-length, other)});
    std::vector<AngleTerm> difference = {term(length, short_one)};
    for (const GatheredTerm& each : gathered_terms(decision)) {
      CHECK(each.tangent_squared.sign() > 0);
      const Number scale = *square_root_within_field(divide(each.tangent_squared, decision.classes[each.part].radicand));
      difference.push_back({each.tangent_squared, -divide(each.coefficient, scale)});
      gathered += each.pivots.size() > 1 ? 1 : 0;
    }
    CHECK(decide(difference).zero);
    const Decision far = decide({term(Number(65) * length, long_one), term(length, other)});
    for (const GatheredTerm& each : gathered_terms(far)) CHECK(each.pivots.size() == 1);
  }
  CHECK(gathered > 5);
}
