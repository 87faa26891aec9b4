// SPDX-License-Identifier: GPL-3.0-or-later
// The text for people: what it must say, its width, its colours, and that nobody can smuggle lines into it.
#include "cutproof/report.hpp"
#include "report/escape.hpp"
#include "report/formats.hpp"
#include "report/sample_results.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <sstream>

using namespace cutproof;

namespace {

std::vector<std::string> lines(const std::string& text) {
  std::vector<std::string> all;
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);) all.push_back(line);
  return all;
}

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("of a refuted plan the place comes first, then what is wrong, then what was done, step by step") {
  const std::string text = terminal_report(sample_check(), TextStyle{100, false});
  CHECK(lines(text)[0] == "refuted: plans/sample.yaml:35, step 2, piece `B`");
  CHECK(lines(text)[1] == "  \"A sample\"");
  CHECK(lines(text)[2] == "  `B` runs into `A`.");
  CHECK(has(text, "     35 |   - move: { B: turn }\n        |            ^^^^^^^\n"));
  CHECK(has(text, "  try: move one of them\n"));
  CHECK(has(text, "  A dissection exists: volume sqrt(3) = 1.7320508075688..., Dehn invariant "));
  CHECK(has(text, "  1  cut T -> A, B: \"halfway up\" (line 31)\n"));
  CHECK(has(text, "> 2  move: left out because of a finding (line 35)\n"));
  CHECK(has(text, "       overlap  A, B 1/12               box (0, 0, 0) to (1/2, 1, 1)\n"));
  CHECK(has(text, "and 122 more of the kind overlap, 123 in all"));
  CHECK(has(text, "1 consequence of these, left out here (--full has it)"));
  CHECK_FALSE(has(text, "follows from the other"));
}

TEST_CASE("the full text has all of every finding and step") {
  const std::string text = terminal_report(sample_check(), TextStyle{100, false, true});
  CHECK(lines(text)[0] == "refuted: plans/sample.yaml");
  CHECK(has(text, "volume sqrt(3) = 1.7320508075688..."));
  CHECK(has(text, "numbers     degree 4, made from 3^(1/4)"));
  CHECK(has(text, "dissection  exists: volumes and Dehn invariants are equal, and"));
  CHECK(has(text, "    1  cut: halfway up (line 31), 1 -> 2 pieces\n       cut:    T\n       made:   A, B\n"));
  CHECK(has(text, "  A  1 part   volume 1/2 = 0.5\n"));
  CHECK(has(text, "overlap at plans/sample.yaml:40:5"));
  CHECK(has(text, "inside: box (0, 0, 0) to (1/2, 1, 1)"));  // the message is the finding's own, without the place
  CHECK(has(text, "corners: (0, 0, 0), (1/2, 1, sqrt(2))"));
  CHECK(has(text, "follows from the other"));
}

TEST_CASE("a plan that cuts nothing and moves nothing says so") {
  CheckResult result;
  result.outcome = Outcome::verified;
  result.plan = "p";
  CHECK(has(terminal_report(result), "Note: this plan cuts nothing and moves nothing."));
}

namespace {

CheckResult long_check(std::size_t steps, std::size_t pieces) {
  CheckResult result;
  result.outcome = Outcome::verified;
  result.plan = "long.yaml";
  result.title = "A long one";
  result.start = result.goal = VolumeAndDehn{{"1", "1.0"}, DehnValue{true, {}, "0", {}, 0}};
  result.total_steps = steps;
  for (std::size_t i = 1; i <= steps; ++i) {
    StepResult step;
    step.index = static_cast<int>(i);
    step.kind = i == steps ? "move" : "cut";
    step.line = static_cast<int>(10 * i);
    step.pieces_before = 1;
    for (std::size_t k = 0; k < pieces / 2; ++k) {
      if (i == steps) {
        step.moved.push_back("piece." + std::to_string(k));
      } else {
        step.removed.push_back("old." + std::to_string(k));
        step.added.push_back("piece." + std::to_string(k));
      }
    }
    result.steps.push_back(step);
  }
  for (std::size_t k = 0; k < pieces; ++k)
    result.pieces.push_back({"piece." + std::to_string(k), 1, {"1/1000", "0.0010000000000000000000"}});
  return result;
}

}  // namespace

TEST_CASE("however large a verified plan is, 24 lines say it; runs of unremarkable steps take one") {
  CHECK(lines(terminal_report(long_check(500, 1000))).size() <= 24);
  CHECK(lines(terminal_report(long_check(12, 1000))).size() <= 24);
  const std::string text = terminal_report(long_check(500, 1000));
  CHECK(has(text, "\n  3 to 498  cut: nothing found\n  499  cut "));
  CHECK(has(text, "\n    1  cut old.0, "));
  CHECK(lines(terminal_report(long_check(500, 1000), TextStyle{100, false, true})).size() > 500);
}

