// SPDX-License-Identifier: GPL-3.0-or-later
// Measurements and comparisons for people. The word for a plan that holds never appears here: no plan was checked.
#include "plan/dimension_words.hpp"
#include "report/findings_text.hpp"
#include "report/layout.hpp"
#include "report/refutation_text.hpp"
#include "report/sentences.hpp"
#include "report/verdict_text.hpp"

#include <fmt/format.h>

namespace cutproof {
namespace {

constexpr const char* measure_words[] = {"measured", "audit failed", "invalid", "stopped", "failed"};

Tint tint_of(Answer answer) {
  if (answer == Answer::yes) return Tint::green;
  return answer == Answer::stopped ? Tint::yellow : Tint::red;
}

std::string short_degrees(const std::string& degrees) {
  return degrees.size() > 12 ? degrees.substr(0, degrees.find('.') + 7) : degrees;
}

void write_edges(const MeasureResult& result, Layout* out) {
  out->gap();
  out->line(0, "Edges by length and dihedral angle", Tint::bold);
  std::vector<std::vector<std::string>> rows;
  for (const EdgeKind& kind : result.edge_kinds) {
    const std::string degrees = kind.of_pi.empty() ? kind.angle + " = " + short_degrees(kind.degrees) + " deg" : kind.angle;
    rows.push_back({std::to_string(kind.count), degrees + (kind.reflex ? ", reflex" : ""), "length " + shown(kind.length)});
  }
  if (!rows.empty()) out->table(2, rows);
}

void write_corners(const MeasureResult& result, Layout* out) {
  out->gap();
  out->line(0, "Corners and their angles", Tint::bold);
  std::vector<std::vector<std::string>> rows;
  for (const CornerResult& corner : result.corners) {
    const std::string degrees =
        corner.of_pi.empty() ? corner.angle + " = " + short_degrees(corner.degrees) + " deg" : corner.angle;
    rows.push_back({shown(corner.point), degrees + (corner.reflex ? ", reflex" : "")});
  }
  out->table(2, rows);
}

void write_audit(const AuditResult& audit, int dimension, Layout* out) {
  out->gap();
  out->paragraph(0,
                 audit.passed ? "angle audit passed: " : "angle audit failed: ", in_dimension(dimension, audit_text(audit)),
                 audit.passed ? Tint::green : Tint::red);
  std::vector<std::vector<std::string>> rows;
  for (const AuditedEdge& edge : audit.edges) {
    rows.push_back({edge.angle, short_degrees(edge.degrees) + " deg",
                    edge.from.z.empty() ? shown(edge.from) : shown(edge.from) + " to " + shown(edge.to)});
  }
  if (!rows.empty()) out->table(2, rows);
}

// What was listed, and where in its plan.
std::string listing_words(const MeasureResult& result) {
  if (result.place == "goal") return counted(result.pieces.size(), "goal");
  const bool start = result.place == "start" || result.place.find_first_not_of('0') == std::string::npos;
  const std::string where = start                   ? "at the start"
                            : result.place == "end" ? "at the end"
                                                    : fmt::format("after step {} of {}", result.place, result.total_steps);
  return counted(result.pieces.size(), "piece") + " " + where;
}

// A line for each, in decimals: who asks has a ruler in hand.
void write_list(const MeasureResult& result, Layout* out) {
  out->gap();
  std::vector<std::vector<std::string>> rows;
  for (const PieceResult& piece : result.pieces) {
    const ExtentResult& extent = *piece.extent;
    rows.push_back({piece.name, in_dimension(result.dimension, "volume ") + brief_decimal(piece.volume),
                    "box " + brief_decimal(extent.box.minimum) + " to " + brief_decimal(extent.box.maximum) + ", centroid " +
                        brief_decimal(extent.centroid) + (piece.parts > 1 ? ", " + counted(piece.parts, "part") : "")});
  }
  if (!rows.empty()) out->table(2, rows);
}

std::vector<std::string> names(const std::vector<ComparedSolid>& solids) {
  std::vector<std::string> list;
  for (const ComparedSolid& each : solids)
    list.push_back(each.file + (each.side.empty() ? "" : "@" + each.side) + (each.solid.empty() ? "" : "#" + each.solid));
  return list;
}

void write_meshes(const std::vector<MeshResult>& meshes, Layout* out) {
  if (meshes.empty()) return;
  out->gap();
  out->list(2, "meshes: ", mesh_words(meshes), Tint::plain, 5);
}

/// What is true of the two sides, each one set of points.
std::string relation_sentence(Congruence relation) {
  switch (relation) {
    case Congruence::same:
      return "the two sides are the same set of points";
    case Congruence::congruent:
      return "the two sides are congruent: a motion carries one onto the other";
    case Congruence::mirror_image:
      return "the two sides are mirror images: only a reflection carries one onto the other";
    case Congruence::different:
      break;
  }
  return "the two sides are different: no motion and no reflection carries one onto the other";
}

void write_comparison(const CompareResult& result, Layout* out) {
  if (!result.compared) {
    out->paragraph(0, std::string(measure_words[exit_code(result.answer)]) + ": ", "the comparison", tint_of(result.answer));
    return;
  }
  if (result.demand)
    out->paragraph(0, fulfils(result.relation, *result.demand) ? "demand met: " : "demand not met: ",
                   relation_sentence(result.relation), tint_of(result.answer));
  const Tint tint = result.dissection == "exists" ? Tint::green : Tint::red;
  out->paragraph(0, "dissection " + result.dissection + ": ", dissection_reason_of(result), tint);
  out->gap();
  out->list(2, "left   ", names(result.left), Tint::plain, 5);
  const std::string volume = in_dimension(result.dimension, "volume ");
  out->paragraph(9, volume, shown(result.left_volume));
  if (result.left_dehn) out->paragraph(9, "Dehn invariant ", shown(*result.left_dehn));
  out->list(2, "right  ", names(result.right), Tint::plain, 5);
  out->paragraph(9, volume, shown(result.right_volume));
  if (result.right_dehn) out->paragraph(9, "Dehn invariant ", shown(*result.right_dehn));
  out->gap();
  const std::string_view equal = "equal", different = "different";
  if (result.dimension == 2)
    out->line(2, fmt::format("areas are {}", result.same_volume ? equal : different));
  else
    out->line(2, fmt::format("volumes are {}, Dehn invariants are {}", result.same_volume ? equal : different,
                             result.same_dehn ? equal : different));
  if (!result.demand) out->line(2, relation_sentence(result.relation));
  if (result.dehn_difference) out->paragraph(2, "difference of the Dehn invariants: ", shown(*result.dehn_difference));
  if (result.scale)
    out->paragraph(2, in_dimension(result.dimension, "equal volumes need the right side scaled by "), shown(*result.scale));
  if (const std::string then = at_scale_text(result); !then.empty()) out->paragraph(2, "", then);
}

/// ` with n = 3`; of several plans `, a.yaml with n = 3, b.yaml with m = 4`.
std::string values_of_case(const CompareResult& result) {
  if (result.case_values.size() == 1) return values_text(result.case_values.front().parameters);
  std::string text;
  for (const CaseValues& each : result.case_values) text += ", " + each.file + values_text(each.parameters);
  return text;
}

/// What came of all cases, and the first of them that the answer comes from; then each.
void write_cases(const CompareResult& result, Layout* out) {
  std::string words = std::string(measure_words[exit_code(result.answer)]) + ": ";
  if (result.answer == Answer::yes || result.answer == Answer::no) {
    const bool yes = result.answer == Answer::yes;
    words = result.demand ? yes ? "demand met: " : "demand not met: "
            : yes         ? "dissection exists: "
                          : "dissection does not exist: ";
  }
  std::string where = "in each of " + counted(result.cases.size(), "case");
  for (auto each = result.cases.rbegin(); each != result.cases.rend(); ++each)
    if (result.answer != Answer::yes && each->answer == result.answer)
      where = fmt::format("in case {} of {}{}{}", each->case_number, result.cases.size(), values_of_case(*each),
                          each->compared && result.demand ? ": " + relation_sentence(each->relation) : "");
  out->paragraph(0, words, where, tint_of(result.answer));
  for (const CompareResult& each : result.cases) {
    out->gap();
    out->paragraph(0, "", fmt::format("case {}{}", each.case_number, values_of_case(each)), Tint::plain, Tint::bold);
    write_comparison(each, out);
    write_findings("", each.left.empty() ? "" : each.left.front().file, each.findings, {}, out);
  }
}

}  // namespace

std::string terminal_report(const MeasureResult& result, const TextStyle& style) {
  Layout out(style);
  const std::string name =
      result.file + (result.place.empty() ? "" : "@" + result.place) + (result.solid.empty() ? "" : "#" + result.solid);
  std::string of_case;
  if (result.case_number > 0)
    of_case = fmt::format(", case {} of {}{}", result.case_number, result.case_count, values_text(result.parameters));
  out.paragraph(0, std::string(measure_words[exit_code(result.answer)]) + ": ",
                name + of_case + (result.listed ? ", " + listing_words(result) : ""), tint_of(result.answer), Tint::bold);
  if (result.listed) write_list(result, &out);
  if (result.measured) {
    const bool flat = result.dimension == 2;
    std::vector<std::vector<std::string>> rows;
    if (flat) {
      rows = {{"area", shown(result.volume)}, {"perimeter", shown(result.perimeter)}};
    } else {
      rows = {
          {"volume", shown(result.volume)},
          {"area", shown(result.area)},
          {"surface", fmt::format("{}, {}, {}; {}, genus {}", counted(result.faces, "face"), counted(result.edges, "edge"),
                                  result.vertices == 1 ? "1 vertex" : fmt::format("{} vertices", result.vertices),
                                  counted(result.shells, "shell"), result.genus)}};
    }
    if (result.dehn) rows.push_back({"Dehn invariant", shown(*result.dehn)});
    if (result.extent) {
      rows.push_back({"box", brief(result.extent->box.minimum) + " to " + brief(result.extent->box.maximum)});
      rows.push_back({"centroid", brief(result.extent->centroid)});
    }
    out.gap();
    out.table(2, rows);
    if (flat)
      write_corners(result, &out);
    else
      write_edges(result, &out);
  }
  write_meshes(result.meshes, &out);
  if (result.audit) write_audit(*result.audit, result.dimension, &out);
  write_findings("Findings", result.file, result.findings, {}, &out);
  return out.text();
}

std::string terminal_report(const CompareResult& result, const TextStyle& style) {
  Layout out(style);
  if (result.cases.empty()) {
    write_comparison(result, &out);
  } else {
    write_cases(result, &out);
  }
  write_meshes(result.meshes, &out);
  write_findings("Findings", result.left.empty() ? "" : result.left.front().file, result.findings, {}, &out);
  return out.text();
}

}  // namespace cutproof
