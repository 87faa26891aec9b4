// SPDX-License-Identifier: GPL-3.0-or-later
// SHA-256, so that a report names the bytes that it speaks of.
#pragma once

#include <string>
#include <string_view>

namespace cutproof {

/// The SHA-256 digest (FIPS 180-4, section 6.2) as 64 lower-case hexadecimal digits.
std::string sha256(std::string_view bytes);

}  // namespace cutproof
