// SPDX-License-Identifier: GPL-3.0-or-later
// Both engines build every solid of the collection, and give back its canonical boundary.
#include "zoo/zoo.hpp"

#include "solid/edges.hpp"
#include "solid/engine.hpp"

#include <catch2/catch.hpp>

using namespace cutproof;
using zoo::ZooSolid;

namespace {

void check_build(Engine& engine, const ZooSolid& solid) {
  INFO(engine.name() << ": " << solid.name);
  const Piece piece = engine.build(*solid.solid);
  REQUIRE(piece != nullptr);
  CHECK(engine.volume(piece) == solid.volume);
  const Boundary found = engine.boundary(piece), expected = normalised(zoo::boundary_of(solid.solid));
  CHECK(found.vertices == expected.vertices);
  REQUIRE(found.facets.size() == expected.facets.size());
  for (std::size_t i = 0; i < found.facets.size(); ++i) {
    CHECK(found.facets[i].cycles == expected.facets[i].cycles);
    CHECK(found.facets[i].plane.normal == expected.facets[i].plane.normal);
    CHECK(found.facets[i].plane.offset == expected.facets[i].plane.offset);
  }
}

}  // namespace

TEST_CASE("the parts engine gives back every solid of the collection", "[zoo][parts]") {
  const auto engine = make_parts_engine();
  for (const ZooSolid& solid : zoo::all_solids()) check_build(*engine, solid);
}

TEST_CASE("the Nef engine gives back the rational and regular solids of the collection", "[zoo][nef]") {
  const auto engine = make_nef_engine();
  for (const ZooSolid& solid : zoo::rational_solids())
    check_build(*engine, solid);
  for (const ZooSolid& solid : zoo::regular_solids()) check_build(*engine, solid);
}
