// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "number/flint.hpp"

#include <string>

namespace cutproof {

/// factor * symbol, an expression of the plan language; an empty symbol is 1.
struct WrittenTerm {
  Rational factor;
  std::string symbol;
};

}  // namespace cutproof
