// SPDX-License-Identifier: GPL-3.0-or-later
// Where an expression is made of numbers and functions alone.
#pragma once

#include "plan/evaluate.hpp"

#include <optional>
#include <string>

namespace cutproof {

/// A scope that knows no name, of a plan of this dimension.
class NoNames final : public Scope {
 public:
  explicit NoNames(int dimension = 3) : dimension_(dimension) {}
  int dimension() const override { return dimension_; }
  std::optional<ExactValue> value_of(const std::string& /*name*/) override { return std::nullopt; }
  std::optional<Plane> plane_of(const std::string& /*name*/) override { return std::nullopt; }
  std::string nearest_name(const std::string& /*name*/) const override { return ""; }

 private:
  int dimension_;
};

}  // namespace cutproof
