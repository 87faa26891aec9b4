// SPDX-License-Identifier: GPL-3.0-or-later
// Exact numbers, points and boxes as data: texts in the plan language's own expression syntax.
#pragma once

#include <array>
#include <string>

namespace cutproof {

/// An exact number as an expression, and a decimal with at least 20 significant digits.
struct Value {
  std::string exact, decimal;
};

struct ExactPoint {
  std::string x, y, z;
  std::array<std::string, 3> decimal = {};  ///< as in Value; empty where the point stands with its nearest doubles
};

struct ExactBox {
  ExactPoint minimum, maximum;
};

}  // namespace cutproof
