// SPDX-License-Identifier: GPL-3.0-or-later
// Exact numbers as doubles, for drawing. Nothing is ever decided by one.
#pragma once

#include "number/number.hpp"

namespace cutproof {

/// The double nearest to the number, ties to even; infinite beyond the largest double, 0 and never -0 where that is nearest.
double nearest_double(const Number& number);

}  // namespace cutproof
