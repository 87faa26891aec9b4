// SPDX-License-Identifier: GPL-3.0-or-later
// The certificate's own check must object to every change of meaning.
#include "support.hpp"
#include "zoo/published.hpp"

#include <catch2/catch.hpp>

#include <functional>

using namespace cutproof;
using namespace cutproof::test;

namespace {

/// Several square classes and a relation: a tetrahedron, cut through an edge into two parts, is taken from these twice.
DehnInvariant sample() {
  const Number half = Number::fraction(1, 2);
  const std::vector<Vector3> corners = {{0, 0, 0}, {3, 1, 0}, {1, 4, 2}, {0, 1, 5}};
  const Vector3 middle = half * (corners[1] + corners[2]);
  std::vector<CountedEdge> edges = edges_of(hull({corners[0], corners[1], middle, corners[3]}));
  for (const CountedEdge& each : edges_of(hull({corners[0], middle, corners[2], corners[3]}))) edges.push_back(each);
  for (const CountedEdge& each : edges_of(hull(corners), -2)) edges.push_back(each);
  for (const CountedEdge& each : edges_of(hull({{1, 1, 1}, {1, -1, -1}, {-1, 1, -1}, {-1, -1, 1}}))) edges.push_back(each);
  for (const CountedEdge& each : edges_of(hull(zoo::symmetric_points({{1, 1, 1}}, true)))) edges.push_back(each);
  return invariant_of(edges, Field::rational());
}

}  // namespace

TEST_CASE("Each change of a certificate is objected to", "[dehn]") {
  const DehnInvariant good = sample();
  REQUIRE(fault_in_certificate(good) == "");
  REQUIRE(good.decision.classes.size() >= 2);
  std::size_t with_relation = 0;
  while (with_relation < good.decision.classes.size() && good.decision.classes[with_relation].relations.empty())
    ++with_relation;
  REQUIRE(with_relation < good.decision.classes.size());
  std::size_t with_pivot = 0;
  while (good.decision.classes[with_pivot].pivots.empty()) ++with_pivot;
  REQUIRE_FALSE(good.decision.separations.empty());
  REQUIRE_FALSE(good.sums.empty());

  using Change = std::function<void(DehnInvariant&)>;
  const auto part = [&](DehnInvariant& x) -> ClassDecision& { return x.decision.classes[with_relation]; };
  const auto proof = [&](DehnInvariant& x) -> ClassDecision& { return x.decision.classes[with_pivot]; };
  const std::vector<std::pair<const char*, Change>> changes = {
      {"edge", [](auto& x) { x.edges[0].term.edge.x += Number(1); }},
      {"longer edge", [](auto& x) { x.edges[0].term.edge = Number(2) * x.edges[0].term.edge; }},
      {"longer edge at a right angle", [](auto& x) { x.edges.back().term.edge = Number(2) * x.edges.back().term.edge; }},
      {"first normal", [](auto& x) { x.edges[0].term.first.y += Number::fraction(1, 7); }},
      {"normal turned round", [](auto& x) { x.edges[0].term.second = -x.edges[0].term.second; }},
      {"times", [](auto& x) { x.edges[0].times = 2; }},
      {"an edge fewer", [](auto& x) { x.edges.pop_back(); }},
      {"an edge twice", [](auto& x) { x.edges.push_back(x.edges.front()); }},
      {"tangent", [](auto& x) { x.decision.angles[0].tangent_squared += Number::fraction(1, 1000000007); }},
      {"coefficient", [](auto& x) { x.decision.angles[0].coefficient += Number::fraction(1, 1000000007); }},
      {"angle dropped", [](auto& x) { x.decision.angles.pop_back(); }},
      {"radicand", [&](auto& x) { part(x).radicand = Number(4) * part(x).radicand; }},
      {"scale", [&](auto& x) { part(x).scales[0] = -part(x).scales[0]; }},
      {"angle in two classes", [&](auto& x) { x.decision.classes[0].angles[0] = x.decision.classes[1].angles[0]; }},
      {"class dropped", [](auto& x) { x.decision.classes.pop_back(); }},
      {"no separations", [](auto& x) { x.decision.separations.clear(); }},
      {"symbol", [](auto& x) { x.decision.separations[0].symbols[0] *= -1; }},
      {"separating prime", [](auto& x) { x.decision.separations[0].place.q += 2; }},
      {"separating root", [](auto& x) { x.decision.separations[0].place.root += 1; }},
      {"character prime", [&](auto& x) { proof(x).characters[0].place.q += 2; }},
      {"order", [&](auto& x) { proof(x).l = 10009; }},
      {"small order", [&](auto& x) { proof(x).l = 2; }},
      {"root of -r", [&](auto& x) { proof(x).characters[0].root += 1; }},
      {"generator", [&](auto& x) { proof(x).characters[0].generator = 1; }},
      {"logarithm", [&](auto& x) { proof(x).characters[0].logs[0] += 1; }},
      {"character dropped", [&](auto& x) { proof(x).characters.pop_back(); }},
      {"pivot dropped", [&](auto& x) { proof(x).pivots.pop_back(); }},
      {"exponent", [&](auto& x) { part(x).relations[0].exponents[part(x).relations[0].dependent] += 1; }},
      {"no exponents",
       [&](auto& x) { std::fill(part(x).relations[0].exponents.begin(), part(x).relations[0].exponents.end(), 0); }},
      {"relation order", [&](auto& x) { part(x).relations[0].order = 0; }},
      {"relation dropped", [&](auto& x) { part(x).relations.clear(); }},
      {"pivot coefficient", [&](auto& x) { proof(x).coefficients[0] += Number::fraction(1, 1000000007); }},
      {"factor of a sum", [](auto& x) { x.sums[0].factors[0] += 1; }},
      {"coefficient of a sum", [](auto& x) { x.sums[0].coefficient += Number(1); }},
      {"angle of a sum", [](auto& x) { x.sums[0].tangent_squared += Number::fraction(1, 1000000007); }},
      {"negative angle of a sum",
       [](auto& x) {
         for (long& factor : x.sums[0].factors) factor = -factor;
         x.sums[0].coefficient = -x.sums[0].coefficient;
       }},
      {"sum dropped", [](auto& x) { x.sums.pop_back(); }},
      {"sum twice", [](auto& x) { x.sums.push_back(x.sums.front()); }},
      {"sum of another class", [](auto& x) { x.sums[0].part = x.decision.classes.size(); }},
      {"answer", [](auto& x) { x.decision.zero = !x.decision.zero; }},
  };
  for (const auto& [name, change] : changes) {
    INFO(name);
    DehnInvariant bad = good;
    change(bad);
    CHECK_FALSE(fault_in_certificate(bad).empty());
  }
}
