// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/against.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <random>

using namespace cutproof;

namespace {

std::size_t longest(const std::vector<std::string>& a, const std::vector<std::string>& b, std::size_t i, std::size_t k) {
  if (i == a.size() || k == b.size()) return 0;
  if (a[i] == b[k]) return 1 + longest(a, b, i + 1, k + 1);
  return std::max(longest(a, b, i + 1, k), longest(a, b, i, k + 1));
}

void is_a_run(const std::vector<std::pair<std::size_t, std::size_t>>& run, const std::vector<std::string>& a,
              const std::vector<std::string>& b) {
  for (std::size_t i = 0; i < run.size(); ++i) {
    REQUIRE(a.at(run[i].first) == b.at(run[i].second));
    if (i > 0) REQUIRE((run[i - 1].first < run[i].first && run[i - 1].second < run[i].second));
  }
}

ReportedPlan plan(const std::string& path, const std::string& digest) {
  ReportedPlan result;
  result.path = path;
  result.digest = digest;
  return result;
}

}  // namespace

TEST_CASE("The common run of two lists is the longest") {
  const unsigned seed = 4;
  INFO("seed " << seed);
  std::mt19937 random(seed);
  for (int round = 0; round < 300; ++round) {
    std::vector<std::string> a(random() % 8), b(random() % 8);
    for (std::string& each : a) each = std::string(1, static_cast<char>('a' + random() % 3));
    for (std::string& each : b) each = std::string(1, static_cast<char>('a' + random() % 3));
    const auto run = common_run(a, b);
    is_a_run(run, a, b);
    REQUIRE(run.size() == longest(a, b, 0, 0));
  }
}

TEST_CASE("Very long lists are matched in order") {
  std::vector<std::string> a, b;
  for (int i = 0; i < 20'000; ++i) a.push_back("a" + std::to_string(i));
  b = a;
  std::rotate(b.begin(), b.begin() + 1, b.end());
  const auto run = common_run(a, b);
  is_a_run(run, a, b);
  CHECK(run.size() == 19'999);
}

TEST_CASE("Plans are matched by path, then by digest, then because there is no other") {
  using Matches = std::vector<std::optional<std::size_t>>;
  const auto none = std::nullopt;
  CHECK(matched_plans({plan("a", "1"), plan("b", "2")}, {plan("b", "1"), plan("c", "1"), plan("d", "3")}) ==
        Matches{1, 0, none});
  CHECK(matched_plans({plan("a", "1")}, {plan("b", "2")}) == Matches{0});
  CHECK(matched_plans({plan("a", "1")}, {plan("b", "2"), plan("c", "3")}) == Matches{none, none});
  CHECK(matched_plans({plan("a", "1"), plan("a", "2")}, {plan("a", "2"), plan("a", "1"), plan("a", "3")}) ==
        Matches{0, 1, none});
  CHECK(matched_plans({}, {plan("a", "")}) == Matches{none});
}

TEST_CASE("What stands in a report in the places of others is not taken for it") {
  const std::string text = R"({"format": "cutproof-report", "version": 1, "plan": "p", "outcome": "verified",
    "field": {"plan": "q", "outcome": 3, "steps": [{"kind": "x"}]}, "steps": [{"index": 1, "kind": "cut", "new": {"kind": "y"},
    "added": ["a"], "added_count": 7}]})";
  const std::vector<ReportedPlan> plans = read_check_report(text);
  REQUIRE(plans.size() == 1);
  CHECK(plans[0].path == "p");
  REQUIRE(plans[0].steps.size() == 1);
  CHECK(plans[0].steps[0].label.kind == "cut");
  CHECK(plans[0].steps[0].added.count == 7);
  CHECK_THROWS_AS(read_check_report("{\"format\": \"cutproof-report\", \"version\": 1, \"plan\": 3}"), NoReport);
  CHECK_THROWS_AS(read_check_report(""), NoReport);
}
