// SPDX-License-Identifier: GPL-3.0-or-later
// SARIF 2.1.0 (OASIS Standard, 2020): findings as results, their codes as rules, plans as artifacts.
#include "cutproof/version.hpp"
#include "report/against_text.hpp"
#include "report/ci_formats.hpp"
#include "report/escape.hpp"
#include "report/finding_facts.hpp"
#include "report/sentences.hpp"
#include "report/verdict_text.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <string_view>

namespace cutproof {
namespace {

using Json = nlohmann::ordered_json;

Json text(std::string_view raw) {
  return {{"text", escaped(raw)}};
}

// Of a relative path a relative reference (RFC 3986, section 4.2): a colon in it would make a scheme of what stands before.
// Of an absolute one a URI with a scheme (RFC 8089), since validators take no reference that begins with a slash; two
// slashes at the beginning would make a host of what follows.
std::string uri(const std::string& path) {
  static constexpr std::string_view plain = "-._~!$'()*+;=/@&,";
  std::string result = path.rfind('/', 0) == 0 ? "file://" : "";
  for (std::size_t i = 0; i < path.size(); ++i) {
    const auto byte = static_cast<unsigned char>(path[i]);
    const bool letter = (byte >= '0' && byte <= '9') || (byte >= 'A' && byte <= 'Z') || (byte >= 'a' && byte <= 'z');
    const bool host = byte == '/' && i == 1 && path[0] == '/';
    if ((letter || plain.find(path[i]) != std::string_view::npos) && !host) {
      result += path[i];
    } else {
      result += fmt::format("%{:02X}", byte);
    }
  }
  return result;
}

Json rules() {
  Json list = Json::array();
  for (const FindingKind& kind : finding_kinds()) {
    list.push_back(
        {{"id", kind.code},
         {"shortDescription", {{"text", kind.meaning}}},
         {"help", {{"text", std::string(kind.meaning) + " " + kind.advice}}},
         {"defaultConfiguration", {{"level", kind.code == std::string_view("limit-reached") ? "warning" : "error"}}}});
  }
  return list;
}

Json location(const CheckResult& result, const FindingPlace& place, int length, std::size_t artifact) {
  Json physical = {{"artifactLocation", {{"uri", uri(place.file)}}}};
  if (place.file == result.plan) physical["artifactLocation"]["index"] = artifact;
  if (place.line > 0) {
    physical["region"]["startLine"] = place.line;
    if (place.column > 0) physical["region"]["startColumn"] = place.column;
    if (place.column > 0 && length > 0) physical["region"]["endColumn"] = place.column + length;
  }
  return {{"physicalLocation", physical}};
}

// The mends of a finding: each replaces parts of the plan's text.
Json fixes(const CheckResult& result, std::size_t finding, std::size_t artifact) {
  Json list = Json::array();
  for (const Mend& mend : result.mends) {
    if (std::find(mend.findings.begin(), mend.findings.end(), finding) == mend.findings.end()) continue;
    Json replacements = Json::array();
    for (const MendEdit& edit : mend.edits) {
      replacements.push_back({{"deletedRegion",
                               {{"startLine", edit.line},
                                {"startColumn", edit.column},
                                {"endLine", edit.end_line},
                                {"endColumn", edit.end_column}}},
                              {"insertedContent", {{"text", edit.text}}}});
    }
    list.push_back({{"description", text(mend.words)},
                    {"artifactChanges", Json::array({{{"artifactLocation", {{"uri", uri(result.plan)}, {"index", artifact}}},
                                                      {"replacements", replacements}}})}});
  }
  return list;
}

Json as_result(const CheckResult& result, const Finding& finding, const std::string& id, std::size_t artifact) {
  const FindingKind& kind = kind_of(finding);
  std::string message = case_prefix(result) + message_of(finding);
  if (const std::string hint = hint_of(finding); !hint.empty()) message += ". Try: " + hint;
  const FindingPlace place = place_of(result, finding), own = own_place_of(result, finding);
  const bool one_place = place.line == own.line && place.column == own.column;
  Json object = {{"ruleId", kind.code},
                 {"ruleIndex", &kind - finding_kinds().data()},
                 {"level", finding.code == "limit-reached" ? "warning" : "error"},
                 {"message", text(message)},
                 {"locations", Json::array({location(result, place, one_place ? finding.caret_length : 0, artifact)})}};
  if (!one_place) {
    Json found = location(result, own, finding.caret_length, artifact);
    found["message"] = {{"text", "where it was found"}};
    object["relatedLocations"] = Json::array({found});
  }
  object["partialFingerprints"] = {{"cutproofFinding/v1", id}};
  return object;
}

}  // namespace

std::string sarif_report(const std::vector<CheckResult>& results) {
  Json artifacts = Json::array(), found = Json::array(), plans = Json::array();
  bool successful = true;
  int highest = 0;
  for (std::size_t i = 0; i < results.size(); ++i) {
    const CheckResult& result = results[i];
    successful = successful && result.outcome != Outcome::failed;
    highest = std::max(highest, exit_code(result.outcome));
    Json artifact = {{"location", {{"uri", uri(result.plan)}, {"index", i}}}, {"roles", {"analysisTarget"}}};
    if (!result.plan_sha256.empty()) artifact["hashes"] = {{"sha-256", result.plan_sha256}};
    artifacts.push_back(artifact);
    plans.push_back({{"plan", escaped(result.plan)}, {"outcome", outcome_word(result.outcome)}});
    if (result.case_number > 0) plans.back()["case"] = result.case_number;
    if (result.against) plans.back()["against"] = escaped(against_line(result));
    plans.back()["proof"] = result.equicomplement ? "equicomplement" : "dissection";
    plans.back()["counts"] = Json(result.counts);
    if (!result.shapes.empty()) plans.back()["shapes"] = shapes_text(result);
    const std::vector<std::string> ids = finding_ids(result);
    for (std::size_t k = 0; k < ids.size(); ++k) {
      found.push_back(as_result(result, result.findings[k], ids[k], i));
      if (Json list = fixes(result, k, i); !list.empty()) found.back()["fixes"] = std::move(list);
    }
  }
  const Json run = {
      {"tool", {{"driver", {{"name", "cutproof"}, {"semanticVersion", CUTPROOF_VERSION}, {"rules", rules()}}}}},
      {"columnKind", "unicodeCodePoints"},
      {"invocations", Json::array({{{"executionSuccessful", successful}, {"exitCode", highest}}})},
      {"artifacts", artifacts},
      {"results", found},
      {"properties", {{"plans", plans}}}};
  const Json log = {
      {"$schema", "https://json.schemastore.org/sarif-2.1.0.json"}, {"version", "2.1.0"}, {"runs", Json::array({run})}};
  return log.dump(1, ' ', /*ensure_ascii=*/true) + "\n";
}

}  // namespace cutproof
