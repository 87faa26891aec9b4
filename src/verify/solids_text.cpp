// SPDX-License-Identifier: GPL-3.0-or-later
// From files to measurements and comparisons, and every way in which either can end turned into findings.
#include "cutproof/solids.hpp"

#include "number/flint.hpp"
#include "number/print.hpp"
#include "plan/evaluate.hpp"
#include "plan/read_plan.hpp"
#include "solid/both_engines.hpp"
#include "verify/check.hpp"
#include "verify/compare.hpp"
#include "verify/digest.hpp"
#include "verify/endings.hpp"
#include "verify/measure.hpp"
#include "verify/read_file.hpp"
#include "verify/text.hpp"

#include <algorithm>

namespace cutproof {

namespace {

ReadLimits limits_of(const CheckSettings& settings) {
  ReadLimits limits;
  limits.document.max_bytes = settings.max_plan_size;
  limits.numbers.max_degree = settings.max_degree;
  limits.numbers.max_bits = settings.max_bits;
  return limits;
}

/// The answer that findings alone lead to: faults before wrong input before limits.
Answer answer_of(const std::vector<Finding>& findings) {
  CheckResult judged;
  judged.findings = findings;
  switch (judge(judged, /*complete=*/false)) {
    case Outcome::invalid:
      return Answer::invalid;
    case Outcome::stopped:
      return Answer::stopped;
    default:
      return Answer::failed;
  }
}

Solid build(Engine& engine, const SolidPointer& solid, const std::string& name, const TextPlace& place) {
  Solid piece = engine.build(*solid);
  if (piece != nullptr) return piece;
  Diagnostic empty;
  empty.line = place.line;
  empty.column = place.column;
  empty.length = static_cast<int>(name.size());
  empty.message = "the solid `" + name + "` is empty: it has no interior points";
  empty.hint = "a solid that is used needs a volume";
  throw InvalidPlan({empty});
}

class NoNames final : public Scope {
 public:
  std::optional<ExactValue> value_of(const std::string&) override { return std::nullopt; }
  std::optional<Plane> plane_of(const std::string&) override { return std::nullopt; }
  std::string nearest_name(const std::string&) const override { return ""; }
};

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
      throw InvalidInput("the angle " + quoted_text(part) + ": " + error.what(), error.hint());
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

MeasureResult measure_one(const std::string& text, const SolidReference& reference,
                          const std::optional<AngleAuditText>& audit, const CheckSettings& settings) {
  MeasureResult result;
  std::vector<Finding> findings;
  completes(
      [&] {
        const ReadSolid read = read_solid(text, *reference.name, limits_of(settings));
        std::optional<AngleRules> rules;
        if (audit) rules = rules_of(*audit, *read.tower);
        const std::unique_ptr<Engine> engine = make_engine(settings.engine);
        const Field& field = read.tower->top();
        result = measure(*engine, build(*engine, read.solid, *reference.name, read.place), field, rules ? &*rules : nullptr);
        result.field = field_text(field);
      },
      [&](const Finding& finding) { findings.push_back(finding); });
  if (!findings.empty()) {
    result = MeasureResult();
    result.findings = findings;
    result.answer = answer_of(findings);
  }
  result.file = reference.file;
  result.solid = reference.name.value_or("");
  return result;
}

}  // namespace

std::vector<MeasureResult> measure_solids(const SolidReference& reference, const std::optional<AngleAuditText>& audit,
                                          const CheckSettings& settings) {
  std::string text;
  std::vector<std::string> names;
  MeasureResult failed;
  failed.file = reference.file;
  failed.solid = reference.name.value_or("");
  const bool read = completes(
      [&] {
        text = read_file(reference.file, settings.max_plan_size);
        failed.file_sha256 = sha256(text);
        names = reference.name ? std::vector<std::string>{*reference.name} : solid_names(text, limits_of(settings));
      },
      [&](const Finding& finding) { failed.findings.push_back(finding); });
  if (!read) {
    failed.answer = answer_of(failed.findings);
    return {failed};
  }
  std::vector<MeasureResult> results;
  for (const std::string& name : names) {
    results.push_back(measure_one(text, {reference.file, name}, audit, settings));
    results.back().file_sha256 = failed.file_sha256;
  }
  return results;
}

CompareResult compare_files(const std::vector<SolidReference>& left, const std::vector<SolidReference>& right,
                            const CheckSettings& settings) {
  CompareResult result;
  std::vector<Finding> findings;
  std::vector<ComparedSolid> left_solids, right_solids;
  std::string file;  // that is being read
  completes(
      [&] {
        const ReadLimits limits = limits_of(settings);
        std::shared_ptr<FieldTower> tower;  // first, so that it goes last: its fields own every number
        const std::unique_ptr<Engine> engine = make_engine(settings.engine);
        std::vector<Solid> left_pieces, right_pieces;
        const auto take = [&](const SolidPointer& solid, const std::string& name, const TextPlace& place, bool on_left) {
          const Solid piece = build(*engine, solid, name, place);
          (on_left ? left_pieces : right_pieces).push_back(piece);
          (on_left ? left_solids : right_solids).push_back({file, name, value_text(engine->volume(piece))});
        };
        SideNames names;
        const Field* field = nullptr;
        if (right.empty()) {
          file = left.at(0).file;
          const ExactPlan plan = read_plan(read_file(file, settings.max_plan_size), limits);
          tower = plan.tower;
          field = plan.field;
          for (const NamedSolid& each : plan.start) take(each.solid, each.name, each.place, true);
          for (const NamedSolid& each : plan.goals) take(each.solid, each.name, each.place, false);
          names = {"the start", "the goal"};
        } else {
          tower = std::make_shared<FieldTower>(limits.numbers);
          struct Source {
            std::string text, file, name;
            bool on_left;
          };
          std::vector<Source> sources;
          for (const auto* side : {&left, &right})
            for (const SolidReference& reference : *side) {
              file = reference.file;
              std::string text = read_file(file, settings.max_plan_size);
              std::string name;
              if (reference.name) {
                name = *reference.name;
              } else {
                const std::vector<std::string> all = solid_names(text, limits);
                if (all.size() != 1)
                  throw InvalidInput("the file " + quoted_text(file) + " has " + std::to_string(all.size()) + " solids",
                                     "say which one is meant: `" + file + "#NAME`");
                name = all.front();
              }
              sources.push_back({std::move(text), file, name, side == &left});
            }
          // Once to find the field, and once more to have all numbers in it.
          TextPlace place;
          const auto read = [&](const Source& source) {
            file = source.file;
            return read_solid_into(source.text, source.name, *tower, limits, &place);
          };
          for (const Source& source : sources) read(source);
          for (const Source& source : sources) {
            const SolidPointer solid = read(source);
            take(solid, source.name, place, source.on_left);
          }
          field = &tower->top();
        }
        file.clear();
        result = compare_solids(*engine, left_pieces, right_pieces, *field, names);
        result.field = field_text(*field);
      },
      [&](Finding finding) {
        finding.file = file;
        findings.push_back(std::move(finding));
      });
  if (!findings.empty()) {
    result = CompareResult();
    result.findings = findings;
    result.answer = answer_of(findings);
  }
  result.left = left_solids;
  result.right = right_solids;
  return result;
}

}  // namespace cutproof
