// SPDX-License-Identifier: GPL-3.0-or-later
// What `cutproof explain` tells.
#pragma once

#include <string>
#include <string_view>

namespace cutproof {

/// What a finding means, with a small plan that has it and its mend; empty for a code that is not known.
std::string explanation(std::string_view code);
/// All codes, each with a line.
std::string list_of_codes();

}  // namespace cutproof
