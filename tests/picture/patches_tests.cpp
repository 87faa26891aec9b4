// SPDX-License-Identifier: GPL-3.0-or-later
// What is painted of parts in order: faces, seams, true edges, cuts to come; and segments and polygons in a plane.
#include "picture/patches.hpp"
#include "scenes.hpp"
#include "solid/edges.hpp"
#include "solid/parts/boundary.hpp"

#include <catch2/catch.hpp>

#include <cstdlib>
#include <string>

using namespace cutproof;

namespace {

CornerPointer corner(const Number& x, const Number& y, const Number& z) {
  return std::make_shared<const Corner>(Vector3{x, y, z});
}
Line line(const std::array<long, 3>& from, const std::array<long, 3>& to) {
  return {corner(from[0], from[1], from[2]), corner(to[0], to[1], to[2])};
}
Cycle polygon(const std::vector<std::pair<long, long>>& points) {
  Cycle cycle;
  for (const auto& [x, y] : points) cycle.push_back(corner(x, y, 0));
  return cycle;
}

BodyLines edges_of(const CellList& parts) {
  const Boundary boundary = true_boundary(parts);
  BodyLines lines;
  for (const TrueEdge& edge : true_edges(boundary))
    lines.edges.push_back({std::make_shared<const Corner>(boundary.vertices[edge.from]),
                           std::make_shared<const Corner>(boundary.vertices[edge.to])});
  return lines;
}

std::vector<Patch> patches_of(const std::vector<OwnedPart>& parts, const Vector3& toward_viewer) {
  std::vector<CellList> bodies(parts.back().owner + 1);
  for (const OwnedPart& part : parts) bodies[part.owner].push_back(part.cell);
  std::vector<BodyLines> lines;
  for (const CellList& body : bodies) lines.push_back(edges_of(body));
  return visible_patches(PaintersTree(parts).order(toward_viewer), toward_viewer, lines);
}

const Vector3 from_above{120, -225, 136};

/// The area of the patch's projection along its plane's normal, in terms of normal . area vector.
Number signed_area(const Patch& patch) {
  Number sum;
  for (const Cycle& cycle : patch.cycles)
    for (std::size_t i = 0; i < cycle.size(); ++i)
      sum += dot(patch.outward.normal, cross(cycle[i]->point, cycle[(i + 1) % cycle.size()]->point));
  return sum;
}

}  // namespace

TEST_CASE("common stretches of segments in a line", "[picture]") {
  const Line whole = line({0, 0, 0}, {8, 4, 0});
  const auto shown = [](const std::vector<Line>& lines) {
    std::string text;
    for (const Line& each : lines) text += to_exact(each.from->point) + " to " + to_exact(each.to->point) + "; ";
    return text;
  };
  CHECK(common(whole, {}).empty());
  CHECK(common(whole, {line({0, 1, 0}, {8, 5, 0})}).empty());   // beside it
  CHECK(common(whole, {line({8, 4, 0}, {10, 5, 0})}).empty());  // only an end
  CHECK(common(whole, {line({4, 2, 0}, {4, 9, 0})}).empty());   // across
  CHECK(shown(common(whole, {line({6, 3, 0}, {2, 1, 0})})) == "[2, 1, 0] to [6, 3, 0]; ");
  CHECK(shown(common(line({8, 4, 0}, {0, 0, 0}), {line({-4, -2, 0}, {2, 1, 0}), line({6, 3, 0}, {10, 5, 0})})) ==
        "[0, 0, 0] to [2, 1, 0]; [6, 3, 0] to [8, 4, 0]; ");
  CHECK(shown(common(whole, {line({2, 1, 0}, {4, 2, 0}), line({4, 2, 0}, {6, 3, 0})})) == "[2, 1, 0] to [6, 3, 0]; ");
  CHECK(shown(without(whole, common(whole, {line({2, 1, 0}, {4, 2, 0})}))) ==
        "[0, 0, 0] to [2, 1, 0]; [4, 2, 0] to [8, 4, 0]; ");
  CHECK(without(whole, {whole}).empty());
  // A hair beside the line is not on it.
  Number hair = 1;
  for (int i = 0; i < 40; ++i) hair *= Number::fraction(1, 10);
  CHECK(common(whole, {{corner(2, Number(1) + hair, 0), corner(6, 3, 0)}}).empty());
}

