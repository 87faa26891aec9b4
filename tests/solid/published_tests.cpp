// SPDX-License-Identifier: GPL-3.0-or-later
// Regular and Archimedean solids written as hulls, on both engines: volume, number of edges and dihedral angles are exactly
// the published ones.
#include "zoo/published.hpp"

#include "solid/both_engines.hpp"
#include "solid/edges.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace cutproof;
using zoo::Cosine;
using zoo::PublishedSolid;

namespace {

/// The sector's angle is that between the faces seen from inside: its cosine is minus that between the outward normals.
bool has_cosine(const EdgeTerm& sector, const Cosine& cosine) {
  const Number product = dot(sector.first, sector.second);
  return -product.sign() == cosine.sign &&
         product * product == cosine.square * dot(sector.first, sector.first) * dot(sector.second, sector.second);
}

void check_published(EngineChoice choice, const PublishedSolid& solid) {
  const std::unique_ptr<Engine> owner = make_engine(choice);  // an engine works in one tower of fields
  Engine& engine = *owner;
  INFO(engine.name() << ": " << solid.name);
  const Solid piece = engine.build(*make_solid(HullDescription{solid.points}));
  REQUIRE(piece);
  const Boundary boundary = engine.boundary(piece);
  CHECK(boundary.vertices.size() == solid.points.size());
  const std::vector<TrueEdge> edges = true_edges(boundary);
  CHECK(edges.size() == solid.edges);
  const Vector3& first = edges.front().sectors.front().edge;
  const Number squared_edge = dot(first, first), found = engine.volume(piece);
  CHECK(found.sign() > 0);
  CHECK(found * found == solid.squared_volume * squared_edge * squared_edge * squared_edge);
  CHECK(volume(boundary) == found);
  std::vector<int> met(solid.cosines.size(), 0);
  for (const TrueEdge& edge : edges) {
    REQUIRE(edge.sectors.size() == 1);
    const EdgeTerm& sector = edge.sectors.front();
    CHECK(dot(sector.edge, sector.edge) == squared_edge);
    CHECK(dot(cross(sector.first, sector.second), sector.edge).sign() > 0);
    int fitting = 0;
    for (std::size_t i = 0; i < solid.cosines.size(); ++i)
      if (has_cosine(sector, solid.cosines[i])) ++fitting, ++met[i];
    CHECK(fitting == 1);
  }
  for (const int count : met) CHECK(count > 0);
}

double degrees(const Cosine& cosine) {
  return std::acos(cosine.sign * std::sqrt(cosine.square.approximate())) * 180 / std::acos(-1.0);
}

}  // namespace

TEST_CASE("the parts engine gives the published volumes and angles", "[zoo][parts]") {
  for (const PublishedSolid& solid : zoo::published_solids()) check_published(EngineChoice::parts, solid);
}

TEST_CASE("the Nef engine gives the published volumes and angles", "[zoo][nef]") {
  for (const PublishedSolid& solid : zoo::published_solids())
    if (solid.edges <= 60) check_published(EngineChoice::nef, solid);
}

// The closed forms in the table against the decimals in the books: a slip of the pen in the table, not of the tool.
TEST_CASE("the closed forms have the published decimals", "[zoo]") {
  const std::vector<std::pair<const char*, std::vector<double>>> decimals = {
      {"icosidodecahedron", {142.62}},
      {"truncated dodecahedron", {116.57, 142.62}},
      {"truncated icosahedron", {138.19, 142.62}},
      {"rhombicosidodecahedron", {148.28, 159.09}},
      {"truncated icosidodecahedron", {142.62, 148.28, 159.09}},
      {"snub cube", {142.98, 153.23}},
      {"rhombic dodecahedron", {120}},
  };
  for (const auto& [name, angles] : decimals) {
    INFO(name);
    for (const PublishedSolid& solid : zoo::published_solids()) {
      if (solid.name != name) continue;
      REQUIRE(solid.cosines.size() == angles.size());
      for (std::size_t i = 0; i < angles.size(); ++i) CHECK(degrees(solid.cosines[i]) == Approx(angles[i]).margin(0.006));
    }
  }
}
