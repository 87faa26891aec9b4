// SPDX-License-Identifier: GPL-3.0-or-later
// Results with every field filled in, so that a report or a transport that loses one is noticed.
#pragma once

#include "cutproof/result.hpp"

namespace cutproof {

inline Finding sample_finding() {
  Finding finding;
  finding.code = "overlap";
  finding.step = 2;
  finding.line = 40;
  finding.column = 5;
  finding.pieces = {"A", "B"};
  finding.message = "`A` and `B` share interior points";
  finding.hint = "move one of them";
  finding.volume = Value{"1/12", "0.083333333333333333333"};
  finding.box = ExactBox{{"0", "0", "0", {"0.0", "0.0", "0.0"}}, {"1/2", "1", "1", {"0.5", "1.0", "1.0"}}};
  finding.corners = {{"0", "0", "0", {"0.0", "0.0", "0.0"}}, {"1/2", "1", "sqrt(2)", {"0.5", "1.0", "1.4"}}};
  finding.suspects = {{"B", 2, 35, 12, "  - move: { B: turn }", 7}, {"A", 0, 20, 3}};
  finding.region = 0;
  finding.missing = Value{"1", "1.0000000000000000000"};
  finding.excess = Value{"2", "2.0000000000000000000"};
  finding.excerpt = "    move: { A: flip }";
  finding.caret_length = 4;
  return finding;
}

inline DehnCertificate sample_certificate() {
  DehnCertificate certificate;
  certificate.field = {{"-2", "0", "1"}, {"7/5", "3/2"}};
  certificate.edges = {{-1, {{{"1", "1/2"}, {}, {}}}, {{{}, {"1"}, {}}}, {{{}, {}, {"-1"}}}}};
  certificate.angles = {{{"8"}, {"6"}}};
  certificate.separations = {{17, 6, {1, -1}}};
  certificate.classes = {{{"2"}, {0}, {{"2"}}, 10007, {{40029, 5, 6, 7, {1, 2}}}, {0}, {{1, {-2, 3}, 4}}, {{"12"}}}};
  certificate.sums = {{0, {0}, {1}, {"12"}, {"8"}}};
  certificate.zero = false;
  return certificate;
}

inline DehnValue sample_dehn() {
  DehnValue dehn;
  dehn.zero = false;
  dehn.terms = {{{"12*sqrt(2)", "16.970562748477140585"}, "1/3", "70.528779365509308630", "acos(1/3)"}};
  dehn.text = "12*sqrt(2) (x) acos(1/3)";
  dehn.distinct_angles = 3;
  dehn.certificate = sample_certificate();
  return dehn;
}

inline PictureSet sample_pictures() {
  Picture picture;
  picture.kind = Picture::Kind::finding;
  picture.step = 3;
  picture.finding = 0;
  picture.apart = true;
  picture.frame = {-1000, -1050, 5000, 4000};
  picture.bodies = {{BodyRole::piece, "A", {0.25, 0, -1.5}, 3, 1, false},
                    {BodyRole::piece, "B", {0, 0, 0}, 0, 0, true},
                    {BodyRole::overlap, "", {}, 0, 0, false}};
  PicturePatch area;
  area.body = 0;
  area.tone = 1;
  area.cycles = {{0, 0, 1005, 0, 1005, 2050, 0, 2050}, {200, 200, 200, 300, 300, 300}};
  area.edges = {{0, 0, 1005, 0}};
  area.cuts = {{1005, 0, 1005, 2050}};
  PicturePatch outlined;
  outlined.body = 1;
  outlined.cycles = {{0, 0, -7, -100, 50, 50}};
  outlined.outlined = true;
  PicturePatch region = outlined;
  region.body = 2;
  picture.patches = {area, outlined, region};
  picture.traces = {{0, 0, 50, 50}};
  picture.names = {{0, 500, 1000, 12}};
  picture.unnamed = {"B"};
  return {{1, 2, 3, 4, 5, 6.5}, {picture}, "another picture"};
}

inline CheckResult sample_check() {
  CheckResult result;
  result.plan = "plans/sample.yaml";
  result.plan_sha256 = std::string(64, 'a');
  result.title = "A sample";
  result.source = "made up";
  result.outcome = Outcome::refuted;
  result.engine = EngineChoice::parts;
  result.field = FieldResult{4, {"3^(1/4)"}, "x^4-3", 1};
  result.start = VolumeAndDehn{{"sqrt(3)", "1.7320508075688772935"}, sample_dehn()};
  result.goal = VolumeAndDehn{{"sqrt(3)", "1.7320508075688772935"}, std::nullopt};
  result.dissection = "exists";
  result.dissection_reason = DissectionReason::both_agree;
  StepResult cut;
  cut.index = 1;
  cut.kind = "cut";
  cut.title = "halfway up";
  cut.note = "a note";
  cut.line = 31;
  cut.pieces_before = 1;
  cut.pieces_after = 2;
  cut.removed = {"T"};
  cut.added = {"A", "B"};
  cut.volume = {"sqrt(3)", "1.7320508075688772935"};
  cut.dehn_ok = true;
  StepResult move;
  move.index = 2;
  move.kind = "move";
  move.line = 35;
  move.skipped = true;
  move.pieces_before = move.pieces_after = 2;
  move.moved = {"B"};
  MotionResult half_turn;
  half_turn.pieces = {"B"};
  half_turn.line = 35;
  half_turn.column = 12;
  half_turn.words = "turned 180 deg about the line through (1, 0, 0) along (0, 0, 1), shifted along it by sqrt(2)";
  half_turn.rows = {ExactPoint{"-1", "0", "0"}, ExactPoint{"0", "-1", "0"}, ExactPoint{"0", "0", "1"}};
  half_turn.shift = {"2", "0", "sqrt(2)"};
  half_turn.screw = ScrewResult{{"1", "0", "0"}, {"0", "0", "1"}, "180.00000000000000000", "1", "1.4142135623730950488"};
  MotionResult mirror;
  mirror.pieces = {"A"};
  mirror.words = "mirrored in the plane through (0, 0, 0) normal to (1, 0, 0)";
  mirror.proper = false;
  move.motions = {half_turn, mirror};
  move.volume = cut.volume;
  result.steps = {cut, move};
  result.total_steps = 2;
  result.pieces = {{"A", 1, {"1/2", "0.50000000000000000000"}, 0}, {"B", 2, {"1/3", "0.33333333333333333333"}, 1}};
  result.shapes = {{{"1/2", "0.50000000000000000000"}, {"A"}, std::nullopt, true},
                   {{"1/2", "0.50000000000000000000"}, {"B"}, 0, true}};
  result.smallest = SmallestResult{{"sqrt(2)", "1.4142135623730950488"}, "A", {"1/3", "0.33333333333333333333"}, "B"};
  result.findings = {sample_finding()};
  Finding consequence;
  consequence.code = "expectation-failed";
  consequence.message = "follows from the other";
  result.consequences = {consequence};
  Mend mend;
  mend.kind = "motion";
  mend.words = "change the motion of `B`";
  mend.edits = {{35, 12, 35, 16, "turn"}};
  mend.lines = {{35, {"    move: { A: flip }"}, {"    move: { A: turn }"}}};
  mend.findings = {0};
  result.mends = {mend};
  result.mends_tried = 4;
  result.mends_ended_early = "the time limit of 1 s was reached";
  result.counts = {{"overlap", 123}};
  result.bench_checks = 7;
  SolidData solid;
  solid.corners = {{{"0", "0", "0"}, {0, 0, 0}}, {{"1/3", "1", "sqrt(2)"}, {1.0 / 3, 1, 1.4142135623730951}}};
  solid.facets = {{{{0, 1, 0}, {1, 0}}}};
  solid.edges = {{0, 1, {"sqrt(3)", "1.7320508075688772935"}, {{"270 deg", "0", "270.00000000000000000", true}}}};
  CheckGeometry geometry;
  geometry.solids = {solid, solid};
  geometry.start = {{"T", 0}};
  geometry.goals = {{"goal", 1}};
  geometry.end = {{"A", 0}, {"B", 1}};
  geometry.after = {{2, {{"A", 1}}}};
  geometry.regions = {{"overlap", 3, {"A", "B"}, 1}};
  result.geometry = geometry;
  result.pictures = sample_pictures();
  Scene scene;
  scene.blocks = {{solid.corners, solid.facets, "A"}};
  scene.states = {{0, "", "", 0, {{0, std::array<double, 12>{1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0}}}, {}, {{"T", {0}, {}}}},
                  {1, "cut", "halfway up", 31, {{0, std::nullopt}}, {"T"}, {{"A", {0}, {{{{0, 0, 0}, {1, 0, 0.5}}}}}}}};
  scene.goals = {{"goal", solid.corners, solid.facets}};
  scene.regions = {{"overlap", 3, {"A", "B"}, solid.corners, solid.facets}};
  result.scene = scene;
  return result;
}

inline MeasureResult sample_measure() {
  MeasureResult result;
  result.file = "solids.yaml";
  result.solid = "block";
  result.file_sha256 = std::string(64, 'b');
  result.answer = Answer::no;
  result.measured = true;
  result.field = FieldResult{2, {"sqrt(2)"}, "x^2-2", 1};
  result.volume = {"7", "7.0000000000000000000"};
  result.area = {"20 + sqrt(2)", "21.414213562373095049"};
  result.faces = 10;
  result.edges = 16;
  result.vertices = 8;
  result.shells = 2;
  result.genus = 1;
  EdgeKind kind;
  kind.count = 1;
  kind.length = {"4", "4.0000000000000000000"};
  kind.cosine = "-sqrt(1/2)";
  kind.degrees = "135.00000000000000000";
  kind.angle = "135 deg";
  kind.of_pi = "3/4";
  kind.reflex = true;
  EdgeKind odd = kind;
  odd.of_pi = "";
  odd.angle = "acos(-1/3)";
  odd.reflex = false;
  result.edge_kinds = {kind, odd};
  result.dehn = sample_dehn();
  result.audit = AuditResult{false,
                             {"90 deg", "270 deg"},
                             {{"45 deg", 2}},
                             {{"135 deg", 1}, {"45 deg", 0, 2}},
                             {{{"0", "0", "0"}, {"4", "0", "0"}, "135 deg", "135.0"}}};
  return result;
}

inline CompareResult sample_compare() {
  CompareResult result;
  result.left = {{"a.yaml", "", "cube", {"1", "1.0000000000000000000"}}};
  result.right = {{"b.yaml", "", "tetrahedron", {"2", "2.0000000000000000000"}}};
  result.answer = Answer::no;
  result.compared = true;
  result.field = FieldResult{1, {}, "x", 0};
  result.left_volume = {"1", "1.0000000000000000000"};
  result.right_volume = {"2", "2.0000000000000000000"};
  result.left_dehn = DehnValue{true, {}, "0", {}};
  result.right_dehn = sample_dehn();
  result.dehn_difference = sample_dehn();
  result.same_volume = false;
  result.same_dehn = false;
  result.dissection = "does not exist";
  result.reason = DissectionReason::volumes_differ;
  result.scale = Value{"cbrt(1/2)", "0.79370052598409973738"};
  result.exists_at_scale = false;
  return result;
}

}  // namespace cutproof
