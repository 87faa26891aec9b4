// SPDX-License-Identifier: GPL-3.0-or-later
// Decimals as exact numbers, never by way of a double.
#pragma once

#include "number/flint.hpp"

#include <cstddef>
#include <string_view>

namespace cutproof {

/// True iff the text is a sign or none, digits with or without a point, and an exponent or none: `-1.5e-30`, `.5`, `2.`.
bool is_decimal(std::string_view text);
/// What such a text says, exactly. Throws LimitReached (`max-bits`) where it has more bits than that, without working it
/// out.
Rational decimal_value(std::string_view text, std::size_t max_bits);

}  // namespace cutproof
