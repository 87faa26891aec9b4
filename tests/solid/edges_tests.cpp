// SPDX-License-Identifier: GPL-3.0-or-later
// Canonical boundaries, true edges and counts, over the whole collection.
#include "zoo/builder.hpp"
#include "zoo/zoo.hpp"

#include "number/print.hpp"
#include "solid/edges.hpp"

#include <catch2/catch.hpp>

#include <map>
#include <numeric>
#include <random>
#include <set>

using namespace cutproof;
using zoo::ZooSolid;

namespace {

bool equal(const Boundary& a, const Boundary& b) {
  if (a.vertices != b.vertices || a.facets.size() != b.facets.size()) return false;
  for (std::size_t i = 0; i < a.facets.size(); ++i) {
    bool same_side = false;
    if (a.facets[i].cycles != b.facets[i].cycles || !coincide(a.facets[i].plane, b.facets[i].plane, &same_side) ||
        !same_side)
      return false;
  }
  return true;
}

/// Exact angle class of a sector by its two normals, for edges of rational solids: the cosine of the interior angle if it is
/// 0 or the edge is at 45, 60, 109, 120, 135 degrees, in degrees; negative for reflex ones (so -90 is 270 degrees).
long degrees(const EdgeTerm& term) {
  const Number product = dot(term.first, term.second);  // minus the cosine, times the lengths
  const Number squared = product * product, lengths = dot(term.first, term.first) * dot(term.second, term.second);
  const long sign = dot(cross(term.first, term.second), term.edge).sign();
  const auto ratio = [&](long n, long d) { return Number(d) * squared == Number(n) * lengths; };
  long angle = 0;
  if (product.is_zero()) angle = 90;
  if (ratio(1, 2)) angle = 45;
  if (ratio(1, 4)) angle = 60;
  if (ratio(1, 9)) angle = 71;
  if (product.sign() > 0 && angle != 90 && angle != 0) angle = 180 - angle;
  return sign * angle;
}

std::map<long, int> angle_counts(const Boundary& boundary) {
  std::map<long, int> result;
  for (const TrueEdge& edge : true_edges(normalised(boundary)))
    for (const EdgeTerm& sector : edge.sectors) ++result[degrees(sector)];
  return result;
}

const ZooSolid& rational(const std::string& name) {
  for (const ZooSolid& solid : zoo::rational_solids())
    if (solid.name == name) return solid;
  throw std::logic_error("no solid " + name);
}
Boundary boundary(const std::string& name) {
  return zoo::boundary_of(rational(name).solid);
}

/// The same surface, its facets without holes cut into triangles from a corner at which that is right, points and faces in
/// another order.
Boundary disturbed(const Boundary& original, unsigned seed) {
  std::mt19937 random(seed);
  Boundary result;
  std::vector<int> place(original.vertices.size());
  std::iota(place.begin(), place.end(), 0);
  std::shuffle(place.begin(), place.end(), random);
  result.vertices.resize(place.size());
  for (std::size_t i = 0; i < place.size(); ++i) result.vertices[place[i]] = original.vertices[i];
  for (const Facet& facet : original.facets) {
    Facet moved{{Number(3) * facet.plane.normal, Number(3) * facet.plane.offset}, facet.cycles};
    for (std::vector<int>& cycle : moved.cycles) {
      for (int& corner : cycle) corner = place[corner];
      std::rotate(cycle.begin(), cycle.begin() + random() % cycle.size(), cycle.end());
    }
    if (moved.cycles.size() == 1 && moved.cycles[0].size() == 4) {
      // four corners, convex in all solids of the collection but for kites: split where both triangles keep their side
      const std::vector<int> c = moved.cycles[0];
      const auto turn = [&](int i, int j, int k) {
        return dot(cross(result.vertices[c[j]] - result.vertices[c[i]], result.vertices[c[k]] - result.vertices[c[i]]),
                   moved.plane.normal)
            .sign();
      };
      if (turn(0, 1, 2) > 0 && turn(0, 2, 3) > 0) {
        result.facets.push_back({moved.plane, {{c[0], c[1], c[2]}}});
        result.facets.push_back({moved.plane, {{c[0], c[2], c[3]}}});
        continue;
      }
    }
    result.facets.push_back(std::move(moved));
  }
  std::shuffle(result.facets.begin(), result.facets.end(), random);
  return result;
}

}  // namespace

TEST_CASE("canonical boundaries keep the solid and do not depend on how it was written", "[edges]") {
  unsigned seed = 1;
  for (const ZooSolid& each : zoo::all_solids()) {
    INFO(each.name << ", seed " << seed);
    const Boundary original = zoo::boundary_of(each.solid), canonical = normalised(original);
    CHECK(volume(canonical) == each.volume);
    CHECK(moment(canonical) == moment(original));
    CHECK(equal(normalised(canonical), canonical));
    CHECK(equal(normalised(disturbed(original, seed++)), canonical));
    CHECK(std::is_sorted(canonical.vertices.begin(), canonical.vertices.end()));
    for (const Facet& facet : canonical.facets)
      for (const std::vector<int>& cycle : facet.cycles) {
        CHECK(std::set<int>(cycle.begin(), cycle.end()).size() == cycle.size());
        CHECK(cycle.front() == *std::min_element(cycle.begin(), cycle.end()));
        for (const int corner : cycle) CHECK(side_of(facet.plane, canonical.vertices[corner]) == 0);
      }
  }
}

