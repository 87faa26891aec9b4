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

#include <map>
#include <utility>

namespace cutproof {

namespace {

/// What one reference stands for, found in its file's text.
struct Source {
  std::string text;
  SolidReference reference;  ///< with a name, unless it means a side of a plan
};

class Comparison {
 public:
  Comparison(const CheckSettings& settings, std::string* current_file)
      : settings_(settings), file_(*current_file), engine_(make_engine(settings.engine)) {}

  /// The start of a plan on the left, its goal on the right.
  CompareResult plan_alone(const std::string& file, std::optional<Congruence> demand) {
    file_ = file;
    const ExactPlan plan = read_plan(read_file(file, settings_.max_plan_size), limits());
    tower_ = plan.tower;
    dimension_ = plan.dimension;
    for (const NamedSolid& each : plan.start) take(each, "", left_, left_solids);
    for (const NamedSolid& each : plan.goals) take(each, "", right_, right_solids);
    CompareResult result = compare(*plan.field, demand);
    result.of_one_plan = true;
    return result;
  }

  CompareResult sides(const std::vector<SolidReference>& left, const std::vector<SolidReference>& right,
                      std::optional<Congruence> demand) {
    tower_ = std::make_shared<FieldTower>(limits_of(settings_, "").numbers);
    std::vector<Source> sources[2];
    for (const SolidReference& reference : left) sources[0].push_back(find(reference));
    for (const SolidReference& reference : right) sources[1].push_back(find(reference));
    demand_one_dimension(sources[0], sources[1]);
    // Once to find the field, and once more to have all numbers in it.
    for (const std::vector<Source>& side : sources)
      for (const Source& source : side) read(source);
    for (const Source& source : sources[0])
      for (const NamedSolid& each : read(source)) take(each, word(source), left_, left_solids);
    for (const Source& source : sources[1])
      for (const NamedSolid& each : read(source)) take(each, word(source), right_, right_solids);
    return compare(tower_->top(), demand);
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

  Source find(const SolidReference& reference) {
    file_ = reference.file;
    Source source{read_file(file_, settings_.max_plan_size), reference};
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
      const bool start = source.reference.place->kind == PlanPlace::Kind::start;
      return start ? read_start_into(source.text, *tower_, limits()) : read_goals_into(source.text, *tower_, limits());
    }
    NamedSolid solid{*source.reference.name, nullptr, {}};
    solid.solid = read_solid_into(source.text, solid.name, *tower_, limits(), &solid.place);
    return {solid};
  }

  void take(const NamedSolid& solid, const std::string& side, std::vector<Solid>& pieces,
            std::vector<ComparedSolid>& compared) {
    pieces.push_back(build_named(*engine_, solid, dimension_));
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
  std::shared_ptr<FieldTower> tower_;         // before all that holds numbers, so that it goes last: its fields own them
  std::unique_ptr<Engine> engine_;
  int dimension_ = 3;
  std::vector<Solid> left_, right_;
};

}  // namespace

CompareResult compare_files(const std::vector<SolidReference>& left, const std::vector<SolidReference>& right,
                            const CheckSettings& settings, std::optional<Congruence> demand) {
  CompareResult result;
  std::vector<Finding> findings;
  std::string file;
  completes(
      [&] {
        Comparison comparison(settings, &file);
        const auto keep_solids = [&] {
          result.left = comparison.left_solids;
          result.right = comparison.right_solids;
          result.meshes = comparison.meshes();
        };
        try {
          result = right.empty() ? comparison.plan_alone(left.at(0).file, demand) : comparison.sides(left, right, demand);
        } catch (...) {
          keep_solids();
          throw;
        }
        keep_solids();
      },
      [&](Finding finding) {
        finding.file = file;
        findings.push_back(std::move(finding));
      });
  if (!findings.empty()) {
    result.findings = findings;
    result.answer = answer_of(findings);
  }
  return result;
}

}  // namespace cutproof
