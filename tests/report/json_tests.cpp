// SPDX-License-Identifier: GPL-3.0-or-later
// The JSON report key by key: scripts are written against these names and shapes.
#include "cutproof/report.hpp"
#include "report/sample_results.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>

using namespace cutproof;
using nlohmann::json;

TEST_CASE("a check as JSON has every key of the contract with its value") {
  const json report = json::parse(json_report(std::vector<CheckResult>{sample_check()}));
  CHECK(report.at("format") == "cutproof-report");
  CHECK(report.at("version") == 1);
  CHECK(report.at("plan") == "plans/sample.yaml");
  CHECK(report.at("plan_sha256") == std::string(64, 'a'));
  CHECK(report.at("title") == "A sample");
  CHECK(report.at("outcome") == "refuted");
  CHECK(report.at("exit_code") == 1);
  CHECK(report.at("field").at("degree") == 4);
  CHECK(report.at("field").at("generators") == json({"3^(1/4)"}));
  CHECK(report.at("start").at("volume") == json({{"exact", "sqrt(3)"}, {"decimal", "1.7320508075688772935"}}));
  const json& dehn = report.at("start").at("dehn");
  CHECK(dehn.at("zero") == false);
  CHECK(dehn.at("distinct_angles") == 3);
  CHECK(dehn.at("terms").at(0).at("coefficient").at("exact") == "12*sqrt(2)");
  CHECK(dehn.at("terms").at(0).at("angle").at("cosine") == "1/3");
  CHECK(dehn.at("terms").at(0).at("angle").at("degrees") == "70.528779365509308630");
  CHECK(dehn.at("certificate") == json::parse(R"json({"format":"cutproof-dehn-certificate","version":1,
    "field":{"minimal_polynomial":["-2","0","1"],"root_between":["7/5","3/2"]},
    "edges":[{"times":-1,"edge":[["1","1/2"],[],[]],"first":[[],["1"],[]],"second":[[],[],["-1"]]}],
    "angles":[{"tangent_squared":["8"],"coefficient":["6"]}],
    "separations":[{"q":17,"root":6,"symbols":[1,-1]}],
    "classes":[{"radicand":["2"],"angles":[0],"scales":[["2"]],"l":10007,
      "characters":[{"q":40029,"root":5,"sqrt_minus_r":6,"generator":7,"logs":[1,2]}],"pivots":[0],
      "relations":[{"dependent":1,"exponents":[-2,3],"order":4}],"coefficients":[["12"]]}],
    "sums":[{"class":0,"pivots":[0],"factors":[1],"coefficient":["12"],"tangent_squared":["8"]}],"zero":false})json"));
  CHECK_FALSE(report.at("goal").contains("dehn"));
  CHECK(report.at("dissection") == "exists");
  const json& step = report.at("steps").at(0);
  const json expected_1 =
      json::parse(R"json({"index":1,"kind":"cut","title":"halfway up","note":"a note","line":31,"pieces_before":1,
    "pieces_after":2,"removed":["T"],"added":["A","B"],"moved":[],"volume":{"exact":"sqrt(3)","decimal":"1.7320508075688772935"},
    "dehn_unchanged":true})json");
  CHECK(step == expected_1);
  CHECK(report.at("steps").at(1).at("skipped") == true);
  CHECK_FALSE(step.contains("motions"));
  CHECK(report.at("steps").at(1).at("motions").at(0) == json::parse(R"json({"pieces":["B"],"line":35,"column":12,
    "words":"turned 180 deg about the line through (1, 0, 0) along (0, 0, 1), shifted along it by sqrt(2)","proper":true,
    "rows":[["-1","0","0"],["0","-1","0"],["0","0","1"]],"shift":["2","0","sqrt(2)"],
    "screw":{"point":["1","0","0"],"direction":["0","0","1"],"degrees":"180.00000000000000000","of_pi":"1",
             "along":"1.4142135623730950488"}})json"));
  CHECK(report.at("steps").at(1).at("motions").at(1).at("proper") == false);
  CHECK_FALSE(report.at("steps").at(1).at("motions").at(1).contains("screw"));
  CHECK(report.at("shapes") == json::parse(R"json([
    {"volume":{"exact":"1/2","decimal":"0.50000000000000000000"},"pieces":["A"],"mirror_of":null,"chiral":true},
    {"volume":{"exact":"1/2","decimal":"0.50000000000000000000"},"pieces":["B"],"mirror_of":0,"chiral":true}])json"));
  CHECK(report.at("smallest") == json::parse(R"json({"edge":{"exact":"sqrt(2)","decimal":"1.4142135623730950488"},
    "edge_of":"A","volume":{"exact":"1/3","decimal":"0.33333333333333333333"},"volume_of":"B"})json"));
  const json expected_2 =
      json::parse(R"json({"name":"B","parts":2,"volume":{"exact":"1/3","decimal":"0.33333333333333333333"},
    "shape":1})json");
  CHECK(report.at("pieces").at(1) == expected_2);
  const json expected_3 =
      json::parse(R"json({"code":"overlap","id":"overlap-abf7264acf7049a0","step":2,"line":40,"column":5,"pieces":["A","B"],
    "message":"`A` and `B` share interior points","hint":"move one of them",
    "volume":{"exact":"1/12","decimal":"0.083333333333333333333"},"box":{"min":["0","0","0"],"max":["1/2","1","1"]},
    "box_decimal":{"min":["0.0","0.0","0.0"],"max":["0.5","1.0","1.0"]},
    "corners":[["0","0","0"],["1/2","1","sqrt(2)"]],"corners_decimal":[["0.0","0.0","0.0"],["0.5","1.0","1.4"]],"region":0,
    "suspects":[{"piece":"B","step":2,"line":35,"column":12},{"piece":"A","step":0,"line":20,"column":3}],"missing":{"exact":"1","decimal":"1.0000000000000000000"},
    "excess":{"exact":"2","decimal":"2.0000000000000000000"},"excerpt":"    move: { A: flip }","caret_length":4})json");
  CHECK(report.at("findings").at(0) == expected_3);
  CHECK(report.at("consequences").at(0).at("code") == "expectation-failed");
  CHECK(report.at("mends") == json::parse(R"json([{"kind":"motion","words":"change the motion of `B`",
    "edits":[{"line":35,"column":12,"end_line":35,"end_column":16,"text":"turn"}],
    "findings":["overlap-abf7264acf7049a0"]}])json"));
  CHECK(report.at("mends_tried") == 4);
  CHECK(report.at("mends_ended_early") == "the time limit of 1 s was reached");
  CHECK(report.at("counts") == json({{"overlap", 123}}));
}

