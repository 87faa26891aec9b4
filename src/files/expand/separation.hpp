// SPDX-License-Identifier: GPL-3.0-or-later
// How a solid is cut, plane by plane, until every cell lies in one of the parts that it consists of.
#pragma once

#include "solid/engine.hpp"

#include <cstddef>
#include <vector>

namespace cutproof {

/// Cells are numbered as they come: the whole is 0, and each cut makes two.
struct Separation {
  struct Cut {
    std::size_t cell;
    Plane plane;
    std::size_t positive, negative;
  };
  struct Leaf {
    std::size_t cell, part;
    Solid solid;
  };
  std::vector<Cut> cuts;
  std::vector<Leaf> leaves;  ///< what is not cut in the end, part by part
};

/// For parts with disjoint interiors, of which the whole is the union. Planes are those of the parts' faces; the ones that
/// cut the fewest parts are taken first, so parts that planes can separate one after the other stay whole.
Separation separate(Engine& engine, const std::vector<Solid>& parts);

}  // namespace cutproof
