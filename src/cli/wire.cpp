// SPDX-License-Identifier: GPL-3.0-or-later
// Every structure's fields are listed once, and a field that is not does not compile; the library turns them into JSON and
// back.
#include "cli/wire.hpp"

#include "number/errors.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
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

// Coordinates for drawing may lie beyond the doubles, and JSON has no infinity.
template <std::size_t n>
struct adl_serializer<std::array<double, n>> {
  static void to_json(json& j, const std::array<double, n>& values) {
    j = json::array();
    for (const double value : values) {
      j.push_back(std::isfinite(value) ? json(value) : json(std::isnan(value) ? "nan" : value > 0 ? "inf" : "-inf"));
    }
  }
  static void from_json(const json& j, std::array<double, n>& values) {
    if (j.size() != n) throw cutproof::ToolFault("a message between processes has a list of the wrong length");
    for (std::size_t i = 0; i < n; ++i)
      values[i] =
          j.at(i).is_string() ? std::strtod(j.at(i).get_ref<const std::string&>().c_str(), nullptr) : j.at(i).get<double>();
  }
};
// Names of pieces that were cut often are long and begin alike: each is sent as what it adds to the one before.
template <>
struct adl_serializer<std::vector<std::string>> {
  static void to_json(json& j, const std::vector<std::string>& texts) {
    j = json::array();
    std::string_view before;
    for (const std::string& text : texts) {
      const auto [end, other] = std::mismatch(text.begin(), text.end(), before.begin(), before.end());
      auto shared = static_cast<std::size_t>(end - text.begin());
      while (shared > 0 && shared < text.size() && (static_cast<unsigned char>(text[shared]) & 0xC0) == 0x80) --shared;
      if (shared >= shortest_shared) j.push_back(shared);
      j.push_back(shared >= shortest_shared ? text.substr(shared) : text);
      before = text;
    }
  }
  static void from_json(const json& j, std::vector<std::string>& texts) {
    texts.clear();
    std::size_t shared = 0;
    for (const json& each : j) {
      if (each.is_number()) {
        shared = each.get<std::size_t>();
        if (texts.empty() || shared > texts.back().size())
          throw cutproof::ToolFault("a message between processes has a text that begins like none before");
        continue;
      }
      std::string text = shared == 0 ? std::string() : texts.back().substr(0, shared);
      texts.push_back(std::move(text += each.get_ref<const std::string&>()));
      shared = 0;
    }
  }

 private:
  static constexpr std::size_t shortest_shared = 8;
};
}  // namespace nlohmann

/// Sends the fields listed, which are all there are: a structured binding has as many names as its structure has members, so
/// that a field that is missing here does not compile.
#define CUTPROOF_WIRE_FIELDS(Type, ...)                               \
  [[maybe_unused]] static void names_every_field(const Type& value) { \
    [[maybe_unused]] const auto& [__VA_ARGS__] = value;               \
  }                                                                   \
  NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(Type, __VA_ARGS__)

