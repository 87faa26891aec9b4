// SPDX-License-Identifier: GPL-3.0-or-later
// Every structure's fields are listed once; the library turns them into JSON and back.
#include "cli/wire.hpp"

#include "number/errors.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <iterator>
#include <optional>
#include <vector>

namespace nlohmann {
template <class T>
struct adl_serializer<std::optional<T>> {
  static void to_json(json& j, const std::optional<T>& value) {
    if (value) {
      j = *value;
    } else {
      j = nullptr;
    }
  }
  static void from_json(const json& j, std::optional<T>& value) {
    if (j.is_null()) {
      value.reset();
    } else {
      value = j.get<T>();
    }
  }
};
}  // namespace nlohmann

namespace cutproof {

NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(Value, exact, decimal)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(ExactPoint, x, y, z)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(ExactBox, minimum, maximum)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(Finding, code, step, file, line, column, pieces, message, hint, volume, box, corners,
                                   region, missing, excess, excerpt, caret_length)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(DehnTerm, coefficient, cosine, degrees, angle)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(DehnValue, zero, terms, text, certificate, distinct_angles)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(VolumeAndDehn, volume, dehn)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(StepResult, index, kind, title, note, line, skipped, pieces_before, pieces_after, removed,
                                   added, moved, volume, dehn_ok)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(PieceResult, name, parts, volume)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(FieldResult, degree, generators, minimal_polynomial, root_index)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(CornerData, exact, nearest)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(FacetData, cycles)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(EdgeAngle, exact, cosine, degrees, reflex)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(EdgeData, from, to, length, angles)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(SolidData, corners, facets, edges)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(NamedSolidData, name, solid)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(BenchData, step, pieces)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(RegionData, code, step, pieces, solid)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(CheckGeometry, solids, start, goals, end, after, regions)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(CheckResult, plan, plan_sha256, title, source, outcome, engine, field, start, goal,
                                   dehn_difference, dissection, dissection_reason, steps, total_steps, pieces, findings,
                                   consequences, counts, bench_checks, geometry)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(EdgeKind, count, length, cosine, degrees, angle, of_pi, reflex)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(AuditedEdge, from, to, angle, degrees)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(AuditResult, passed, message, edges)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(MeasureResult, file, solid, file_sha256, answer, measured, field, volume, area, faces,
                                   edges, vertices, shells, genus, edge_kinds, dehn, audit, findings)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(ComparedSolid, file, side, solid, volume)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(CompareResult, left, right, answer, compared, field, left_volume, right_volume, left_dehn,
                                   right_dehn, dehn_difference, same_volume, same_dehn, dissection, why, relation, demand,
                                   scale, at_scale, findings)

namespace {

struct ProgressMessage {
  CheckResult news;  // lists hold only what stands behind these many entries
  std::size_t steps = 0, findings = 0, consequences = 0;
  std::string activity;
  int step = 0, line = 0;
};
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(ProgressMessage, news, steps, findings, consequences, activity, step, line)

using Json = nlohmann::json;

std::string one_line(const Json& json) {
  return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

template <class T>
void read(std::string_view line, T* value) {
  try {
    *value = Json::parse(line).get<T>();
  } catch (const Json::exception& error) {
    throw ToolFault(std::string("a message between processes cannot be read: ") + error.what());
  }
}

// How much of a list was sent already; a list that became shorter is sent again.
template <class T>
std::vector<T> unsent(const std::vector<T>& list, std::size_t* sent) {
  if (*sent > list.size()) *sent = 0;
  return std::vector<T>(list.begin() + static_cast<std::ptrdiff_t>(*sent), list.end());
}

// What never changes once it is there.
template <class T>
void tell_once(const std::optional<T>& value, bool* told, std::optional<T>* news) {
  if (!*told) *news = value;
  *told = value.has_value();
}

template <class T>
void keep(std::optional<T>* old, std::optional<T>* news) {
  if (!*news) *news = std::move(*old);
}

template <class T>
void splice(std::vector<T>* old, std::size_t keep, std::vector<T>* list) {
  old->resize(std::min(keep, old->size()));
  std::move(list->begin(), list->end(), std::back_inserter(*old));
  *list = std::move(*old);
}

}  // namespace

std::string to_wire(const std::vector<MeasureResult>& results) {
  return one_line(results);
}
std::string to_wire(const CompareResult& result) {
  return one_line(result);
}
void from_wire(std::string_view line, std::vector<MeasureResult>* results) {
  read(line, results);
}
void from_wire(std::string_view line, CompareResult* result) {
  read(line, result);
}

namespace {

CheckResult without_lists(const CheckResult& all) {
  CheckResult copy;
  copy.plan_sha256 = all.plan_sha256;
  copy.title = all.title;
  copy.source = all.source;
  copy.outcome = all.outcome;
  copy.engine = all.engine;
  copy.dissection = all.dissection;
  copy.dissection_reason = all.dissection_reason;
  copy.total_steps = all.total_steps;
  copy.counts = all.counts;
  copy.bench_checks = all.bench_checks;
  copy.geometry = all.geometry;
  return copy;
}

}  // namespace

std::string ProgressSender::next(const CheckProgress& progress) {
  const CheckResult& all = progress.so_far;
  ProgressMessage message;
  CheckResult& news = message.news = without_lists(all);
  tell_once(all.field, &field_told_, &news.field);
  tell_once(all.start, &start_told_, &news.start);
  tell_once(all.goal, &goal_told_, &news.goal);
  tell_once(all.dehn_difference, &difference_told_, &news.dehn_difference);
  news.steps = unsent(all.steps, &steps_);
  news.findings = unsent(all.findings, &findings_);
  news.consequences = unsent(all.consequences, &consequences_);
  news.pieces = all.pieces;
  message.steps = steps_;
  message.findings = findings_;
  message.consequences = consequences_;
  steps_ = all.steps.size();
  findings_ = all.findings.size();
  consequences_ = all.consequences.size();
  message.activity = progress.activity;
  message.step = progress.step;
  message.line = progress.line;
  return one_line(message);
}

std::string ProgressSender::last(const CheckResult& result) {
  findings_ = consequences_ = 0;
  return next({result, "", 0, 0});
}

void RunState::receive(std::string_view text) {
  ProgressMessage message;
  read(text, &message);
  splice(&so_far.steps, message.steps, &message.news.steps);
  splice(&so_far.findings, message.findings, &message.news.findings);
  splice(&so_far.consequences, message.consequences, &message.news.consequences);
  keep(&so_far.field, &message.news.field);
  keep(&so_far.start, &message.news.start);
  keep(&so_far.goal, &message.news.goal);
  keep(&so_far.dehn_difference, &message.news.dehn_difference);
  if (message.news.plan_sha256.empty()) message.news.plan_sha256 = so_far.plan_sha256;  // told once, before the run
  so_far = std::move(message.news);
  activity = std::move(message.activity);
  step = message.step;
  line = message.line;
}

}  // namespace cutproof