TEST_CASE("counts and Euler's formula", "[edges]") {
  for (const ZooSolid& each : zoo::all_solids()) {
    INFO(each.name);
    const SurfaceCounts found = count_surface(normalised(zoo::boundary_of(each.solid)));
    CHECK(found.faces == each.counts->faces);
    CHECK(found.edges == each.counts->edges);
    CHECK(found.vertices == each.counts->vertices);
    CHECK(found.shells == each.counts->shells);
    CHECK(found.genus == each.counts->genus);
  }
}

TEST_CASE("angles: Jessen's icosahedron has 24 edges of 90 degrees and 6 of 270", "[edges]") {
  CHECK(angle_counts(boundary("Jessen's icosahedron")) == std::map<long, int>{{90, 24}, {-90, 6}});
}

TEST_CASE("angles: solids with one edge that is not a right angle", "[edges]") {
  for (const long angle : {45, 60, 109, 120, 135}) {
    const std::string name = "one-edge-" + std::to_string(angle);
    INFO(name);
    const std::map<long, int> found = angle_counts(boundary(name));
    CHECK(found.at(angle) == 1);
    CHECK(found.size() == 3);
    CHECK(found.count(90) == 1);
    CHECK(found.count(-90) == 1);
  }
}

TEST_CASE("angles: each sector at an edge where a solid touches itself", "[edges]") {
  CHECK(angle_counts(boundary("box")) == std::map<long, int>{{90, 12}});
  CHECK(angle_counts(boundary("tunnel")) == std::map<long, int>{{90, 20}, {-90, 4}});
  CHECK(angle_counts(boundary("cavity")) == std::map<long, int>{{90, 12}, {-90, 12}});
  CHECK(angle_counts(boundary("boxes touching along an edge")) == std::map<long, int>{{90, 24}});
  // verticals: 5 outer corners of 90, at (2,2) two sectors of 90, at the other three of the hole 270; 20 horizontal ones of
  // 90
  CHECK(angle_counts(boundary("tunnel touching an edge")) == std::map<long, int>{{90, 27}, {-90, 3}});
  // verticals: 4 outer ones of 90, two sectors of 45 where the hole reaches the face, 3 of 270; 18 horizontal ones of 90
  CHECK(angle_counts(boundary("tunnel touching a face")) == std::map<long, int>{{90, 22}, {45, 2}, {-90, 3}});
  // The box's face stays whole and flat under the wedge; the wedge's own edges: 90 at the line of contact, 45 twice, ends
  // of 90.
  CHECK(angle_counts(boundary("wedge on a face")) == std::map<long, int>{{90, 12 + 1 + 6}, {45, 2}});
}

TEST_CASE("the true edges close up: at each corner facets and edges alternate", "[edges]") {
  for (const ZooSolid& each : zoo::all_solids()) {
    INFO(each.name);
    for (const TrueEdge& edge : true_edges(normalised(zoo::boundary_of(each.solid)))) {
      CHECK(edge.from < edge.to);
      for (const EdgeTerm& sector : edge.sectors) {
        CHECK(dot(sector.edge, sector.first).is_zero());
        CHECK(dot(sector.edge, sector.second).is_zero());
        CHECK(is_zero(cross(cross(sector.first, sector.second), sector.edge)));
      }
    }
  }
}

TEST_CASE("the whole face and the face in two parts are one solid", "[edges]") {
  // As `tunnel touching a face`, with the touched side written as one face: the tunnel's edge lies inside it.
  const Boundary split = boundary("tunnel touching a face");
  zoo::Builder builder;
  for (const Facet& facet : split.facets) {
    std::vector<std::vector<Vector3>> cycles;
    bool touched = true;
    for (const std::vector<int>& cycle : facet.cycles) {
      cycles.emplace_back();
      for (const int corner : cycle) {
        cycles.back().push_back(split.vertices[corner]);
        touched = touched && split.vertices[corner].y.is_zero();
      }
    }
    if (!touched) builder.face(cycles);
  }
  builder.face({{{0, 0, 0}, {2, 0, 0}, {4, 0, 0}, {4, 0, 1}, {2, 0, 1}, {0, 0, 1}}});
  CHECK(equal(normalised(checked_boundary(zoo::written(builder.boundary()))), normalised(split)));
}

TEST_CASE("a facet that touches itself is one facet where its inside is connected", "[edges]") {
  // Two squares that touch at a corner are two facets; a square whose hole touches its border is one, with two simple
  // cycles.
  zoo::Builder apart;
  apart.box({0, 0, 0}, {1, 1, 1}).box({1, 1, 0}, {2, 2, 1});
  for (const Facet& facet : normalised(apart.boundary()).facets) CHECK(facet.cycles.size() == 1);
  const Boundary pinched = normalised(boundary("tunnel touching an edge"));
  int with_hole = 0;
  for (const Facet& facet : pinched.facets) with_hole += facet.cycles.size() == 2 ? 1 : 0;
  CHECK(with_hole == 2);
}

TEST_CASE("surface area is a sum of roots", "[edges]") {
  CHECK(to_exact(surface_area(normalised(boundary("box")))) == "22");
  RadicalSum area = surface_area(normalised(boundary("tetrahedron")));
  area.add(Number(-1), Number(1));
  area.add(Number(-1), Number(2));
  CHECK(area.is_zero());  // two right triangles of area 1/2 and two of sqrt(2)/2
}
