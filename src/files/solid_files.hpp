// SPDX-License-Identifier: GPL-3.0-or-later
// What measuring and comparing the solids of files have in common.
#pragma once

#include "cutproof/check.hpp"
#include "plan/read_plan.hpp"
#include "solid/engine.hpp"

#include <vector>

namespace cutproof {

/// For a plan at a path, whose folder holds the files that it names.
ReadLimits limits_of(const CheckSettings& settings, const std::string& plan_path);
/// The meshes that were read with these limits.
std::vector<MeshResult> meshes_of(const ReadLimits& limits);

/// The answer that findings alone lead to: faults before wrong input before limits.
Answer answer_of(const std::vector<Finding>& findings);

/// The solid as a piece; throws InvalidPlan at its place where it is empty, and says which of the definitions makes it so.
Solid build_named(Engine& engine, const NamedSolid& solid, const std::vector<NamedSolid>& definitions, int dimension = 3);

}  // namespace cutproof