TEST_CASE("of a long refuted plan the first finding stands within forty lines, and its step is marked") {
  CheckResult result = long_check(500, 1000);
  result.outcome = Outcome::refuted;
  for (const int step : {250, 251, 400}) {
    Finding finding = sample_finding();
    finding.step = step;
    finding.pieces = {"piece.1", "piece.2"};
    finding.suspects = {{"piece.1", step, 10 * step, 3}};
    result.findings.push_back(finding);
  }
  result.counts = {{"overlap", 3}};
  const std::vector<std::string> all = lines(terminal_report(result));
  const auto place =
      std::find_if(all.begin(), all.end(), [](const std::string& line) { return line.rfind("> 250  cut ", 0) == 0; });
  REQUIRE(place != all.end());
  CHECK(place - all.begin() < 39);
  CHECK(has(place[1], "overlap  piece.2, piece.1 1/12"));
  CHECK(has(terminal_report(result), "\n  252 to 399  cut: nothing found\n> 400  cut"));
}

TEST_CASE("a verified plan tells its shapes, the largest first, and its shortest edge") {
  CheckResult result = long_check(3, 6);
  const Value half{"1/2", "0.5"}, third{"1/3", "0.33333333333333333333"};
  result.shapes = {{half, {"piece.4"}, std::nullopt, true},
                   {half, {"piece.0"}, 0, true},
                   {third, {"piece.1", "piece.2", "piece.3", "piece.5"}, std::nullopt, false}};
  result.smallest = SmallestResult{{"sqrt(2)", "1.4142135623730950488"}, "piece.1", third, "piece.1"};
  const std::string text = terminal_report(result, TextStyle{200, false});
  CHECK(has(text,
            "6 pieces of 2 shapes and the mirror image of one, from 1 solid by 2 cuts and 1 move; shortest edge sqrt(2)"));
  CHECK(has(text, "pieces: piece.4 = mirrored piece.0 1/2, piece.1 = piece.2 = piece.3 = piece.5 1/3      (= congruent)"));
  result.shapes.pop_back();
  CHECK(has(terminal_report(result, TextStyle{200, false}), "6 pieces of one shape and its mirror image, from"));
}

TEST_CASE("findings that are alike fold into one") {
  CheckResult result = sample_check();
  result.outcome = Outcome::invalid;
  result.findings.clear();
  result.mends.clear();
  result.mends_tried = 0;
  result.mends_ended_early.clear();
  result.steps.clear();
  for (int i = 1; i <= 5; ++i) {
    Finding finding;
    finding.code = "invalid-input";
    finding.line = 10 + i;
    finding.column = 3;
    finding.message = "there is no piece `S." + std::to_string(i) + "`";
    result.findings.push_back(finding);
  }
  result.counts = {{"invalid-input", 5}};
  const std::string text = terminal_report(result, TextStyle{200, false});
  CHECK(
      has(text, "there is no piece `S.1` (and 4 more like it: `S.2` line 12, `S.3` line 13, `S.4` line 14, `S.5` line 15)"));
  CHECK_FALSE(has(text, "in all"));
  CHECK(lines(text).size() == 6);

  result.findings[1].hint = "did you mean `S.2.1`?";
  const std::string of_two_hints = terminal_report(result, TextStyle{200, false});
  CHECK(has(of_two_hints, "there is no piece `S.1` (and 3 more like it: `S.3` line 13, `S.4` line 14, `S.5` line 15)"));
  CHECK(has(of_two_hints, "there is no piece `S.2`\n"));
  CHECK(has(of_two_hints, "try: did you mean `S.2.1`?"));
  result.findings[1].hint.clear();

  result.outcome = Outcome::refuted;
  result.steps = sample_check().steps;
  for (Finding& finding : result.findings) {
    finding.code = "expectation-failed";
    finding.step = 1;
  }
  result.counts = {{"expectation-failed", 5}};
  CHECK(
      has(terminal_report(result, TextStyle{200, false}),
          "expectation-failed  there is no piece `S.2` (and 3 more like it: `S.3` line 13, `S.4` line 14, `S.5` line 15)"));
}

TEST_CASE("a difference of volumes is told in numbers, and no step is blamed for it") {
  CheckResult result = sample_check();
  Finding finding;
  finding.code = "volume-differs";
  finding.step = 2;
  finding.line = 50;
  finding.message = "the start has volume 7, the goal 63/8";
  finding.volume = Value{"-3031/2000 + sqrt(3)", "0.21655080756887729353"};
  result.findings.push_back(finding);
  result.dissection = "does not exist";
  const std::string text = terminal_report(result);
  CHECK(lines(text)[0] == "refuted: plans/sample.yaml:50, the goal");
  CHECK(has(text, "The goal is larger than the start: "));
  CHECK_FALSE(has(text, "A dissection"));
}

