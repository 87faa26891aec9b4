// SPDX-License-Identifier: GPL-3.0-or-later
// Whole numbers next to exact ones.
#pragma once

#include "number/number.hpp"

namespace cutproof {

/// The largest integer that is not above the number, decided exactly, as an element of Q.
Number floor_of(const Number& number);

}  // namespace cutproof
