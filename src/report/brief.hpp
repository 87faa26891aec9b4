// SPDX-License-Identifier: GPL-3.0-or-later
// Numbers in texts for people, short enough to be read: exact where that is short, else cut towards zero and never rounded,
// so that what is just below 12 does not look like 12.
#pragma once

#include "cutproof/result.hpp"

#include <string>

namespace cutproof {

// Each ends in `...` where it is not the number itself; whether it is is decided exactly. Only what would take too long to
// decide, and a long integer part, are the rounded decimal after `about `.

/// A decimal with at most four places; where all of these would be 0, with four digits: `0.5`, `0.3333...`, `0.00001234...`,
/// `1.2345...e-30`.
std::string brief_decimal(const Value& value);
std::string brief_decimal(const ExactPoint& point);
/// A decimal with about fourteen digits.
std::string readable_decimal(const Value& value);

/// The exact number where it is short, else its brief decimal.
std::string brief(const Value& value);
std::string brief(const ExactPoint& point);
/// `box (0, 0, 0) to (1, 1, 1)`.
std::string brief(const ExactBox& box);

}  // namespace cutproof
