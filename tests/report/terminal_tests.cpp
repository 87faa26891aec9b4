// SPDX-License-Identifier: GPL-3.0-or-later
// The text for people: what it must say, its width, its colours, and that nobody can smuggle lines into it.
#include "cutproof/report.hpp"
#include "report/escape.hpp"
#include "report/formats.hpp"
#include "report/sample_results.hpp"

#include <catch2/catch.hpp>

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

TEST_CASE("the verdict comes first, then the bench as a difference, then findings with their places") {
  const std::string text = terminal_report(sample_check());
  CHECK(lines(text)[0] == "refuted: plans/sample.yaml");
  CHECK(lines(text)[1] == "A sample");
  CHECK(has(text, "volume sqrt(3) = 1.7320508075688..."));
  CHECK(has(text, "dissection  exists: volumes and Dehn invariants are equal"));
  CHECK(has(text, "    1  cut: halfway up (line 31), 1 -> 2 pieces\n       - T\n       + A, B\n"));
  CHECK(has(text, "skipped"));
  CHECK(has(text, "  A  1 part   volume 1/2 = 0.5\n"));
  CHECK(has(text, "overlap at plans/sample.yaml:40:5"));
  CHECK(has(text, "   40 |     move: { A: flip }\n        |     ^^^^\n"));
  CHECK(has(text, "inside: (0, 0, 0) to (1/2, 1, 1)"));
  CHECK(has(text, "corners: (0, 0, 0), (1/2, 1, sqrt(2))"));
  CHECK(has(text, "try: move one of them"));
  CHECK(has(text, "and 122 more of the kind overlap, 123 in all"));
  CHECK(has(text, "follows from the other"));
  CHECK(has(text, "this plan moves nothing") == false);
}

TEST_CASE("a plan that cuts nothing and moves nothing says so") {
  CheckResult result;
  result.outcome = Outcome::verified;
  result.plan = "p";
  CHECK(has(terminal_report(result), "Note: this plan cuts nothing and moves nothing."));
}

TEST_CASE("no line is wider than asked, down to forty columns") {
  CheckResult result = sample_check();
  result.findings[0].excerpt.clear();
  for (int i = 0; i < 500; ++i) result.steps[0].added.push_back("piece." + std::to_string(i));
  for (const int width : {40, 60, 80, 132}) {
    for (const std::string& line : lines(terminal_report(result, TextStyle{width, false}))) {
      INFO(line);
      CHECK(display_width(line) <= static_cast<std::size_t>(width));
    }
  }
  CHECK(has(terminal_report(result), "more, 502 in all"));
}

TEST_CASE("a long offending line is shown around the caret") {
  CheckResult result = sample_check();
  Finding& finding = result.findings[0];
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
  result.steps[0].title = result.steps[0].removed[0] = result.pieces[0].name = result.source = result.title;
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
