// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/json_parts.hpp"

#include "cutproof/version.hpp"
#include "report/certificate.hpp"
#include "report/escape.hpp"
#include "report/finding_facts.hpp"
#include "report/sentences.hpp"

#include <algorithm>
#include <string_view>
#include <utility>

namespace cutproof::report_json {
namespace {

// JSON that is written as it stands. Reports consist of long lists of short texts, which would take many times the memory
// as values of their own. (The library's values for bytes have no other use here.)
Json as_it_stands(std::string_view written) {
  return Json::binary({written.begin(), written.end()});
}

std::string scalar(const Json& value) {
  return value.dump(-1, ' ', /*ensure_ascii=*/true);
}

Json texts(const std::vector<std::string>& raw, std::size_t most) {
  std::string list;
  for (std::size_t i = 0; i < std::min(most, raw.size()); ++i) list += (list.empty() ? "" : ", ") + scalar(text(raw[i]));
  return as_it_stands("[" + list + "]");
}

}  // namespace

Json text(const std::string& raw) {
  return is_utf8(raw) ? raw : escaped(raw);
}

void add_names(const char* key, const NameList& names, Json* object) {
  (*object)[key] = texts(names.first, NameList::most);
  if (names.size() > names.first.size()) (*object)[std::string(key) + "_count"] = names.size();
}

Json json(const Value& value) {
  return {{"exact", value.exact}, {"decimal", value.decimal}};
}
Json json(const ExactPoint& point) {
  return texts({point.x, point.y, point.z}, point.z.empty() ? 2 : 3);
}

Json decimals(const ExactPoint& point) {
  return texts({point.decimal.begin(), point.decimal.end()}, point.z.empty() ? 2 : 3);
}

Json json(const DehnValue& dehn) {
  Json terms = Json::array();
  for (const DehnTerm& term : dehn.terms) {
    terms.push_back({{"coefficient", json(term.coefficient)},
                     {"angle", {{"cosine", term.cosine}, {"degrees", term.degrees}, {"text", term.angle}}}});
  }
  Json object = {{"zero", dehn.zero}, {"text", dehn.text}, {"distinct_angles", dehn.distinct_angles}, {"terms", terms}};
  if (dehn.certificate) object["certificate"] = as_it_stands(certificate_json(*dehn.certificate));
  return object;
}

Json json(const FieldResult& field) {
  return {{"degree", field.degree},
          {"generators", field.generators},
          {"minimal_polynomial", field.minimal_polynomial},
          {"root_index", field.root_index}};
}

Json json(const LoopPass& pass) {
  Json object = Json::object();
  for (const auto& [name, value] : pass) object[name] = text(value);
  return object;
}

Json json(const ExactBox& box) {
  return {{"min", json(box.minimum)}, {"max", json(box.maximum)}};
}
Json decimals(const ExactBox& box) {
  return {{"min", decimals(box.minimum)}, {"max", decimals(box.maximum)}};
}

void add_extent(const std::optional<ExtentResult>& extent, Json* object) {
  if (!extent) return;
  (*object)["box"] = json(extent->box);
  (*object)["box_decimal"] = decimals(extent->box);
  (*object)["centroid"] = json(extent->centroid);
  (*object)["centroid_decimal"] = decimals(extent->centroid);
}

Json json(const PieceResult& piece) {
  Json object = {{"name", text(piece.name)}, {"parts", piece.parts}, {"volume", json(piece.volume)}};
  if (piece.shape) object["shape"] = *piece.shape;
  add_extent(piece.extent, &object);
  return object;
}

static Json json(const std::vector<Suspect>& suspects) {
  Json list = Json::array();
  for (const Suspect& suspect : suspects) {
    list.push_back(
        {{"piece", text(suspect.piece)}, {"step", suspect.step}, {"line", suspect.line}, {"column", suspect.column}});
    if (!suspect.path.empty()) list.back()["path"] = text(suspect.path);
  }
  return list;
}

Json json(const MotionResult& motion) {
  Json object;
  add_names("pieces", motion.pieces, &object);
  object["line"] = motion.line;
  object["column"] = motion.column;
  object["words"] = motion.words;
  object["proper"] = motion.proper;
  for (const ExactPoint& row : motion.rows)
    if (!row.x.empty()) object["rows"].push_back(json(row));
  object["shift"] = json(motion.shift);
  if (motion.screw) {
    Json& screw = object["screw"] = {{"point", json(motion.screw->point)}};
    if (!motion.screw->direction.x.empty()) screw["direction"] = json(motion.screw->direction);
    screw["degrees"] = motion.screw->degrees;
    screw["of_pi"] = motion.screw->of_pi.empty() ? Json(nullptr) : Json(motion.screw->of_pi);
    screw["along"] = motion.screw->along;
  }
  return object;
}

static Json json(const MotionCandidate& candidate) {
  Json object = json(candidate.motion);
  object["words"] = candidate.words;
  object["corners"] = Json::object();
  for (const CornerImage& corner : candidate.corners)
    object["corners"]["[" + coordinates_text(corner.from) + "]"] = "[" + coordinates_text(corner.to) + "]";
  return object;
}

Json json(const Finding& finding, const std::string& id) {
  Json object = {{"code", finding.code}};
  if (!id.empty()) object["id"] = id;
  object["step"] = finding.step;
  object["line"] = finding.line;
  object["column"] = finding.column;
  if (!finding.path.empty()) object["path"] = text(finding.path);
  if (!finding.pass.empty()) object["pass"] = json(finding.pass);
  if (finding.used_line > 0) object["used_at"] = {{"line", finding.used_line}, {"column", finding.used_column}};
  add_names("pieces", finding.pieces, &object);
  object["message"] = text(message_of(finding));
  if (!finding.file.empty()) object["file"] = text(finding.file);
  if (const std::string hint = hint_of(finding); !hint.empty()) object["hint"] = text(hint);
  if (finding.volume) object["volume"] = json(*finding.volume);
  if (finding.box) {
    object["box"] = json(*finding.box);
    object["box_decimal"] = decimals(*finding.box);
  }
  for (const ExactPoint& corner : finding.corners) {
    object["corners"].push_back(json(corner));
    object["corners_decimal"].push_back(decimals(corner));
  }
  if (finding.region) object["region"] = *finding.region;
  if (!finding.suspects.empty()) object["suspects"] = json(finding.suspects);
  if (finding.missing) object["missing"] = json(*finding.missing);
  if (finding.excess) object["excess"] = json(*finding.excess);
  for (const MotionCandidate& candidate : finding.candidates) object["candidates"].push_back(json(candidate));
  for (const std::vector<std::string>& pieces : finding.classes) {
    object["classes"].push_back(Json::object());
    add_names("pieces", pieces, &object["classes"].back());
  }
  if (!finding.excerpt.empty()) object["excerpt"] = text(finding.excerpt);
  if (finding.caret_length > 0) object["caret_length"] = finding.caret_length;
  return object;
}
Json json(const std::vector<Finding>& findings) {
  Json list = Json::array();
  for (const Finding& finding : findings) list.push_back(json(finding));
  return list;
}

void add_meshes(const std::vector<MeshResult>& meshes, Json* object) {
  for (const MeshResult& mesh : meshes) {
    Json entry = {{"file", text(mesh.file)}, {"sha256", mesh.sha256}};
    if (mesh.snapped) {
      entry["changed"] = mesh.changed;
      entry["largest"] = json(mesh.largest);
    }
    (*object)["meshes"].push_back(std::move(entry));
  }
}

static void write(const Json& value, std::size_t indent, std::string* out) {
  if (value.is_binary()) {
    out->append(value.get_binary().begin(), value.get_binary().end());
  } else if (!value.is_structured() || value.empty()) {
    *out += scalar(value);
  } else {
    *out += value.is_object() ? '{' : '[';
    const char* separator = "\n";
    for (const auto& [key, each] : value.items()) {
      *out += separator + std::string(indent + 2, ' ');
      if (value.is_object()) *out += scalar(key) + ": ";
      write(each, indent + 2, out);
      separator = ",\n";
    }
    *out += '\n' + std::string(indent, ' ') + (value.is_object() ? '}' : ']');
  }
}

std::string written_report(Json content) {
  Json object = {{"format", "cutproof-report"}, {"version", 1}, {"cutproof", CUTPROOF_VERSION}};
  for (auto& [key, value] : content.items()) object[key] = std::move(value);
  std::string text;
  write(object, 0, &text);
  text += '\n';
  return text;
}

std::string written_list(const char* key, std::vector<Json> results, int exit_code, bool always_list) {
  if (results.size() == 1 && !always_list) return written_report(std::move(results.front()));
  Json object = {{"exit_code", exit_code}};
  object[key] = std::move(results);
  return written_report(std::move(object));
}

}  // namespace cutproof::report_json
