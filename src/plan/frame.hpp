// SPDX-License-Identifier: GPL-3.0-or-later
// What names mean at a place beside those of the plan: indices of the loops around it, and arguments of the definition that
// it stands in. A frame binds one name; what it does not bind, the frame around it may.
#pragma once

#include "plan/evaluate.hpp"
#include "plan/exact_plan.hpp"
#include "plan/node.hpp"

#include <optional>
#include <string>

namespace cutproof {

struct Frame {
  FramePointer around;
  std::string name;
  bool is_index = true;               ///< of a loop; else an argument of a definition
  std::optional<ExactValue> value;    ///< of a number of a range, and of an argument
  int dimension = 3;                  ///< of the plan that an argument's value is written in
  std::optional<long> small;          ///< the same number of a range
  std::shared_ptr<const Node> entry;  ///< what is written in a list or a row; null when there is a value
  bool is_use = false;                ///< the first argument of a definition, which is used in `used_from` at `used_at`
  FramePointer used_from = {};
  std::size_t used_at = 0;
  mutable std::shared_ptr<const Pass> pass = {};  ///< made when it is asked for first
};

/// The frame that binds a name; null when none does.
const Frame* bound(const FramePointer& frame, const std::string& name);
/// A vector of a plan of this dimension, as an expression: `[x, y, z]` or `[x, y]`.
std::string to_exact(const Vector3& vector, int dimension);
/// What a name stands for, as a report writes it.
std::string shown(const Frame& frame);
std::string shown(const ExactValue& value, int dimension = 3);
/// The indices of the loops around a place, outermost first; of a place in a definition with arguments: of the place where
/// it is used. Null outside of loops.
std::shared_ptr<const Pass> pass_of(const FramePointer& frame);
/// `in the pass with i = 3, P = A`.
std::string pass_words(const Pass& pass);
/// Where the plan, outside of definitions with arguments, uses the one that this is a frame of.
std::optional<std::size_t> used_at(const FramePointer& frame);
/// The arguments of the definition that this is a frame of: `k = 3`; empty outside of one.
std::string arguments_text(const FramePointer& frame);
/// A node as it could be written on one line, shortened to a readable length.
std::string written(const Node& node);

}  // namespace cutproof
