// SPDX-License-Identifier: GPL-3.0-or-later
// The library parses without recursion. Its callback sees every key before its value: keys that are not needed are dropped
// with all that is below them, so that certificates, corners and the like never take memory.
#include "report/report_reader.hpp"

#include "report/finding_facts.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <set>

namespace cutproof {
namespace {

using Json = nlohmann::json;

constexpr int deepest = 100;

// Paths of keys, without the lists between them and without the list `plans`.
const std::set<std::string, std::less<>>& needed() {
  static const std::set<std::string, std::less<>> paths = [] {
    std::set<std::string, std::less<>> all = {"format", "version", "plan", "plan_sha256", "case", "outcome"};
    for (const char* side : {"start", "goal"})
      for (const char* key : {"", ".volume", ".volume.exact", ".volume.decimal", ".dehn", ".dehn.text"})
        all.insert(std::string(side) + key);
    for (const char* key : {"", ".index", ".kind", ".title", ".skipped", ".removed", ".removed_count", ".added",
                            ".added_count", ".moved", ".moved_count", ".motions", ".motions.pieces", ".motions.pieces_count",
                            ".motions.rows", ".motions.shift", ".planes", ".planes.normal", ".planes.offset"})
      all.insert(std::string("steps") + key);
    for (const char* key : {"", ".name", ".parts", ".volume", ".volume.exact", ".volume.decimal", ".shape"})
      all.insert(std::string("pieces") + key);
    for (const char* key : {"shapes", "shapes.mirror_of", "findings", "findings.id"}) all.insert(key);
    return all;
  }();
  return paths;
}

// Line and column of a byte, from 1, for messages.
std::string place_of_byte(std::string_view text, std::size_t byte) {
  const std::string_view before = text.substr(0, std::min(byte > 0 ? byte - 1 : 0, text.size()));
  const auto line = 1 + std::count(before.begin(), before.end(), '\n');
  const std::size_t start = before.rfind('\n') + 1;  // npos + 1 is 0
  return "line " + std::to_string(line) + ", column " + std::to_string(before.size() - start + 1);
}

// Knows where in the report the parser is.
class Filter {
 public:
  bool operator()(int depth, Json::parse_event_t event, const Json& parsed) {
    if (depth > deepest) throw NoReport("it is nested more than " + std::to_string(deepest) + " levels deep");
    const auto level = static_cast<std::size_t>(depth);
    if (event == Json::parse_event_t::object_start || event == Json::parse_event_t::array_start) {
      // What is inside has the path of the key before it; so have the entries of a list.
      levels_.resize(level + 2);
      levels_[level + 1] = {levels_[level].path, levels_[level].wanted, {}};
    } else if (event == Json::parse_event_t::key) {
      Level& here = levels_[level];
      const auto& key = parsed.get_ref<const std::string&>();
      if (!here.keys.insert(key).second) throw NoReport("the key `" + key.substr(0, 100) + "` stands twice in one object");
      return step_into(level, key);
    }
    return true;
  }

 private:
  struct Level {
    std::string path;    // of the object, and behind a key that of its value
    bool wanted = true;  // whether anything of it is
    std::set<std::string> keys;
  };

  // A level holds the path of its container; a key puts its own path there until the next one.
  bool step_into(std::size_t level, const std::string& key) {
    const Level& around = levels_[level - 1];
    Level& here = levels_[level];
    if (level > 1 && !around.wanted) return here.wanted = false;
    if (level == 1 && key == "plans") {
      here.path.clear();
      return here.wanted = true;
    }
    here.path = around.path.empty() ? key : around.path + "." + key;
    return here.wanted = needed().count(here.path) != 0;
  }