TEST_CASE("the border of several polygons has no inner lines", "[picture]") {
  // Two squares side by side, one of them with a corner in the middle of the common side; then a ring of four.
  const auto two = united({polygon({{0, 0}, {2, 0}, {2, 2}, {0, 2}}), polygon({{2, 0}, {4, 0}, {4, 2}, {2, 2}, {2, 1}})});
  REQUIRE(two.size() == 1);
  CHECK(two.front().size() == 4);
  const auto stepped = united({polygon({{0, 0}, {2, 0}, {2, 2}, {0, 2}}), polygon({{2, 1}, {4, 1}, {4, 3}, {2, 3}})});
  REQUIRE(stepped.size() == 1);
  CHECK(stepped.front().size() == 8);
  const auto ring = united({polygon({{0, 0}, {3, 0}, {3, 1}, {0, 1}}), polygon({{2, 1}, {3, 1}, {3, 3}, {2, 3}}),
                            polygon({{0, 2}, {2, 2}, {2, 3}, {0, 3}}), polygon({{0, 1}, {1, 1}, {1, 2}, {0, 2}})});
  REQUIRE(ring.size() == 2);
  CHECK(ring[0].size() + ring[1].size() == 8);
}

TEST_CASE("a box shows three faces, each outlined", "[picture]") {
  std::vector<OwnedPart> parts;
  test::add(parts, test::box({0, 0, 0}, {3, 2, 1}));
  const auto patches = patches_of(parts, from_above);
  REQUIRE(patches.size() == 3);
  for (const Patch& patch : patches) {
    CHECK(patch.edges.size() == 4);
    CHECK(patch.seams.empty());
    CHECK(patch.cuts.empty());
  }
}

TEST_CASE("convex parts of one solid leave no seam where nothing is between them", "[picture]") {
  // An L, a square ring with a hole, and a solid that touches itself.
  for (const Boundary& body :
       {zoo::Builder().prism({{{0, 0}, {3, 0}, {3, 1}, {1, 1}, {1, 3}, {0, 3}}}, 0, 1).boundary(), test::ring()}) {
    std::vector<OwnedPart> parts;
    test::add(parts, body);
    CHECK(parts.size() > 1);
    for (const Patch& patch : patches_of(parts, {0, 0, 1})) {
      CHECK(patch.seams.empty());
      CHECK(patch.edges.size() == (parts.size() > 2 ? 8 : 6));
    }
  }
}

TEST_CASE("only true edges are lines: beside a window there are none", "[picture]") {
  // Seen from above, a wall with a window: the walls' convex parts meet beside the window.
  for (unsigned seed = 1; seed <= 20; ++seed)
    for (int degree = 1; degree <= 4; ++degree) {
      INFO("degree " << degree << ", seed " << seed);
      const auto parts = parted(test::scene(4, degree, seed));
      std::vector<CellList> bodies(3);
      for (const OwnedPart& part : parts) bodies[part.owner].push_back(part.cell);
      for (const Patch& patch : patches_of(parts, from_above)) {
        CHECK(dot(patch.outward.normal, from_above).sign() > 0);
        CHECK(signed_area(patch).sign() > 0);
        const std::vector<Line> edges = edges_of(bodies[patch.body]).edges;
        for (const Line& edge : patch.edges) {
          const auto on_edges = common(edge, edges);
          REQUIRE(on_edges.size() == 1);
          CHECK(on_edges.front().from->point == edge.from->point);
          CHECK(on_edges.front().to->point == edge.to->point);
        }
        for (const Line& seam : patch.seams) CHECK(common(seam, edges).empty());
      }
      if (std::getenv("CUTPROOF_SLOW") == nullptr && seed == 3) return;
    }
}

TEST_CASE("faces that another part hides wholly are left out", "[picture]") {
  std::vector<OwnedPart> grid;
  for (long x = 0; x < 3; ++x)
    for (long y = 0; y < 3; ++y)
      for (long z = 0; z < 3; ++z) test::add(grid, test::box({x, y, z}, {x + 1, y + 1, z + 1}));
  CHECK(patches_of(grid, from_above).size() == 27);  // nine on each of three sides
}

TEST_CASE("cuts to come are dashed, true edges are not", "[picture]") {
  // A box of two bodies that are whole together.
  std::vector<OwnedPart> parts;
  test::add(parts, test::box({0, 0, 0}, {1, 1, 1}));
  test::add(parts, test::box({1, 0, 0}, {2, 1, 1}));
  BodyLines left = edges_of({parts[0].cell}), right = edges_of({parts[1].cell});
  left.cuts = left.edges;
  right.cuts = right.edges;
  left.edges = right.edges = edges_of({parts[0].cell, parts[1].cell}).edges;
  std::size_t edges = 0, cuts = 0;
  const auto patches = visible_patches(PaintersTree(parts).order(from_above), from_above, {left, right});
  CHECK(patches.size() == 5);
  for (const Patch& patch : patches) {
    edges += patch.edges.size();
    cuts += patch.cuts.size();
    CHECK(patch.seams.size() == patch.cuts.size());
  }
  CHECK(edges == 2 * 3 + 2 * 3 + 4);
  CHECK(cuts == 4);  // two lines, each drawn on both bodies
}
