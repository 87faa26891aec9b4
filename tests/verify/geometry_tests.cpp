// SPDX-License-Identifier: GPL-3.0-or-later
// Geometry in results: what the data say of themselves must agree with what the report says, for every engine alike.
#include "cutproof/check.hpp"
#include "verify/geometry_keeper.hpp"
#include "verify/wrapped_engine.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <map>
#include <set>
#include <sstream>

using namespace cutproof;

namespace {

GeometryWish everything() {
  GeometryWish wish;
  wish.start = wish.goals = wish.end = wish.every_step = wish.regions = true;
  return wish;
}

CheckResult check_file(const std::string& name, EngineChoice engine, const GeometryWish& wish) {
  CheckSettings settings;
  settings.engine = engine;
  settings.geometry = wish;
  return check_plan_file(PLANS_FOLDER "/" + name, settings);
}

void write(std::ostream& out, const std::vector<NamedSolidData>& list) {
  for (const NamedSolidData& each : list) out << each.name << ' ' << each.solid << ' ';
  out << '\n';
}

/// All of it, byte for byte.
std::string text_of(const CheckGeometry& geometry) {
  std::ostringstream out;
  out.precision(17);
  for (const SolidData& solid : geometry.solids) {
    for (const CornerData& corner : solid.corners)
      out << corner.exact.x << ',' << corner.exact.y << ',' << corner.exact.z << ' ' << corner.nearest[0] << ','
          << corner.nearest[1] << ',' << corner.nearest[2] << '\n';
    for (const FacetData& facet : solid.facets) {
      for (const auto& cycle : facet.cycles) {
        for (const std::size_t corner : cycle) out << corner << ' ';
        out << "/ ";
      }
      out << '\n';
    }
    for (const EdgeData& edge : solid.edges) {
      out << edge.from << ' ' << edge.to << ' ' << edge.length.exact << ' ' << edge.length.decimal;
      for (const EdgeAngle& angle : edge.angles)
        out << " / " << angle.exact << ' ' << angle.cosine << ' ' << angle.degrees << ' ' << angle.reflex;
      out << '\n';
    }
  }
  write(out, geometry.start);
  write(out, geometry.goals);
  write(out, geometry.end);
  for (const BenchData& bench : geometry.after) {
    out << bench.step << ": ";
    write(out, bench.pieces);
  }
  for (const RegionData& region : geometry.regions) {
    out << region.code << ' ' << region.step << ' ' << region.solid;
    for (const std::string& piece : region.pieces) out << ' ' << piece;
    out << '\n';
  }
  return out.str();
}

using Point = std::array<double, 3>;
Point cross(const Point& a, const Point& b) {
  return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
}
double dot(const Point& a, const Point& b) {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
Point operator-(const Point& a, const Point& b) {
  return {a[0] - b[0], a[1] - b[1], a[2] - b[2]};
}

/// From the doubles alone, facet by facet: 1/6 sum of v0 . (vi x vi+1).
double volume_of(const SolidData& solid) {
  double sum = 0;
  for (const FacetData& facet : solid.facets) {
    const Point apex = solid.corners[facet.cycles[0][0]].nearest;
    for (const auto& cycle : facet.cycles)
      for (std::size_t i = 0; i < cycle.size(); ++i)
        sum += dot(apex, cross(solid.corners[cycle[i]].nearest - apex,
                               solid.corners[cycle[(i + 1) % cycle.size()]].nearest - apex));
  }
  return sum / 6;
}

void check_surface(const SolidData& solid) {
  std::map<std::pair<std::size_t, std::size_t>, int> uses;
  for (const FacetData& facet : solid.facets)
    for (const auto& cycle : facet.cycles) {
      REQUIRE(cycle.size() >= 3);
      CHECK(*std::min_element(cycle.begin(), cycle.end()) == cycle.front());
      for (std::size_t i = 0; i < cycle.size(); ++i) ++uses[{cycle[i], cycle[(i + 1) % cycle.size()]}];
    }
  for (const auto& [edge, count] : uses) CHECK(count == uses[{edge.second, edge.first}]);
  for (const EdgeData& edge : solid.edges) {
    CHECK(edge.from < edge.to);
    const Point along = solid.corners[edge.to].nearest - solid.corners[edge.from].nearest;
    CHECK(std::sqrt(dot(along, along)) == Approx(std::stod(edge.length.decimal)).epsilon(1e-12));
    REQUIRE(!edge.angles.empty());
    for (const EdgeAngle& angle : edge.angles) {
      CHECK(angle.reflex == (std::stod(angle.degrees) > 180));
      CHECK_FALSE(angle.exact.empty());
    }
  }
}

}  // namespace

TEST_CASE("every engine gives the same geometry, and it agrees with the report") {
  const std::string name =
      GENERATE(as<std::string>{}, "tutorial.yaml", "triangle-to-square.yaml", "odd-edge-to-box.yaml", "mitred-tube.yaml",
               "bow-tie.yaml", "staircase.yaml", "broken/overlap.yaml", "broken/missing-and-excess.yaml",
               "broken/straddles.yaml", "broken/overlap-at-start.yaml");
  CAPTURE(name);
  const CheckResult result = check_file(name, EngineChoice::parts, everything());
  REQUIRE(result.geometry);
  const CheckGeometry& geometry = *result.geometry;
  CHECK(text_of(geometry) == text_of(*check_file(name, EngineChoice::nef, everything()).geometry));

  for (const SolidData& solid : geometry.solids) check_surface(solid);
  REQUIRE(geometry.end.size() == result.pieces.size());
  for (std::size_t i = 0; i < result.pieces.size(); ++i) {
    CHECK(geometry.end[i].name == result.pieces[i].name);
    CHECK(volume_of(geometry.solids[geometry.end[i].solid]) ==
          Approx(std::stod(result.pieces[i].volume.decimal)).epsilon(1e-9));
  }
  REQUIRE(geometry.after.size() == result.steps.size() + 1);
  CHECK(geometry.after.front().pieces.size() == geometry.start.size());
  for (std::size_t i = 0; i < result.steps.size(); ++i) {
    CHECK(geometry.after[i + 1].step == result.steps[i].index);
    CHECK(geometry.after[i + 1].pieces.size() == result.steps[i].pieces_after);
    double volume = 0;
    for (const NamedSolidData& piece : geometry.after[i + 1].pieces) volume += volume_of(geometry.solids[piece.solid]);
    CHECK(volume == Approx(std::stod(result.steps[i].volume.decimal)).epsilon(1e-9));
  }
  std::size_t regions = 0;
  for (const Finding& finding : result.findings) {
    const bool has_region = finding.code == "overlap" || finding.code == "missing" || finding.code == "excess";
    CHECK(finding.region.has_value() == has_region);
    if (!has_region) continue;
    const RegionData& region = geometry.regions.at(*finding.region);
    CHECK(region.code == finding.code);
    CHECK(region.step == finding.step);
    CHECK(region.pieces == finding.pieces);
    CHECK(volume_of(geometry.solids[region.solid]) == Approx(std::stod(finding.volume->decimal)).epsilon(1e-9));
    CHECK(geometry.solids[region.solid].corners.size() == finding.corners.size());
    ++regions;
  }
  CHECK(regions == geometry.regions.size());
}

TEST_CASE("only what was asked for is there") {
  const auto asked = [](auto GeometryWish::*what) {
    GeometryWish wish;
    wish.*what = true;
    return *check_file("broken/missing-and-excess.yaml", EngineChoice::parts, wish).geometry;
  };
  const CheckGeometry start = asked(&GeometryWish::start), goals = asked(&GeometryWish::goals),
                      end = asked(&GeometryWish::end), steps = asked(&GeometryWish::every_step),
                      regions = asked(&GeometryWish::regions);
  CHECK(start.start.size() == 1);
  CHECK(start.solids.size() == 1);
  CHECK(goals.goals.size() == 1);
  CHECK(goals.start.empty());
  CHECK(end.end.size() == 2);
  CHECK(end.after.empty());
  CHECK(regions.regions.size() == 2);
  CHECK(regions.solids.size() == 2);
  REQUIRE(steps.after.size() == 3);
  CHECK(steps.solids.size() == 4);  // the start, two halves, and one of them moved: the other stands once
  GeometryWish some;
  some.steps = {7, 1, 1, -3};
  const CheckGeometry after = *check_file("broken/missing-and-excess.yaml", EngineChoice::parts, some).geometry;
  REQUIRE(after.after.size() == 1);
  CHECK(after.after[0].step == 1);
  CHECK_FALSE(check_file("broken/missing-and-excess.yaml", EngineChoice::parts, {}).geometry);
  CHECK_FALSE(check_file("broken/no-goal.yaml", EngineChoice::parts, everything()).geometry);
}

TEST_CASE("a run that ends early shows its steps up to there, and no end") {
  CheckSettings settings;
  settings.geometry = everything();
  const CheckResult result = check_plan_text(R"(cutproof: 1
start: { T: { box: { size: [2, 1, 1] } } }
steps:
  - cut: T
    by: { equation: "x = 1" }
  - move:
      nobody: { translation: [1, 0, 0] }
goal: { box: { size: [1, 1, 2] } }
)",
                                             "plan.yaml", settings);
  CHECK(result.outcome == Outcome::invalid);
  const CheckResult limited = [&] {
    CheckSettings few = settings;
    few.max_bits = 64;
    return check_plan_text(R"(cutproof: 1
start: { T: { box: { size: [2, 1, 1] } } }
steps:
  - cut: T
    by: { equation: "x = 1" }
  - { move: { T.2: { translation: [1/1000003, 0, 0] } } }
  - { move: { T.2: { translation: [1/1000033, 0, 0] } } }
  - { move: { T.2: { translation: [1/1000037, 0, 0] } } }
  - { move: { T.2: { translation: [1/1000039, 0, 0] } } }
goal: { box: { size: [1, 1, 2] } }
)",
                           "plan.yaml", few);
  }();
  CHECK(limited.counts.at("limit-reached") == 1);
  REQUIRE(limited.geometry);
  REQUIRE(limited.steps.size() >= 2);
  REQUIRE(limited.steps.size() < 5);
  CHECK(limited.geometry->after.size() == limited.steps.size() + 1);
  CHECK(limited.geometry->end.empty());
}

