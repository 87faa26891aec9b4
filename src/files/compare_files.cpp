// SPDX-License-Identifier: GPL-3.0-or-later
// From files to comparisons, and every way in which one can end turned into findings.
#include "cutproof/solids.hpp"

#include "files/endings.hpp"
#include "files/read_file.hpp"
#include "files/solid_files.hpp"
#include "plan/read_plan.hpp"
#include "solid/both_engines.hpp"
#include "verify/compare.hpp"
#include "verify/text.hpp"

#include <algorithm>
#include <map>
#include <memory>
#include <utility>

namespace cutproof {

namespace {

/// What one reference stands for, found in its file's text.
struct Source {
  std::string text;
  SolidReference reference;  ///< with a name, unless it means a side of a plan
  std::size_t cases;         ///< of the plan whose side it is
};

/// Reads both sides once; then each case can be compared, in a number field of its own.
class Comparison {
 public:
  Comparison(const CheckSettings& settings, std::string* current_file) : settings_(settings), file_(*current_file) {}

  /// The start of a plan on the left, its goal on the right.
  void take_plan(const std::string& file) {
    of_one_plan_ = true;
    file_ = file;
    sources_[0] = {{read_file(file, settings_.max_plan_size), {file, {}, PlanPlace{PlanPlace::Kind::start}}, 0}};
    count_cases(sources_[0].front());
  }

  void take_sides(const std::vector<SolidReference>& left, const std::vector<SolidReference>& right) {
    for (const SolidReference& reference : left) sources_[0].push_back(find(reference));
    for (const SolidReference& reference : right) sources_[1].push_back(find(reference));
    demand_one_dimension(sources_[0], sources_[1]);
    for (std::vector<Source>& side : sources_)
      for (Source& source : side)
        if (source.reference.place) count_cases(source);
    demand_as_many_cases();
  }

  /// How many cases there are to compare; 0 where no side is of a plan with `cases`.
  std::size_t cases() const { return cases_; }

  /// The case of that number; 0 where there are none.
  CompareResult of_case(std::size_t number, std::optional<Congruence> demand) {
    // What holds numbers goes before the field that owns them.
    for (std::vector<Solid>* pieces : {&left_, &right_}) pieces->clear();
    definitions_.clear();
    engine_.reset();
    tower_.reset();
    values_.clear();
    left_solids.clear();
    right_solids.clear();
    engine_ = make_engine(settings_.engine);
    case_ = number;
    return of_one_plan_ ? plan_alone(demand) : sides(demand);
  }

  /// Of the case that was compared last, for each file with `cases`.
  std::vector<CaseValues> case_values() const {
    std::vector<CaseValues> all;
    for (const auto& [file, parameters] : values_) all.push_back({file, parameters});
    return all;
  }

  /// Of all files that were read so far.
  std::vector<MeshResult> meshes() const {
    std::vector<MeshResult> all;
    for (const auto& [file, limits] : limits_) {
      const std::vector<MeshResult> own = meshes_of(limits);
      all.insert(all.end(), own.begin(), own.end());
    }
    return all;
  }

  std::vector<ComparedSolid> left_solids, right_solids;

 private:
  /// Of the file that is being read.
  const ReadLimits& limits() {
    const auto known = limits_.find(file_);
    return known != limits_.end() ? known->second : limits_.emplace(file_, limits_of(settings_, file_)).first->second;
  }

  /// The same for the case that is being compared.
  ReadLimits limits_of_case() {
    ReadLimits own = limits();
    own.parameters.case_number = std::max<std::size_t>(case_, 1);
    return own;
  }

  void count_cases(Source& source) {
    file_ = source.reference.file;
    source.cases = case_count(source.text, limits());
    if (cases_ == 0) cases_ = source.cases;
  }

