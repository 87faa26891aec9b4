// SPDX-License-Identifier: GPL-3.0-or-later
// Blocks that follow pieces through a plan: in every state of every plan they are exactly the pieces on the bench.
#include "verify/block_history.hpp"

#include "cutproof/report.hpp"
#include "files/check_text.hpp"
#include "solid/parts/boundary.hpp"
#include "solid/parts/motion.hpp"
#include "verify/check.hpp"
#include "verify/solid_data.hpp"

#include <catch2/catch.hpp>

#include <filesystem>
#include <string>
#include <vector>

using namespace cutproof;
namespace fs = std::filesystem;

namespace {

/// Corners and facets as one text.
std::string text_of(const SolidData& solid) {
  std::string text;
  for (const CornerData& corner : solid.corners)
    text += "(" + corner.exact.x + ", " + corner.exact.y + ", " + corner.exact.z + ")";
  for (const FacetData& facet : solid.facets)
    for (const auto& cycle : facet.cycles) {
      text += " /";
      for (const std::size_t corner : cycle) text += " " + std::to_string(corner);
    }
  return text;
}

SolidData data_of(const BlockHistory& history, const StatePiece& piece) {
  CellList parts;
  for (const PlacedBlock& block : piece.blocks) {
    CellMap map(*block.pose);
    for (const CellPointer& part : map(history.parts(block.block))) parts.push_back(part);
  }
  AngleTexts texts;
  return solid_data(true_boundary(parts), &texts);
}

/// Checks the plan and compares each state with the geometry that the engine tells; returns how many pieces were compared.
std::size_t compare_states(const std::string& path, EngineChoice engine) {
  CheckSettings settings;
  settings.engine = engine;
  settings.geometry.every_step = true;
  struct Told {
    int step;
    std::string name, text, refined;
  };
  std::vector<Told> told;
  const CheckResult result = check_plan_file(path, settings, {}, [&](const BlockHistory& history, CheckResult* /*result*/) {
    for (std::size_t i = 0; i < history.state_count(); ++i) {
      const BenchState state = history.state(i);
      const BenchState refined = history.refined(state);
      REQUIRE(refined.pieces.size() == state.pieces.size());
      for (std::size_t k = 0; k < state.pieces.size(); ++k)
        told.push_back({state.step, state.pieces[k].name, text_of(data_of(history, state.pieces[k])),
                        text_of(data_of(history, refined.pieces[k]))});
    }
  });
  REQUIRE(result.geometry);
  std::size_t next = 0;
  for (const BenchData& bench : result.geometry->after)
    for (const NamedSolidData& piece : bench.pieces) {
      REQUIRE(next < told.size());
      const Told& mine = told[next++];
      INFO(path << ", step " << bench.step << ", " << piece.name);
      CHECK(mine.step == bench.step);
      CHECK(mine.name == piece.name);
      const std::string theirs = text_of(result.geometry->solids[piece.solid]);
      CHECK(mine.text == theirs);
      CHECK(mine.refined == theirs);
    }
  CHECK(next == told.size());
  return next;
}

}  // namespace

TEST_CASE("blocks are the pieces on the bench, in every state of every plan", "[history]") {
  std::size_t pieces = 0;
  for (const auto& entry : fs::directory_iterator(PLANS_FOLDER))
    if (entry.path().extension() == ".yaml" && entry.file_size() < 20000)
      pieces += compare_states(entry.path().string(), EngineChoice::parts);
  CHECK(pieces > 200);
}

TEST_CASE("blocks are made of what the Nef engine holds, too", "[history]") {
  for (const char* name : {"tutorial.yaml", "odd-edge-to-box.yaml", "bow-tie.yaml"})
    CHECK(compare_states(std::string(PLANS_FOLDER "/") + name, EngineChoice::nef) > 3);
}

TEST_CASE("a run that ends early has the states up to there", "[history]") {
  int last = -1;
  const CheckResult result = check_plan_text(
      "cutproof: 1\nstart: { T: { box: { size: [2, 1, 1] } } }\nsteps:\n"
      "  - { cut: T, by: { equation: \"x = 1\" }, into: [a, b] }\n  - { cut: T, by: { equation: \"x = 1\" }, into: [c, d] "
      "}\n"
      "goal: { box: { size: [2, 1, 1] } }\n",
      "early.yaml", {}, {}, [&](const BlockHistory& history, CheckResult*) {
        if (history.state_count() > 0) last = history.step_of(history.state_count() - 1);
      });
  CHECK(result.outcome == Outcome::invalid);
  CHECK(last <= 1);
}

TEST_CASE("a history keeps what each step changed, however many pieces lie on the bench", "[history]") {
  constexpr int cuts = 60;
  std::string text = "cutproof: 1\nstart: { rest: { box: { size: [61, 1, 1] } } }\nsteps:\n";
  for (int i = 1; i <= cuts; ++i)
    text += "  - { cut: rest, by: { equation: \"x = " + std::to_string(i) + "\" }, into: [rest, slice" + std::to_string(i) +
            "] }\n  - move: { slice" + std::to_string(i) + ": { translation: [0, 0, " + std::to_string(i) + "] } }\n";
  text += "goal: { box: { size: [61, 1, 1] } }\n";
  std::size_t seen = 0;
  check_plan_text(text, "slices.yaml", {}, {}, [&](const BlockHistory& history, CheckResult*) {
    REQUIRE(history.state_count() == 2 * cuts + 1);
    for (std::size_t i = 0; i < history.state_count(); ++i) {
      const BenchState state = history.state(i);
      const BenchChange change = history.change(i);
      CHECK(state.pieces.size() == (i + 1) / 2 + 1);
      CHECK(state.pieces.front().name == "rest");
      CHECK(change.pieces.size() == (i == 0 || i % 2 == 0 ? 1 : 2));
      CHECK(change.gone == (i % 2 == 1 ? std::vector<std::string>{"rest"} : std::vector<std::string>{}));
      for (const StatePiece& piece : state.pieces) {
        REQUIRE(piece.blocks.size() == 1);
        const int moved_by = piece.name == "rest" ? 0 : std::stoi(piece.name.substr(5));
        const bool moved = moved_by > 0 && static_cast<int>(i) >= 2 * moved_by;
        CHECK(piece.blocks.front().pose->shift().z == Number(moved ? moved_by : 0));
      }
      ++seen;
    }
  });
  CHECK(seen == 2 * cuts + 1);
}

TEST_CASE("a region comes with its finding", "[history]") {
  std::size_t regions = 0;
  check_plan_file(PLANS_FOLDER "/broken/missing-and-excess.yaml", {}, {},
                  [&](const BlockHistory& history, CheckResult* result) {
                    for (const StateRegion& region : history.regions())
                      for (const Finding& finding : result->findings)
                        regions += message_of(finding) == message_of(region.finding) ? 1 : 0;
                  });
  CHECK(regions == 2);
}