namespace {

class CountingEngine : public WrappedEngine {
 public:
  Boundary boundary(const Solid& piece) override {
    ++boundaries;
    return WrappedEngine::boundary(piece);
  }
  std::size_t boundaries = 0;
};

}  // namespace

TEST_CASE("who asks for nothing pays nothing, and who asks pays once a solid") {
  const std::string plan = R"(cutproof: 1
start: { T: { box: { size: [2, 1, 1] } } }
steps:
  - cut: T
    by: { equation: "x = 1" }
    into: [right, left]
  - cut: all
    by: { equation: "y = 1/2" }
  - move: { all: { translation: [1, 0, 0] } }
goal: { box: { size: [2, 1, 1], at: [1, 0, 0] } }
)";
  const auto counted = [&](const GeometryWish& wish) {
    CountingEngine engine;
    CheckOptions options;
    options.geometry = wish;
    const ExactPlan exact = read_plan(plan, {});
    const CheckResult result = check_plan(exact, engine, options);
    CHECK(result.outcome == Outcome::verified);
    return std::pair(engine.boundaries, result.geometry ? result.geometry->solids.size() : 0);
  };
  const auto nothing = counted({});
  CHECK(nothing == std::pair<std::size_t, std::size_t>(2, 0));  // of start and goal, for their Dehn invariants
  const auto all = counted(everything());
  CHECK(all.second == 1 + 1 + 2 + 4 + 4);
  CHECK(all.first == nothing.first + all.second);
}