  void demand_as_many_cases() {
    const Source* first = nullptr;
    for (const std::vector<Source>& side : sources_)
      for (const Source& source : side) {
        if (source.cases == 0) continue;
        if (first == nullptr) first = &source;
        if (source.cases == first->cases) continue;
        file_ = source.reference.file;
        throw InvalidInput("cases are compared one by one, in their order, and there are not as many of them: " +
                               quoted_text(first->reference.file) + " has " + std::to_string(first->cases) + ", " +
                               quoted_text(file_) + " has " + std::to_string(source.cases),
                           "give both plans the same cases, or choose one: `--set NAME=VALUE` leaves `cases` out");
      }
  }

  CompareResult plan_alone(std::optional<Congruence> demand) {
    const Source& source = sources_[0].front();
    file_ = source.reference.file;
    ParameterValues values;
    const ExactPlan plan = read_plan(source.text, limits_of_case(), &values);
    keep_values(source, values);
    tower_ = plan.tower;
    dimension_ = plan.dimension;
    definitions_ = plan.definitions;
    for (const NamedSolid& each : plan.start) take(each, "", left_, left_solids);
    for (const NamedSolid& each : plan.goals) take(each, "", right_, right_solids);
    CompareResult result = compare(*plan.field, demand);
    result.of_one_plan = true;
    return result;
  }

  CompareResult sides(std::optional<Congruence> demand) {
    tower_ = std::make_shared<FieldTower>(limits_of(settings_, "").numbers);
    // Once to find the field, and once more to have all numbers in it.
    for (const std::vector<Source>& side : sources_)
      for (const Source& source : side) read(source);
    for (const Source& source : sources_[0])
      for (const NamedSolid& each : read(source)) take(each, word(source), left_, left_solids);
    for (const Source& source : sources_[1])
      for (const NamedSolid& each : read(source)) take(each, word(source), right_, right_solids);
    return compare(tower_->top(), demand);
  }

  void keep_values(const Source& source, ParameterValues& values) {
    if (values.case_count != source.cases) throw ToolFault("the cases of a plan were counted wrongly");
    if (values.case_number == 0) return;
    for (const auto& [file, parameters] : values_)
      if (file == file_) return;
    values_.emplace_back(file_, std::move(values.values));
  }

  Source find(const SolidReference& reference) {
    file_ = reference.file;
    Source source{read_file(file_, settings_.max_plan_size), reference, 0};
    if (reference.place && reference.place->kind != PlanPlace::Kind::start && reference.place->kind != PlanPlace::Kind::goal)
      throw InvalidInput(
          "only the start and the goal of a plan can be compared, not `@" + plan_place_text(*reference.place) + "`",
          "`" + file_ + "@start` or `" + file_ + "@goal`; measure tells what a piece is like after any step");
    if (reference.place && reference.name)
      throw InvalidInput(
          "all of a plan's start or goal is compared, not `" + *reference.name + "` alone",
          "`" + file_ + "@" + plan_place_text(*reference.place) + "`, or `" + file_ + "#NAME` for an entry of `solids`");
    if (reference.name || reference.place) return source;
    const std::vector<std::string> all = solid_names(source.text, limits());
    if (all.size() != 1)
      throw InvalidInput("the file " + quoted_text(file_) + " has " + std::to_string(all.size()) + " solids",
                         "say which one is meant: `" + file_ + "#NAME`, or `" + file_ + "@start`, `" + file_ + "@goal`");
    source.reference.name = all.front();
    return source;
  }

  void demand_one_dimension(const std::vector<Source>& left, const std::vector<Source>& right) {
    const Source& first = left.front();
    file_ = first.reference.file;
    dimension_ = dimension_of(first.text, limits());
    for (const std::vector<Source>* side : {&left, &right})
      for (const Source& source : *side) {
        file_ = source.reference.file;
        if (dimension_of(source.text, limits()) != dimension_)
          throw InvalidInput("a figure cannot be compared with a solid: " + quoted_text(first.reference.file) +
                                 " is of dimension " + std::to_string(dimension_) + ", and " + quoted_text(file_) +
                                 " is not",
                             "a prism of height 1 over a figure is a solid");
      }
  }

  static std::string word(const Source& source) {
    return source.reference.place ? plan_place_text(*source.reference.place) : "";
  }

