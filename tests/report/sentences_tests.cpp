// SPDX-License-Identifier: GPL-3.0-or-later
// The table of sentences, by itself: every statement has its words, and says what it is given and nothing else.
#include "report/sentences.hpp"

#include "report/finding_facts.hpp"
#include "verify/text.hpp"

#include <catch2/catch.hpp>

#include <set>

using namespace cutproof;

namespace {

FindingFact number(const std::string& exact, const std::string& decimal = "") {
  FindingFact fact;
  fact.number = Value{exact, decimal};
  return fact;
}

FindingFact count(std::size_t value) {
  FindingFact fact;
  fact.count = value;
  return fact;
}

FindingFact text(const std::string& value) {
  FindingFact fact;
  fact.text = value;
  return fact;
}

FindingFact names(const std::vector<std::string>& value) {
  FindingFact fact;
  fact.names = value;
  return fact;
}

Finding finding(const std::string& code, const std::string& statement, std::vector<std::string> pieces,
                std::map<std::string, FindingFact> facts = {}) {
  Finding result;
  result.code = code;
  result.statement = statement;
  result.pieces = std::move(pieces);
  result.facts = std::move(facts);
  return result;
}

Finding with_region(Finding finding) {
  finding.volume = Value{"1/2", "0.5"};
  finding.box = ExactBox{{"0", "0", "0"}, {"1", "sqrt(2)", "1/2"}};
  return finding;
}

}  // namespace

TEST_CASE("regions are told by volume and box") {
  const std::string region = "a region of volume 1/2 in the box (0, 0, 0) to (1, sqrt(2), 1/2)";
  CHECK(message_of(with_region(finding("overlap", "", {"A", "B"}))) == "`A` and `B` share interior points: " + region);
  CHECK(message_of(with_region(finding("missing", "", {}))) == "no piece fills " + region + " of the goal");
  CHECK(message_of(with_region(finding("missing", "", {"A", "B"}))) ==
        "no piece fills " + region + " of the goal; beside it: `A` and `B`");
  CHECK(message_of(with_region(finding("excess", "", {"A"}))) == "`A` lies outside the goal in " + region);
  CHECK(message_of(with_region(finding("excess", "", {"A", "B"}))) == "`A` and `B` lie outside the goal in " + region);
}

TEST_CASE("what is stated stands in the sentence, in the right number") {
  CHECK(message_of(finding("straddles", "", {"A"}, {{"goals", names({"left", "right"})}})) ==
        "`A` has interior points in the goals `left` and `right`: every piece must lie in one goal");
  CHECK(message_of(finding("volume-differs", "smaller", {},
                           {{"start", number("2")}, {"goal", number("1")}, {"difference", number("1")}})) ==
        "the start has volume 2, the goal 1: the goal is 1 smaller, and no mending of steps can help");
  CHECK(message_of(finding("dehn-differs", "", {}, {{"invariant", text("6 (x) acos(1/3)")}})) ==
        "goal minus start has the Dehn invariant 6 (x) acos(1/3), which is not 0: cutting and moving keeps the Dehn "
        "invariant, so no mending of steps can help");
  CHECK(message_of(finding("mirrored", "", {"A"})) ==
        "this motion turns `A` into its mirror image, which no motion in space can do");
  CHECK(message_of(finding("mirrored", "", {"A", "B"})) ==
        "this motion turns `A` and `B` into mirror images, which no motion in space can do");
  CHECK(message_of(finding("volume-changed", "moved", {"A"}, {{"before", number("1")}, {"after", number("2")}})) ==
        "moving `A` changed its volume from 1 to 2");
  CHECK(message_of(finding("expectation-failed", "pieces", {}, {{"expected", count(1)}, {"found", count(2)}})) ==
        "expected 1 piece on the bench; found 2");
  CHECK(message_of(finding("expectation-failed", "pieces", {}, {{"expected", count(0)}, {"found", count(1)}})) ==
        "expected 0 pieces on the bench; found 1");
  CHECK(message_of(finding("expectation-failed", "split", {"A"}, {{"parts", count(1)}, {"names", count(2)}})) ==
        "`A` has 1 connected part, but `into` has 2 names");
  const Finding missed = finding(
      "plane-misses", "of several, along an axis", {"A"},
      {{"index", count(2)}, {"axis", text("x")}, {"least", number("0")}, {"most", number("1")}, {"plane", number("3")}});
  CHECK(message_of(missed) == "plane 2 of this cut does not pass through `A`: there are interior points on one side only");
  CHECK(hint_of(missed) ==
        "move the plane into the piece, or take the piece out of this step: `A` reaches from x = 0 to 1; the plane is at "
        "x = 3");
  CHECK(hint_of(finding("plane-misses", "", {"A", "B"},
                        {{"side", text("to")}, {"near", number("0")}, {"far", number("sqrt(2)")}})) ==
        "move the plane into the piece, or take the piece out of this step: `A` and `B` lie on the side that the plane's "
        "normal points to, at distances from 0 to sqrt(2)");
}

