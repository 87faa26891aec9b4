// SPDX-License-Identifier: GPL-3.0-or-later
// Mends of single-fault mutants: each that is told is applied here, to the text alone, and what comes out is verified. The
// search changes nothing else of a result but hints.
#include "cutproof/mend.hpp"
#include "oracle/compare.hpp"
#include "oracle/mutants.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <iostream>
#include <set>

namespace cutproof::oracle {
namespace {

// A byte's place from a line and a column of code points, both from 1.
std::size_t byte_at(const std::string& text, int line, int column) {
  std::size_t at = 0;
  for (; line > 1; --line) at = text.find('\n', at) + 1;
  for (; column > 1; --column) do
      ++at;
    while ((static_cast<unsigned char>(text[at]) & 0xc0) == 0x80);
  return at;
}

std::string applied(std::string text, std::vector<MendEdit> edits) {
  // From the end, so that places before stay what they are.
  std::reverse(edits.begin(), edits.end());
  const std::string before = text;
  for (const MendEdit& edit : edits) {
    const std::size_t begin = byte_at(before, edit.line, edit.column);
    const std::size_t end = byte_at(before, edit.end_line, edit.end_column);
    text.replace(begin, end - begin, edit.text);
  }
  return text;
}

// What no search may change.
std::vector<std::string> told_of(const CheckResult& result) {
  std::vector<std::string> told{outcome_word(result.outcome), std::to_string(result.steps.size()),
                                std::to_string(result.pieces.size())};
  for (const Finding& finding : result.findings)
    told.push_back(finding.code + std::to_string(finding.step) + finding.message);
  for (const auto& [code, count] : result.counts) told.push_back(code + std::to_string(count));
  return told;
}

}  // namespace

TEST_CASE("no mend of a mutant is told that does not verify", "[mutant-mends]") {
  const char* slow = std::getenv("CUTPROOF_SLOW");
  const bool all = slow != nullptr && std::string(slow) == "1";
  // A search checks up to 200 plans, so that in plans of many pieces each takes long.
  const std::set<std::string> small = {
      "bow-tie",           "cube-to-three-pyramids", "disphenoid-to-box", "greek-cross-to-square",
      "hexagon-to-square", "hill-to-prism",          "mitred-tube",       "odd-edge-to-box",
      "one-square-to-two", "prism-to-box",           "pythagoras",        "six-path-tetrahedra",
      "staircase",         "triangle-to-square",     "tutorial"};
  std::size_t tried = 0, refuted = 0, mended = 0, told = 0;
  for (const std::string& plan : small) {
    const std::uint64_t seed = 20'000 + plan.size();
    const std::string good = text_of(std::string(PLANS_FOLDER) + "/" + plan + ".yaml");
    const std::vector<Mutant> mutants = mutants_of(good, 80, seed);
    for (std::size_t i = 0; i < mutants.size(); i += all ? 1 : 20) {
      INFO(plan << ", seed " << seed << ", mutant " << i << ", " << mutants[i].kind << '\n' << mutants[i].text);
      CheckResult result = check_plan_text(mutants[i].text, "plan.yaml");
      const std::vector<std::string> before = told_of(result);
      add_mends(mutants[i].text, {}, &result);
      CHECK(told_of(result) == before);
      CHECK(result.mends.size() <= 3);
      CHECK(result.mends_tried <= 200);
      for (const Mend& mend : result.mends) {
        const std::string text = applied(mutants[i].text, mend.edits);
        INFO(mend.kind << '\n' << text);
        CHECK(check_plan_text(text, "plan.yaml").outcome == Outcome::verified);
      }
      ++tried;
      refuted += result.outcome == Outcome::refuted ? 1 : 0;
      mended += result.mends.empty() ? 0 : 1;
      told += result.mends.size();
    }
  }
  std::cout << tried << " mutants, " << refuted << " refuted, " << mended << " mended, by " << told << " mends\n";
  CHECK(mended > refuted / 3);
  if (all) CHECK(tried >= 1000);
}

}  // namespace cutproof::oracle