  std::vector<NamedSolid> read(const Source& source) {
    file_ = source.reference.file;
    if (source.reference.place) {
      const auto read_side = source.reference.place->kind == PlanPlace::Kind::start ? read_start_into : read_goals_into;
      ParameterValues values;
      std::vector<NamedSolid> definitions, solids = read_side(source.text, *tower_, limits_of_case(), &values, &definitions);
      definitions_.insert(definitions_.end(), definitions.begin(), definitions.end());
      keep_values(source, values);
      return solids;
    }
    NamedSolid solid{*source.reference.name, nullptr, {}};
    std::vector<NamedSolid> definitions;
    solid.solid = read_solid_into(source.text, solid.name, *tower_, limits(), &solid.place, &definitions);
    definitions_.insert(definitions_.end(), definitions.begin(), definitions.end());
    return {solid};
  }

  void take(const NamedSolid& solid, const std::string& side, std::vector<Solid>& pieces,
            std::vector<ComparedSolid>& compared) {
    pieces.push_back(build_named(*engine_, solid, definitions_, dimension_));
    compared.push_back({file_, side, solid.name, value_text(engine_->volume(pieces.back()))});
  }

  CompareResult compare(const Field& field, std::optional<Congruence> demand) {
    file_.clear();
    CompareResult result = compare_solids(*engine_, left_, right_, field, dimension_);
    result.field = field_text(field);
    if (!demand) return result;
    result.demand = demand;
    result.answer = fulfils(result.relation, *demand) ? Answer::yes : Answer::no;
    return result;
  }

  const CheckSettings& settings_;
  std::map<std::string, ReadLimits> limits_;  // by file
  std::string& file_;                         // that is being read
  std::vector<Source> sources_[2];            // left and right
  bool of_one_plan_ = false;
  std::size_t cases_ = 0, case_ = 0;
  std::vector<std::pair<std::string, std::vector<std::pair<std::string, std::string>>>> values_;  // of this case, by file
  std::shared_ptr<FieldTower> tower_;  // before all that holds numbers, so that it goes last: its fields own them
  std::unique_ptr<Engine> engine_;
  int dimension_ = 3;
  std::vector<NamedSolid> definitions_;  // those that the compared ones are made from
  std::vector<Solid> left_, right_;
};

}  // namespace

CompareResult compare_files(const std::vector<SolidReference>& left, const std::vector<SolidReference>& right,
                            const CheckSettings& settings, std::optional<Congruence> demand) {
  std::string file;
  Comparison comparison(settings, &file);
  // Whatever ends the work becomes a finding of this result.
  const auto ends_well = [&](CompareResult* result, const auto& work) {
    std::vector<Finding> findings;
    completes(work, [&](Finding finding) {
      finding.file = file;
      findings.push_back(std::move(finding));
    });
    if (findings.empty()) return true;
    result->answer = answer_of(findings);
    result->findings = std::move(findings);
    return false;
  };
  const auto compare_case = [&](std::size_t number) {
    CompareResult result;
    ends_well(&result, [&] { result = comparison.of_case(number, demand); });
    result.left = comparison.left_solids;
    result.right = comparison.right_solids;
    result.case_number = number;
    result.case_values = comparison.case_values();
    return result;
  };
  CompareResult result;
  const bool read = ends_well(&result, [&] {
    if (right.empty())
      comparison.take_plan(left.at(0).file);
    else
      comparison.take_sides(left, right);
  });
  if (read && comparison.cases() == 0) {
    result = compare_case(0);
  } else if (read) {
    result.answer = Answer::yes;
    result.demand = demand;
    for (std::size_t number = 1; number <= comparison.cases(); ++number) {
      result.cases.push_back(compare_case(number));
      const CompareResult& of_case = result.cases.back();
      if (exit_code(of_case.answer) > exit_code(result.answer)) result.answer = of_case.answer;
      result.dimension = of_case.dimension;
      result.of_one_plan = of_case.of_one_plan;
    }
  }
  result.meshes = comparison.meshes();
  return result;
}

}  // namespace cutproof
