// SPDX-License-Identifier: GPL-3.0-or-later
// Both engines build every solid of the collection, and give back its canonical boundary.
#include "engine_test_support.hpp"
#include "solid/edges.hpp"

using namespace cutproof;
using zoo::ZooSolid;

namespace {

void check_build(Engine& engine, const ZooSolid& solid) {
  INFO(engine.name() << ": " << solid.name);
  const Solid piece = engine.build(*solid.solid);
  REQUIRE(piece != nullptr);
  CHECK(engine.volume(piece) == solid.volume);
  check_equal(engine.boundary(piece), normalised(zoo::boundary_of(solid.solid)));
}

}  // namespace

TEST_CASE("the parts engine gives back every solid of the collection", "[zoo][parts]") {
  const auto engine = make_parts_engine();
  for (const ZooSolid& solid : zoo::all_solids()) check_build(*engine, solid);
}

TEST_CASE("the Nef engine gives back the rational and regular solids of the collection", "[zoo][nef]") {
  const auto engine = make_nef_engine();
  for (const ZooSolid& solid : zoo::rational_solids()) check_build(*engine, solid);
  for (const ZooSolid& solid : zoo::regular_solids()) check_build(*engine, solid);
}
