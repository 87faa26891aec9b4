// SPDX-License-Identifier: GPL-3.0-or-later
// A plan's text to exact data: syntax, names, field, numbers, solids; all errors that can be judged without executing it.
#pragma once

#include "number/tower.hpp"
#include "plan/document.hpp"
#include "plan/exact_plan.hpp"
#include "plan/meshes.hpp"
#include "plan/parameters.hpp"

#include <memory>
#include <string>
#include <vector>

namespace cutproof {

struct ReadLimits {
  DocumentLimits document;
  NumberLimits numbers;
  RepetitionLimits repetition;
  ParameterChoice parameters;
  std::shared_ptr<Meshes> meshes;  ///< null: no file can be read
  FieldProgress progress;          ///< told what is adjoined to a plan's field
};

/// Reads a plan for `check`. Only what start, goal and steps use is adjoined to its field; every other name is checked in a
/// field of its own. Throws InvalidPlan with all errors found, PlanLimit or LimitReached where a limit was reached and
/// nothing is wrong besides.
/// `parameters`, where given, tells which values they have, also of a plan that is wrong otherwise.
ExactPlan read_plan(std::string text, const ReadLimits& limits = {}, ParameterValues* parameters = nullptr);

/// The names under `solids`, in order, without those that have arguments. Throws like read_plan for what cannot be read at
/// all.
std::vector<std::string> solid_names(std::string text, const ReadLimits& limits = {});

/// 3, or 2 for a plan in the plane. Throws like read_plan for what cannot be read at all.
int dimension_of(std::string text, const ReadLimits& limits = {});

/// How many `cases` the plan has; 0 where it has none, or where the limits set values for its parameters, and where
/// something is wrong that reading its first case will tell. Throws like read_plan for what cannot be read at all.
std::size_t case_count(const std::string& text, const ReadLimits& limits = {});

/// One solid of a plan file, by its name, perhaps with values for its arguments; its numbers in a tower of its own.
struct ReadSolid {
  std::shared_ptr<FieldTower> tower;
  SolidPointer solid;
  TextPlace place;
  std::vector<NamedSolid> definitions;  ///< those that it is made from, itself included
};
ReadSolid read_solid(const std::string& text, const std::string& name, const ReadLimits& limits = {});

/// One solid of a plan file with its numbers in the tower's field on top, which may grow: read all solids that are compared
/// once to find the field, and once more to have them in it. `definitions`, where given, gets those that it is made from.
SolidPointer read_solid_into(const std::string& text, const std::string& name, FieldTower& tower,
                             const ReadLimits& limits = {}, TextPlace* place = nullptr,
                             std::vector<NamedSolid>* definitions = nullptr);

/// The pieces that a plan starts from, or the goals that it makes, in the same way; the rest of the plan is not judged.
/// `parameters`, where given, tells which values they have.
std::vector<NamedSolid> read_start_into(const std::string& text, FieldTower& tower, const ReadLimits& limits = {},
                                        ParameterValues* parameters = nullptr,
                                        std::vector<NamedSolid>* definitions = nullptr);
std::vector<NamedSolid> read_goals_into(const std::string& text, FieldTower& tower, const ReadLimits& limits = {},
                                        ParameterValues* parameters = nullptr,
                                        std::vector<NamedSolid>* definitions = nullptr);

}  // namespace cutproof