namespace cutproof {

CUTPROOF_WIRE_FIELDS(NameList, first, count)
CUTPROOF_WIRE_FIELDS(Value, exact, decimal)
CUTPROOF_WIRE_FIELDS(ExactPoint, x, y, z, decimal)
CUTPROOF_WIRE_FIELDS(ExactBox, minimum, maximum)
CUTPROOF_WIRE_FIELDS(Suspect, piece, step, line, column, excerpt, caret_length, path)
CUTPROOF_WIRE_FIELDS(AuditedEdge, from, to, angle, degrees)
CUTPROOF_WIRE_FIELDS(AngleException, angle, count)
CUTPROOF_WIRE_FIELDS(AngleFault, angle, found, expected)
CUTPROOF_WIRE_FIELDS(AuditResult, passed, allowed, exceptions, faults, edges)
CUTPROOF_WIRE_FIELDS(FindingFact, number, point, count, names, text)
CUTPROOF_WIRE_FIELDS(ScrewResult, point, direction, degrees, of_pi, along)
CUTPROOF_WIRE_FIELDS(MotionResult, pieces, line, column, words, proper, rows, shift, screw)
CUTPROOF_WIRE_FIELDS(CornerImage, from, to)
CUTPROOF_WIRE_FIELDS(MotionCandidate, words, motion, corners)
CUTPROOF_WIRE_FIELDS(Finding, code, step, file, line, column, pieces, statement, facts, message, hint, volume, box, corners,
                     suspects, region, missing, excess, audit, candidates, classes, excerpt, caret_length, path, pass,
                     used_line, used_column, dimension)
CUTPROOF_WIRE_FIELDS(DehnTerm, coefficient, cosine, degrees, angle)
CUTPROOF_WIRE_FIELDS(CertificateField, minimal_polynomial, root_between)
CUTPROOF_WIRE_FIELDS(CertificateEdge, times, edge, first, second)
CUTPROOF_WIRE_FIELDS(CertificateAngle, tangent_squared, coefficient)
CUTPROOF_WIRE_FIELDS(CertificateSeparation, q, root, symbols)
CUTPROOF_WIRE_FIELDS(CertificateCharacter, q, root, sqrt_minus_r, generator, logs)
CUTPROOF_WIRE_FIELDS(CertificateRelation, dependent, exponents, order)
CUTPROOF_WIRE_FIELDS(CertificateClass, radicand, angles, scales, l, characters, pivots, relations, coefficients)
CUTPROOF_WIRE_FIELDS(CertificateSum, part, pivots, factors, coefficient, tangent_squared)
CUTPROOF_WIRE_FIELDS(DehnCertificate, field, edges, angles, separations, classes, sums, zero)
CUTPROOF_WIRE_FIELDS(DehnValue, zero, terms, text, certificate, distinct_angles)
CUTPROOF_WIRE_FIELDS(VolumeAndDehn, volume, dehn)
CUTPROOF_WIRE_FIELDS(PlaneResult, normal, offset, line, column)
CUTPROOF_WIRE_FIELDS(StepResult, index, kind, title, note, line, pass, lemma, skipped, pieces_before, pieces_after, removed,
                     added, moved, motions, planes, volume, dehn_ok)
CUTPROOF_WIRE_FIELDS(ExtentResult, box, centroid)
[[maybe_unused]] static void names_every_field(const PieceResult& value) {
  [[maybe_unused]] const auto& [name, parts, volume, shape, extent] = value;
}
}  // namespace cutproof

// There may be a hundred thousand of them: column by column.
template <>
struct nlohmann::adl_serializer<std::vector<cutproof::PieceResult>> {
  static void to_json(json& j, const std::vector<cutproof::PieceResult>& pieces) {
    std::vector<std::string> names, exact, decimal;
    json parts = json::array(), shapes = json::array(), extents = json::array();
    for (const cutproof::PieceResult& piece : pieces) {
      names.push_back(piece.name);
      exact.push_back(piece.volume.exact);
      decimal.push_back(piece.volume.decimal);
      parts.push_back(piece.parts);
      shapes.push_back(piece.shape);
      extents.push_back(piece.extent);
    }
    j = {names, exact, decimal, parts, shapes, extents};
  }
  static void from_json(const json& j, std::vector<cutproof::PieceResult>& pieces) {
    const auto names = j.at(0).get<std::vector<std::string>>(), exact = j.at(1).get<std::vector<std::string>>(),
               decimal = j.at(2).get<std::vector<std::string>>();
    pieces.assign(names.size(), {});
    for (std::size_t i = 0; i < names.size(); ++i) {
      pieces[i].name = names[i];
      pieces[i].volume = {exact.at(i), decimal.at(i)};
      j.at(3).at(i).get_to(pieces[i].parts);
      j.at(4).at(i).get_to(pieces[i].shape);
      j.at(5).at(i).get_to(pieces[i].extent);
    }
  }
};

