// SPDX-License-Identifier: GPL-3.0-or-later
// From places in a plan's text to paths into the plan, for who wrote the plan as data.
#pragma once

#include "plan/document.hpp"

#include <optional>
#include <string>

namespace cutproof {

class PlanPaths {
 public:
  /// Of a text that can be read; for one that cannot there are no paths.
  explicit PlanPaths(const std::string& text);

  /// `steps[2].by`, counted from 0; `start["T.1"]` for keys that are more than letters, digits, `_` and `-`. What begins at
  /// a place and is longer than the first key there is the whole value around that key. Empty where nothing begins.
  std::string at(const TextPlace& place, int length) const;

 private:
  std::optional<SourceText> source_;
  Node root_;
};

}  // namespace cutproof