  std::vector<Level> levels_ = std::vector<Level>(1);
};

const Json& member(const Json& object, const char* key) {
  static const Json none;
  const auto found = object.find(key);
  return found == object.end() ? none : *found;
}

[[noreturn]] void unfit(const char* key, const char* wanted) {
  throw NoReport(std::string("`") + key + "` is not " + wanted);
}

std::string text_of(const Json& object, const char* key) {
  const Json& value = member(object, key);
  if (!value.is_string()) unfit(key, "there, or no text");
  return value.get<std::string>();
}

std::string optional_text_of(const Json& object, const char* key) {
  return member(object, key).is_null() ? "" : text_of(object, key);
}

std::size_t count_of(const Json& value, const char* key) {
  if (!value.is_number_unsigned()) unfit(key, "a whole number");
  return value.get<std::size_t>();
}

const Json& list_of(const Json& object, const char* key) {
  static const Json none = Json::array();
  const Json& value = member(object, key);
  if (value.is_null()) return none;
  if (!value.is_array()) unfit(key, "a list");
  return value;
}

const Json& object_in(const Json& value, const char* list) {
  if (!value.is_object()) unfit(list, "a list of objects");
  return value;
}

ReportedNames names_of(const Json& object, const char* key) {
  ReportedNames result;
  for (const Json& each : list_of(object, key)) {
    if (!each.is_string()) unfit(key, "a list of texts");
    result.names.push_back(each.get<std::string>());
  }
  const std::string count_key = std::string(key) + "_count";
  const Json& count = member(object, count_key.c_str());
  result.count = count.is_null() ? result.names.size() : count_of(count, count_key.c_str());
  return result;
}

std::optional<Value> volume_of(const Json& object) {
  const Json& volume = member(object, "volume");
  if (volume.is_null()) return std::nullopt;
  if (!volume.is_object()) unfit("volume", "an object");
  return Value{text_of(volume, "exact"), text_of(volume, "decimal")};
}

void read_side(const Json& plan, const char* key, std::optional<Value>* volume, std::string* dehn) {
  const Json& side = member(plan, key);
  if (side.is_null()) return;
  if (!side.is_object()) unfit(key, "an object");
  *volume = volume_of(side);
  const Json& invariant = member(side, "dehn");
  if (invariant.is_null()) return;
  if (!invariant.is_object()) unfit("dehn", "an object");
  *dehn = text_of(invariant, "text");
}

Outcome outcome_of(const Json& plan) {
  const std::string word = text_of(plan, "outcome");
  for (const Outcome each : {Outcome::verified, Outcome::refuted, Outcome::invalid, Outcome::stopped, Outcome::failed})
    if (word == outcome_word(each)) return each;
  throw NoReport("`outcome` is `" + word.substr(0, 100) + "`, which is none of a check");
}

ReportedStep step_of(const Json& json) {
  object_in(json, "steps");
  ReportedStep step;
  const std::size_t index = count_of(member(json, "index"), "index");
  if (index > 1'000'000'000) unfit("index", "a step's number");
  step.label = {static_cast<int>(index), text_of(json, "kind"), optional_text_of(json, "title")};
  step.removed = names_of(json, "removed");
  step.added = names_of(json, "added");
  step.moved = names_of(json, "moved");
  step.content = Json::array({member(json, "skipped"), member(json, "motions"), member(json, "planes")}).dump();
  return step;
}

ReportedPlan plan_of(const Json& json) {
  object_in(json, "plans");
  ReportedPlan plan;
  plan.path = text_of(json, "plan");
  plan.digest = optional_text_of(json, "plan_sha256");
  if (const Json& which = member(json, "case"); !which.is_null()) plan.case_number = count_of(which, "case");
  plan.outcome = outcome_of(json);
  read_side(json, "start", &plan.start_volume, &plan.start_dehn);
  read_side(json, "goal", &plan.goal_volume, &plan.goal_dehn);
  for (const Json& each : list_of(json, "steps")) plan.steps.push_back(step_of(each));
  for (const Json& each : list_of(json, "pieces")) {
    object_in(each, "pieces");
    ReportedPiece piece{text_of(each, "name"), count_of(member(each, "parts"), "parts"), {}, {}};
    const std::optional<Value> volume = volume_of(each);
    if (!volume) unfit("volume", "there");
    piece.volume = *volume;
    if (const Json& shape = member(each, "shape"); !shape.is_null()) piece.shape = count_of(shape, "shape");
    plan.pieces.push_back(std::move(piece));
  }
  // Reports of versions before there were identities have none; their findings cannot be told to be the same.
  for (const Json& each : list_of(json, "findings"))
    plan.findings.push_back(optional_text_of(object_in(each, "findings"), "id"));
  std::size_t mirrored = 0;
  const Json& shapes = list_of(json, "shapes");
  for (const Json& each : shapes) mirrored += member(object_in(each, "shapes"), "mirror_of").is_null() ? 0 : 1;
  if (!shapes.empty()) plan.shapes = shapes_text(plan.pieces.size(), shapes.size() - mirrored, mirrored);
  return plan;
}

}  // namespace

std::vector<ReportedPlan> read_check_report(std::string_view json) {
  Json root;
  try {
    // The filter is copied by the library, so that it is handed over by reference.
    Filter filter;
    root = Json::parse(json.begin(), json.end(), [&](int depth, Json::parse_event_t event, const Json& parsed) {
      return filter(depth, event, parsed);
    });
  } catch (const Json::parse_error& error) {
    throw NoReport("it is no whole JSON text: reading ends at " + place_of_byte(json, error.byte));
  } catch (const Json::exception&) {
    throw NoReport("it is no JSON text");
  }
  if (!root.is_object() || member(root, "format") != "cutproof-report")
    throw NoReport("it has no `\"format\": \"cutproof-report\"`");
  const Json& version = member(root, "version");
  if (!version.is_number_unsigned()) unfit("version", "a whole number");
  if (version.get<std::size_t>() > 1)
    throw NoReport("it has version " + version.dump() +
                   " of the format, and this program reads version 1; a newer one wrote it");
  if (version.get<std::size_t>() < 1) unfit("version", "1");
  std::vector<ReportedPlan> plans;
  if (const Json& list = member(root, "plans"); !list.is_null()) {
    for (const Json& each : list_of(root, "plans")) plans.push_back(plan_of(each));
  } else if (member(root, "plan").is_null()) {
    throw NoReport("it is a report of another command than `check`");
  } else {
    plans.push_back(plan_of(root));
  }
  return plans;
}

}  // namespace cutproof