TEST_CASE("own words come before the table's, and a fact that is lost is shown as such") {
  Finding own = finding("overlap", "", {"A", "B"});
  own.message = "it is so";
  own.hint = "do it so";
  CHECK(message_of(own) == "it is so");
  CHECK(hint_of(own) == "do it so");
  CHECK(message_of(finding("expectation-failed", "connected", {"A"})) ==
        "expected `A` to be connected; it is in {parts} parts");
  CHECK(message_of(finding("no-such-code", "", {})) == "no-such-code");
}

TEST_CASE("audits of angles") {
  AuditResult audit;
  audit.allowed = {"90 deg", "270 deg"};
  audit.exceptions = {{"45 deg", 2}, {"60 deg", 1}};
  CHECK(audit_text(audit) == "every edge is to have 90 deg or 270 deg, except exactly 2 of 45 deg, 1 of 60 deg");
  audit.faults = {{"135 deg", 1}, {"45 deg", 0, 2}};
  audit.edges = {{{"0", "0", "0"}, {"4", "0", "0"}, "135 deg", "135.0"}};
  Finding failed = finding("expectation-failed", "angles", {"A"});
  failed.audit = audit;
  CHECK(message_of(failed) ==
        "the dihedral angles of `A`: every edge is to have 90 deg or 270 deg, except exactly 2 of 45 deg, 1 of 60 deg; "
        "1 edge has 135 deg, 0 edges have 45 deg instead of 2: from (0, 0, 0) to (4, 0, 0) 135 deg");
  audit = {};
  audit.exceptions = {{"45 deg", 2}};
  CHECK(audit_text(audit) == "every edge is to have an angle listed as an exception, except exactly 2 of 45 deg");
}

TEST_CASE("reasons of comparisons") {
  CompareResult result;
  CHECK(dissection_reason_of(result).empty());
  CHECK(at_scale_text(result).empty());
  result.dehn_difference = DehnValue();
  result.dehn_difference->text = "1 (x) arccos(1/3)";
  result.reason = DissectionReason::invariants_differ;
  CHECK(dissection_reason_of(result).find("the left side minus the right side has 1 (x) arccos(1/3), which is not 0") !=
        std::string::npos);
  result.of_one_plan = true;
  CHECK(dissection_reason_of(result).find("the start minus the goal has") != std::string::npos);
  result.scale = Value{"1/2", "0.5"};
  result.exists_at_scale = true;
  CHECK(at_scale_text(result) ==
        "With the goal scaled by 1/2 the volumes are equal, and the Dehn invariants are equal too: then a dissection "
        "exists");
}

TEST_CASE("lists of names") {
  CHECK(list_text({}).empty());
  CHECK(list_text({"A"}) == "`A`");
  CHECK(list_text({"A", "B", "C"}) == "`A`, `B` and `C`");
  CHECK(list_text({"A", "B", "C", "D", "E", "F", "G"}) == "`A`, `B`, `C`, `D`, `E` and 2 more");
}

TEST_CASE("every code about a dissection has a sentence, and no statement stands twice") {
  std::set<std::string> worded;
  std::set<std::pair<std::string, std::string>> seen;
  for (const Sentence& sentence : sentences()) {
    worded.insert(sentence.code);
    CHECK(seen.emplace(sentence.code, sentence.statement).second);
    const std::string message = sentence.message;
    CHECK(message.back() != '.');
    CHECK(std::count(message.begin(), message.end(), '{') == std::count(message.begin(), message.end(), '}'));
  }
  for (const FindingKind& kind : finding_kinds()) {
    INFO(kind.code);
    if (kind.of_plan) CHECK(worded.count(kind.code) == 1);
  }
  for (const std::string& code : worded) CHECK(kind_of(finding(code, "", {})).code == code);
}
