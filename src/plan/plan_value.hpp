// SPDX-License-Identifier: GPL-3.0-or-later
// From what was read to what a program can write.
#pragma once

#include "cutproof/plan.hpp"
#include "plan/node.hpp"

namespace cutproof {

/// The tree without its places. Broken nodes, which stand where errors were told, become empty texts.
PlanValue value_of(const Node& node);

}  // namespace cutproof
