// SPDX-License-Identifier: GPL-3.0-or-later
// From files to measurements, and every way in which one can end turned into findings.
#include "cutproof/solids.hpp"

#include "files/digest.hpp"
#include "files/endings.hpp"
#include "files/measure_plan.hpp"
#include "files/read_file.hpp"
#include "files/solid_files.hpp"
#include "number/flint.hpp"
#include "number/print.hpp"
#include "plan/complaints.hpp"
#include "plan/evaluate.hpp"
#include "plan/no_names.hpp"
#include "plan/read_plan.hpp"
#include "solid/both_engines.hpp"
#include "verify/text.hpp"

#include <algorithm>

namespace cutproof {

namespace {

/// Parts of a text between commas that stand in no bracket.
std::vector<std::string> split_at_commas(const std::string& text) {
  std::vector<std::string> parts(1);
  int depth = 0;
  for (const char c : text) {
    depth += c == '(' || c == '[' ? 1 : c == ')' || c == ']' ? -1 : 0;
    if (c == ',' && depth == 0) {
      parts.emplace_back();
    } else {
      parts.back() += c;
    }
  }
  return parts;
}

AngleRules rules_of(const AngleAuditText& text, FieldTower& tower) {
  NoNames scope;
  const auto angle = [&](const std::string& part) {
    try {
      return evaluate_angle(*parse_expression(part), scope, tower);
    } catch (const ExpressionError& error) {
      throw InvalidInput("the angle " + quoted_text(part) + ": " + told(error).sentence, told(error).hint);
    }
  };
  AngleRules rules;
  for (const std::string& part : split_at_commas(text.allowed)) rules.allowed.push_back(angle(part));
  if (text.exceptions.empty()) return rules;
  for (const std::string& part : split_at_commas(text.exceptions)) {
    const std::size_t colon = part.rfind(':');
    std::string count = colon == std::string::npos ? "" : part.substr(colon + 1);
    count.erase(std::remove(count.begin(), count.end(), ' '), count.end());
    if (count.empty() || count.size() > 9 || count.find_first_not_of("0123456789") != std::string::npos)
      throw InvalidInput("the exception " + quoted_text(part) + " does not say how many edges have this angle",
                         "as in `45 deg: 1`");
    rules.exceptions.emplace_back(angle(part.substr(0, colon)), std::stol(count));
  }
  return rules;
}

void name(const SolidReference& reference, MeasureResult* result) {
  result->file = reference.file;
  result->place = reference.place ? plan_place_text(*reference.place) : "";
  result->solid = reference.name.value_or("");
}

MeasureResult measure_one(const std::string& text, const SolidReference& reference,
                          const std::optional<AngleAuditText>& audit, const CheckSettings& settings) {
  MeasureResult result;
  std::vector<Finding> findings;
  const ReadLimits limits = limits_of(settings, reference.file);
  completes(
      [&] {
        if (reference.place) {
          const auto rules_in = [&](FieldTower& tower) -> std::optional<AngleRules> {
            if (!audit) return std::nullopt;
            return rules_of(*audit, tower);
          };
          result = measure_place(text, reference, rules_in, settings, limits);
          return;
        }
        const ReadSolid read = read_solid(text, *reference.name, limits);
        std::optional<AngleRules> rules;
        if (audit) rules = rules_of(*audit, *read.tower);
        const std::unique_ptr<Engine> engine = make_engine(settings.engine);
        const Field& field = read.tower->top();
        const int dimension = dimension_of(text, limits);
        result =
            measure(*engine, build_named(*engine, {*reference.name, read.solid, read.place}, read.definitions, dimension),
                    field, rules ? &*rules : nullptr, /*may_overlap_itself=*/false, dimension);
        result.field = field_text(field);
      },
      [&](const Finding& finding) { findings.push_back(finding); });
  if (!findings.empty()) {
    result = MeasureResult();
    result.findings = findings;
    result.answer = answer_of(findings);
  }
  name(reference, &result);
  result.meshes = meshes_of(limits);
  return result;
}

}  // namespace

std::vector<MeasureResult> measure_solids(const SolidReference& reference, const std::optional<AngleAuditText>& audit,
                                          const CheckSettings& settings) {
  std::string text;
  std::vector<SolidReference> references;
  MeasureResult failed;
  name(reference, &failed);
  const bool read = completes(
      [&] {
        text = read_file(reference.file, settings.max_plan_size);
        failed.file_sha256 = sha256(text);
        if (reference.name || reference.place) {
          references = {reference};
        } else {
          for (const std::string& each : solid_names(text, limits_of(settings, reference.file)))
            references.push_back({reference.file, each});
        }
      },
      [&](const Finding& finding) { failed.findings.push_back(finding); });
  if (!read) {
    failed.answer = answer_of(failed.findings);
    return {failed};
  }
  std::vector<MeasureResult> results;
  for (const SolidReference& each : references) {
    results.push_back(measure_one(text, each, audit, settings));
    results.back().file_sha256 = failed.file_sha256;
  }
  return results;
}

}  // namespace cutproof
