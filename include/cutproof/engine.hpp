// SPDX-License-Identifier: GPL-3.0-or-later
// Which engine cuts and compares.
#pragma once

namespace cutproof {

enum class EngineChoice {
  parts,  ///< pieces as convex parts; quick
  nef,    ///< CGAL's Nef polyhedra; slow, works in another way
  both    ///< a plan is run on both, and each piece is compared after each step
};

/// `parts`, `nef`, `both`.
const char* engine_word(EngineChoice choice);

}  // namespace cutproof
