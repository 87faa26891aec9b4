// SPDX-License-Identifier: GPL-3.0-or-later
// A picture as SVG: styles inside, nothing to fetch, no script. Alone as a file, or inside of a page.
#pragma once

#include "cutproof/pictures.hpp"

#include <array>
#include <string>

namespace cutproof {

/// What stands beside a picture for those who do not see it.
struct SvgText {
  std::string title, description;  ///< plain text, from strangers where it may be
};

/// The whole element. `prefix` (letters) begins every id and class in it: where several stand in one page, each needs its
/// own.
std::string svg_picture(const Picture& picture, const std::array<double, 6>& projection, const SvgText& text,
                        const std::string& prefix);

/// Fill colours as `#rrggbb`: of a piece's colour (0 to 6) or, for -1, of a pale piece, in a tone (0 to 2).
std::string paint_code(int colour, int tone);

}  // namespace cutproof
