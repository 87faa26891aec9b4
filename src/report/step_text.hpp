// SPDX-License-Identifier: GPL-3.0-or-later
// What a step did, in the trade's words and on one line.
#pragma once

#include "cutproof/result.hpp"

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace cutproof {

/// `cut T -> tip, stump: "the tip comes off" (line 40)`, `moved a, b`, `joined a, b -> c`, `split legs -> left, right`,
/// `expect: holds`. Names and titles are shortened until the line takes at most `width` columns (or what cannot be left out
/// takes more); whatever was left out is counted.
std::string step_text(const StepResult& step, bool holds, std::size_t width);

/// Text of one line that takes at most `width` columns: escaped, and where it was longer with `...` at its end.
std::string shortened(std::string_view text, std::size_t width);

/// The names, separated by `separator`, in at most `width` columns (the first of them in any case, shortened): `a, b, and 7
/// more`.
std::string names_within(const NameList& names, std::size_t width, std::string_view separator = ", ");

}  // namespace cutproof