TEST_CASE("several plans stand in a list under the highest exit code, and so does none") {
  CheckResult good = sample_check(), stopped = sample_check();
  good.outcome = Outcome::verified;
  stopped.outcome = Outcome::stopped;
  const json report = json::parse(json_report(std::vector<CheckResult>{good, stopped, sample_check()}));
  CHECK(report.at("format") == "cutproof-report");
  CHECK(report.at("exit_code") == 3);
  REQUIRE(report.at("plans").size() == 3);
  CHECK(report.at("plans").at(0).at("outcome") == "verified");
  CHECK(report.at("plans").at(1).at("exit_code") == 3);
  CHECK(json::parse(json_report(std::vector<CheckResult>{})).at("plans").empty());
}

TEST_CASE("word and exit code of every outcome in a report") {
  const std::pair<Outcome, const char*> pairs[] = {{Outcome::verified, "verified"},
                                                   {Outcome::refuted, "refuted"},
                                                   {Outcome::invalid, "invalid"},
                                                   {Outcome::stopped, "stopped"},
                                                   {Outcome::failed, "failed"}};
  int code = 0;
  for (const auto& [outcome, word] : pairs) {
    CheckResult result = sample_check();
    result.outcome = outcome;
    const json report = json::parse(json_report(std::vector<CheckResult>{result}));
    CHECK(report.at("outcome") == word);
    CHECK(report.at("exit_code") == code++);
    const std::string text = terminal_report(result);
    CHECK(text.rfind(std::string(word) + ": plans/sample.yaml", 0) == 0);
    CHECK((text.find("verified") != std::string::npos) == (outcome == Outcome::verified));
  }
}

TEST_CASE("a measurement and a comparison as JSON") {
  const json measured = json::parse(json_report(std::vector<MeasureResult>{sample_measure()}));
  CHECK(measured.at("solid") == "block");
  CHECK(measured.at("exit_code") == 1);
  for (const char* key :
       {"volume", "area", "faces", "edges", "vertices", "genus", "shells", "edge_kinds", "dehn", "audit"}) {
    CHECK(measured.contains(key));
  }
  const json expected_4 = json::parse(R"json({"count":1,"length":{"exact":"4","decimal":"4.0000000000000000000"},
    "angle":{"cosine":"-sqrt(1/2)","degrees":"135.00000000000000000","of_pi":"3/4","text":"135 deg"},"reflex":true})json");
  CHECK(measured.at("edge_kinds").at(0) == expected_4);
  CHECK(measured.at("edge_kinds").at(1).at("angle").at("of_pi").is_null());
  CHECK(json::parse(json_report(std::vector<MeasureResult>(2, sample_measure()))).at("solids").size() == 2);

  const json compared = json::parse(json_report(sample_compare()));
  CHECK(compared.at("same_volume") == false);
  CHECK(compared.at("same_dehn") == false);
  CHECK(compared.at("dissection") == "does not exist");
  CHECK(compared.at("why") == "the volumes differ (1 and 2), and cutting and moving keeps volume");
  CHECK(compared.at("exit_code") == 1);
  for (const std::string& text : {terminal_report(sample_measure()), terminal_report(sample_compare())}) {
    CHECK(text.find("12*sqrt(2) (x) acos(1/3), 3 distinct angles left") != std::string::npos);
    CHECK(text.find("verified") == std::string::npos);
  }
}

TEST_CASE("strangers' text survives as data, and the file itself is harmless") {
  CheckResult result = sample_check();
  result.title = "a\033[2J\xe2\x80\xae\x7f\xc2\x9b \"quoted\" D\xc3\xbcrer";
  result.plan = "plans/\xff.yaml";
  const std::string text = json_report(std::vector<CheckResult>{result});
  CHECK(std::all_of(text.begin(), text.end(), [](char c) { return c == '\n' || (c >= 0x20 && c < 0x7f); }));
  const json report = json::parse(text);
  CHECK(report.at("title") == result.title);
  CHECK(report.at("plan") == "plans/\\xff.yaml");
}