namespace cutproof {
CUTPROOF_WIRE_FIELDS(ShapeResult, volume, pieces, mirror_of, chiral)
CUTPROOF_WIRE_FIELDS(SmallestResult, edge, edge_of, volume, volume_of)
CUTPROOF_WIRE_FIELDS(MeshResult, file, sha256, snapped, changed, largest)
CUTPROOF_WIRE_FIELDS(LemmaUser, lemma, step, uses)
CUTPROOF_WIRE_FIELDS(LemmaResult, name, file, plan_sha256, parameters, outcome, uses, used_by, findings)
CUTPROOF_WIRE_FIELDS(NoteResult, line, column, message)
CUTPROOF_WIRE_FIELDS(FieldResult, degree, generators, minimal_polynomial, root_index)
CUTPROOF_WIRE_FIELDS(CornerData, exact, nearest)
CUTPROOF_WIRE_FIELDS(FacetData, cycles)
CUTPROOF_WIRE_FIELDS(EdgeAngle, exact, cosine, degrees, reflex)
CUTPROOF_WIRE_FIELDS(EdgeData, from, to, length, angles)
CUTPROOF_WIRE_FIELDS(SolidData, corners, facets, edges)
CUTPROOF_WIRE_FIELDS(NamedSolidData, name, solid)
CUTPROOF_WIRE_FIELDS(BenchData, step, pieces)
CUTPROOF_WIRE_FIELDS(RegionData, code, step, pieces, solid)
CUTPROOF_WIRE_FIELDS(CheckGeometry, solids, start, goals, end, after, regions)
CUTPROOF_WIRE_FIELDS(SceneBlock, corners, facets, end_piece)
CUTPROOF_WIRE_FIELDS(ScenePose, block, motion)
CUTPROOF_WIRE_FIELDS(ScenePiece, name, blocks, edges)
CUTPROOF_WIRE_FIELDS(SceneState, step, kind, title, line, poses, gone, pieces)
CUTPROOF_WIRE_FIELDS(SceneGoal, name, corners, facets)
CUTPROOF_WIRE_FIELDS(SceneRegion, kind, step, pieces, corners, facets)
CUTPROOF_WIRE_FIELDS(Scene, blocks, states, goals, regions)
CUTPROOF_WIRE_FIELDS(MendEdit, line, column, end_line, end_column, text)
CUTPROOF_WIRE_FIELDS(MendLines, line, before, after)
CUTPROOF_WIRE_FIELDS(Mend, kind, words, edits, lines, findings, changes_sides)
CUTPROOF_WIRE_FIELDS(PictureBody, role, piece, shift, colour, hatching, pale, convex)
CUTPROOF_WIRE_FIELDS(PicturePatch, body, tone, cycles, outlined, edges, cuts)
CUTPROOF_WIRE_FIELDS(PictureName, body, x, y, size)
CUTPROOF_WIRE_FIELDS(Picture, kind, step, finding, apart, frame, bodies, patches, traces, names, unnamed)
CUTPROOF_WIRE_FIELDS(PictureSet, projection, pictures, left_out)
CUTPROOF_WIRE_FIELDS(ValueChange, before, now)
CUTPROOF_WIRE_FIELDS(NameChanges, gone, added, changed)
CUTPROOF_WIRE_FIELDS(StepLabel, index, kind, title)
CUTPROOF_WIRE_FIELDS(AgainstResult, known, old_plan, old_digest, old_outcome, start_volume, goal_volume, start_dehn,
                     goal_dehn, pieces, steps_gone, steps_added, steps_changed, findings_gone, findings_added, findings_same,
                     shapes)
CUTPROOF_WIRE_FIELDS(CheckResult, plan, plan_sha256, title, source, note, dimension, case_number, case_count, parameters,
                     outcome, equicomplement, engine, field, start, goal, dehn_difference, dissection, dissection_reason,
                     steps, total_steps, pieces, shapes, smallest, against, lemmas, findings, consequences, meshes, notes,
                     mends, mends_tried, mends_ended_early, counts, bench_checks, geometry, scene, pictures)
CUTPROOF_WIRE_FIELDS(EdgeKind, count, length, cosine, degrees, angle, of_pi, reflex)
CUTPROOF_WIRE_FIELDS(CornerResult, point, cosine, degrees, angle, of_pi, reflex)
CUTPROOF_WIRE_FIELDS(MeasureResult, dimension, perimeter, corners, file, place, case_number, case_count, parameters, solid,
                     file_sha256, answer, listed, measured, pieces, total_steps, field, volume, area, extent, faces, edges,
                     vertices, shells, genus, edge_kinds, dehn, audit, meshes, findings)
CUTPROOF_WIRE_FIELDS(ComparedSolid, file, side, solid, volume)
CUTPROOF_WIRE_FIELDS(CaseValues, file, parameters)
CUTPROOF_WIRE_FIELDS(CompareResult, dimension, left, right, answer, compared, field, left_volume, right_volume, left_dehn,
                     right_dehn, dehn_difference, same_volume, same_dehn, dissection, reason, of_one_plan, relation, demand,
                     scale, exists_at_scale, meshes, findings, cases, case_number, case_values)

namespace {

struct ProgressMessage {
  CheckResult news;  // lists hold only what stands behind these many entries
  std::size_t steps = 0, findings = 0, consequences = 0;
  std::string activity, plan_text;
  int step = 0, line = 0;
  bool judged = false, only_mends = false;
};
CUTPROOF_WIRE_FIELDS(ProgressMessage, news, steps, findings, consequences, activity, plan_text, step, line, judged,
                     only_mends)

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

/// All of a check that is sent anew each time. Every field is named, so that a new one must be decided about here.
CheckResult without_lists(const CheckResult& all) {
  [[maybe_unused]] const auto& [plan, plan_sha256, title, source, note, dimension, case_number, case_count, parameters,
                                outcome, equicomplement, engine, field, start, goal, dehn_difference, dissection,
                                dissection_reason, steps, total_steps, pieces, shapes, smallest, against, lemmas, findings,
                                consequences, meshes, notes, mends, mends_tried, mends_ended_early, counts, bench_checks,
                                geometry, scene, pictures] = all;
  CheckResult copy;
  copy.plan_sha256 = plan_sha256;
  copy.title = title;
  copy.source = source;
  copy.note = note;
  copy.dimension = dimension;
  copy.case_number = case_number;
  copy.case_count = case_count;
  copy.parameters = parameters;
  copy.outcome = outcome;
  copy.equicomplement = equicomplement;
  copy.engine = engine;
  copy.dissection = dissection;
  copy.dissection_reason = dissection_reason;
  copy.total_steps = total_steps;
  copy.pieces = pieces;
  copy.shapes = shapes;
  copy.smallest = smallest;
  copy.against = against;
  copy.meshes = meshes;
  copy.lemmas = lemmas;
  copy.notes = notes;
  copy.counts = counts;
  copy.bench_checks = bench_checks;
  copy.geometry = geometry;
  copy.scene = scene;
  copy.mends = mends;
  copy.mends_tried = mends_tried;
  copy.mends_ended_early = mends_ended_early;
  copy.pictures = pictures;
  return copy;
}

}  // namespace

std::string ProgressSender::next(const CheckProgress& progress) {
  return message_of(progress, /*judged=*/false);
}

std::string ProgressSender::message_of(const CheckProgress& progress, bool judged) {
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
  message.steps = steps_;
  message.findings = findings_;
  message.consequences = consequences_;
  steps_ = all.steps.size();
  findings_ = all.findings.size();
  consequences_ = all.consequences.size();
  message.activity = progress.activity;
  message.step = progress.step;
  message.line = progress.line;
  message.judged = judged;
  if (judged) message.plan_text = plan_text;
  return one_line(message);
}

std::string ProgressSender::last(const CheckResult& result) {
  findings_ = consequences_ = 0;
  return message_of({result, "looking for mends", 0, 0}, /*judged=*/true);
}

std::string ProgressSender::mends(const CheckResult& result) {
  ProgressMessage message;
  message.only_mends = true;
  message.news.mends = result.mends;
  message.news.mends_tried = result.mends_tried;
  message.news.mends_ended_early = result.mends_ended_early;
  message.news.findings = result.findings;
  return one_line(message);
}

void RunState::receive(std::string_view text) {
  ProgressMessage message;
  read(text, &message);
  if (message.only_mends) {
    so_far.mends = std::move(message.news.mends);
    so_far.mends_tried = message.news.mends_tried;
    so_far.mends_ended_early = std::move(message.news.mends_ended_early);
    so_far.findings = std::move(message.news.findings);  // their hints
    return;
  }
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
  plan_text = std::move(message.plan_text);
  step = message.step;
  line = message.line;
  judged = message.judged;
}

}  // namespace cutproof
