// SPDX-License-Identifier: GPL-3.0-or-later
// Where an expression is made of numbers and functions alone.
#pragma once

#include "plan/evaluate.hpp"

#include <optional>
#include <string>

namespace cutproof {

/// A scope that knows no name.
class NoNames final : public Scope {
 public:
  std::optional<ExactValue> value_of(const std::string& /*name*/) override { return std::nullopt; }
  std::optional<Plane> plane_of(const std::string& /*name*/) override { return std::nullopt; }
  std::string nearest_name(const std::string& /*name*/) const override { return ""; }
};

}  // namespace cutproof
