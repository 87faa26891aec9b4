// SPDX-License-Identifier: GPL-3.0-or-later
// Single-fault mutants of every good plan: the two engines and the oracle must judge each of them alike.
#include "oracle/compare.hpp"
#include "oracle/mutants.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <iomanip>
#include <iostream>
#include <map>
#include <set>

namespace cutproof::oracle {
namespace {

// Over fields of higher degree, or with many parts, a Nef polyhedron takes its time.
const std::set<std::string> slow_plans = {"bilinski-to-box",       "doubled-cube",
                                          "greek-cross-to-square", "hexagon-to-square",
                                          "no-odd-edge-left",      "octahedron-and-two-tetrahedra",
                                          "pentagon-to-square",    "thick-pentagon-to-square",
                                          "triangle-to-square"};

std::vector<std::filesystem::path> good_plans() {
  std::vector<std::filesystem::path> plans;
  for (const auto& entry : std::filesystem::directory_iterator(PLANS_FOLDER))
    if (entry.path().extension() == ".yaml") plans.push_back(entry.path());
  std::sort(plans.begin(), plans.end());
  return plans;
}

// A plan keeps its mutants when another one is added.
std::uint64_t seed_of(const std::string& name) {
  std::uint64_t hash = 14695981039346656037u;  // FNV-1a
  for (const char c : name) hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211u;
  return hash;
}

}  // namespace

TEST_CASE("both engines and the oracle agree on single-fault mutants of every plan", "[mutants]") {
  const char* slow = std::getenv("CUTPROOF_SLOW");
  const bool all = slow != nullptr && std::string(slow) == "1";
  const char* only = std::getenv("CUTPROOF_PLAN");  // to look at the mutants of one plan; the sums at the end then fail
  std::size_t total = 0, not_judged = 0, plans_touched = 0;
  std::map<std::string, std::size_t> outcomes;
  std::map<std::string, std::map<std::string, std::size_t>> by_kind;
  for (const std::filesystem::path& path : good_plans()) {
    const std::string plan = path.stem().string();
    if (only != nullptr && plan != only) continue;
    const std::uint64_t seed = seed_of(plan);
    const std::vector<Mutant> mutants = mutants_of(text_of(path.string()), slow_plans.count(plan) != 0 ? 30 : 65, seed);
    std::cout << plan << ": " << mutants.size() << " mutants from seed " << seed << std::endl;
    ++plans_touched;
    for (std::size_t i = 0; i < mutants.size(); i += all ? 1 : 10) {
      const Mutant& mutant = mutants[i];
      if (all || only != nullptr) std::cout << "  " << i << ' ' << mutant.kind << ": " << std::flush;
      INFO(plan << ", seed " << seed << ", mutant " << i << ", " << mutant.kind << '\n' << mutant.text);
      const Comparison comparison = judge_three_times(mutant.text, path.string());
      CHECK(comparison.disagreement == "");
      if (all || only != nullptr)
        std::cout << outcome_word(comparison.outcome) << (comparison.disagreement.empty() ? "" : " DISAGREE") << std::endl;
      ++total;
      not_judged += comparison.not_judged ? 1 : 0;
      ++outcomes[outcome_word(comparison.outcome)];
      ++by_kind[mutant.kind][outcome_word(comparison.outcome)];
    }
  }
  for (const auto& [kind, counts] : by_kind) {
    std::cout << std::setw(24) << kind << ":";
    for (const auto& [outcome, count] : counts) std::cout << ' ' << count << ' ' << outcome;
    std::cout << '\n';
    CHECK(counts.count("refuted") == 1);  // a kind of fault that never harms tests nothing
  }
  std::cout << total << " mutants:";
  for (const auto& [outcome, count] : outcomes) std::cout << ' ' << count << ' ' << outcome;
  std::cout << "; " << not_judged << " refuted for angles or Dehn invariants alone, of which the oracle knows nothing\n";
  CHECK(plans_touched > 20);
  CHECK(by_kind.size() == 11);
  CHECK(outcomes["refuted"] > total / 3);
  CHECK(outcomes["invalid"] < total / 2);
  CHECK(outcomes["verified"] > 0);
  if (all) CHECK(total >= 1000);
}

}  // namespace cutproof::oracle
