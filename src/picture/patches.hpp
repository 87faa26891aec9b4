// SPDX-License-Identifier: GPL-3.0-or-later
// From convex parts in painting order to what is painted: the faces turned to the viewer, those of one body in one plane as
// one patch wherever the order allows it, so that no seam shows; and the true edges on them.
#pragma once

#include "picture/outline.hpp"
#include "picture/painter.hpp"

#include <cstddef>
#include <vector>

namespace cutproof {

/// The lines that may be drawn on a body's faces.
struct BodyLines {
  std::vector<Line> edges;  ///< the true edges of the solid that is seen: of the body, or of several that are whole together
  std::vector<Line> cuts;   ///< the true edges of the body itself; those that are no `edges` are cuts to come
};

/// A plane area of one body. Painted in order, patches show what is seen.
struct Patch {
  std::size_t body = 0;  ///< the owner of its parts
  Plane outward;         ///< its plane, positive towards the viewer
  /// Counterclockwise as seen; by the nonzero rule (a cycle may touch itself, and run clockwise round a hole).
  std::vector<Cycle> cycles;
  std::vector<Line> edges, cuts;  ///< what of the body's lines lies on its border; each from its smaller end to its larger
  std::vector<Line> seams;        ///< what of its border is no edge: seams, and where other parts cover it
};

/// The faces of parts in painting order that are turned to the viewer, as patches in painting order, without those that one
/// later part hides wholly. `lines` has an entry for each body.
std::vector<Patch> visible_patches(const std::vector<OwnedPart>& order, const Vector3& toward_viewer,
                                   const std::vector<BodyLines>& lines);

}  // namespace cutproof