TEST_CASE("several plans: a verified one takes a line, and the log stands last") {
  CheckResult good = long_check(3, 4), bad = sample_check(), strange = sample_check();
  strange.plan = "::error file=x";
  strange.findings[0].message = "a\nb";
  const Results results = std::vector<CheckResult>{good, good, bad, strange};
  const std::string text = terminal_report(results, TextStyle{});
  CHECK(lines(text)[0] == "verified: long.yaml");
  CHECK(lines(text)[1] == "verified: long.yaml");
  CHECK(has(text, "\n\nrefuted: plans/sample.yaml:35"));
  const std::string log = summary_lines(results);
  CHECK(text.substr(text.size() - log.size()) == log);
  CHECK(lines(log) == std::vector<std::string>{"plans/sample.yaml:35:12: refuted: step 2: `A` and `B` share interior points",
                                               "plans/sample.yaml: refuted: and 122 more findings",
                                               "./::error file=x:35:12: refuted: step 2: a\\nb",
                                               "./::error file=x: refuted: and 122 more findings",
                                               "4 plans: 2 verified, 2 refuted"});
  CHECK(summary_lines(Results(std::vector<CheckResult>{good})) == "1 plan: 1 verified\n");
}

TEST_CASE("lines of the log say which case they are about") {
  CheckResult second = sample_check(), set = sample_check();
  second.case_number = 2;
  second.parameters = set.parameters = {{"n", "3"}};
  const Finding found = second.findings.front();
  second.findings.assign(11, found);
  second.counts = {{second.findings.front().code, 11}};
  const std::vector<std::string> log = lines(summary_lines(Results(std::vector<CheckResult>{second, set})));
  CHECK(log[0] == "plans/sample.yaml:35:12: refuted: case 2 with n = 3: step 2: `A` and `B` share interior points");
  CHECK(log[10] == "plans/sample.yaml: refuted: case 2 with n = 3: and 1 more finding");
  CHECK(log[11] == "plans/sample.yaml:35:12: refuted: with n = 3: step 2: `A` and `B` share interior points");
}

TEST_CASE("no line is wider than asked, down to forty columns") {
  CheckResult result = sample_check();
  result.findings[0].excerpt.clear();
  for (int i = 0; i < 500; ++i) result.steps[0].added.push_back("piece." + std::to_string(i));
  for (const int width : {40, 60, 80, 132})
    for (const bool full : {false, true}) {
      for (const std::string& line : lines(terminal_report(result, TextStyle{width, false, full}))) {
        INFO(line);
        CHECK(display_width(line) <= static_cast<std::size_t>(width));
      }
    }
  CHECK(has(terminal_report(result), " more: \"halfway up\" (line 31)"));
  CHECK(has(terminal_report(result, TextStyle{60, false, true}), "more, 502 in all"));
}

TEST_CASE("a long offending line is shown around the caret") {
  CheckResult result = sample_check();
  Finding& finding = result.findings[0];
  finding.suspects.clear();
  finding.excerpt = std::string(300, 'a') + "HERE" + std::string(150, 'b');
  finding.column = 301;
  const std::vector<std::string> all = lines(terminal_report(result, TextStyle{80, false}));
  bool found = false;
  for (std::size_t i = 0; i + 1 < all.size(); ++i) {
    const std::size_t at = all[i].find("HERE");
    if (at == std::string::npos) continue;
    found = true;
    CHECK(all[i].size() <= 80);
    CHECK(all[i + 1].find("^^^^") == at);
  }
  CHECK(found);
}

TEST_CASE("colours appear only when wanted, and change nothing else") {
  const std::string plain = terminal_report(sample_check(), TextStyle{80, false});
  std::string coloured = terminal_report(sample_check(), TextStyle{80, true});
  CHECK(has(coloured, "\033["));
  CHECK_FALSE(has(plain, "\033"));
  for (std::size_t at; (at = coloured.find('\033')) != std::string::npos;)
    coloured.erase(at, coloured.find('m', at) - at + 1);
  CHECK(coloured == plain);
}

TEST_CASE("a title cannot fake a verdict, recolour the screen or turn the text round") {
  CheckResult result = sample_check();
  result.title = "x\nverified: plans/sample.yaml\r\033[2K\xe2\x80\xae";
  result.steps[0].title = result.steps[0].removed.first[0] = result.pieces[0].name = result.source = result.title;
  result.findings[0].message = result.findings[0].hint = result.findings[0].excerpt = result.title;
  result.plan = result.title;
  for (const std::string& text : {terminal_report(result), summary_lines(Results(std::vector<CheckResult>{result}))}) {
    for (const std::string& line : lines(text)) CHECK(line.rfind("verified", 0) == std::string::npos);
    for (const char c : text) CHECK((c == '\n' || static_cast<unsigned char>(c) >= 0x20));
    CHECK_FALSE(has(text, "\xe2\x80\xae"));
    CHECK(is_utf8(text));
  }
}

TEST_CASE("a fault spoils every result") {
  CheckResult good = sample_check();
  good.findings.clear();
  good.outcome = Outcome::verified;
  Results results = std::vector<CheckResult>{good, sample_check()};
  Finding fault;
  fault.code = "report-not-written";
  add_fault(&results, fault);
  CHECK(highest_exit_code(results) == 4);
  for (const CheckResult& result : std::get<std::vector<CheckResult>>(results)) {
    CHECK(result.outcome == Outcome::failed);
    CHECK(result.counts.at("report-not-written") == 1);
  }
  CHECK_FALSE(has(terminal_report(results, TextStyle{}), "verified"));
}
