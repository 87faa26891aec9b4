// SPDX-License-Identifier: GPL-3.0-or-later
// A written surface on its way to being a boundary, for the checks of boundary_check.hpp only.
#pragma once

#include "solid/boundary_check.hpp"

#include <cmath>
#include <string>
#include <utility>
#include <vector>

namespace cutproof {

/// Boxes of doubles around what is compared; a sound filter.
struct Extent {
  double lower[3] = {INFINITY, INFINITY, INFINITY}, upper[3] = {-INFINITY, -INFINITY, -INFINITY};
  void add(const Vector3& p) {
    const Number* coordinates[3] = {&p.x, &p.y, &p.z};
    for (int i = 0; i < 3; ++i) {
      lower[i] = std::fmin(lower[i], coordinates[i]->interval().lower);
      upper[i] = std::fmax(upper[i], coordinates[i]->interval().upper);
    }
  }
  bool apart_from(const Extent& other) const {
    for (int i = 0; i < 3; ++i)
      if (upper[i] < other.lower[i] || other.upper[i] < lower[i]) return true;
    return false;
  }
};

/// The faces read so far, with the words for messages. Points with equal coordinates go by the first one's number.
struct SurfaceUnderCheck {
  explicit SurfaceUnderCheck(const WrittenSurface& surface) : written(surface) { boundary.vertices = surface.points; }

  const WrittenSurface& written;
  Boundary boundary;            ///< facets in the order of the written faces
  std::vector<Extent> extents;  ///< of the facets
  std::vector<int> corners;     ///< all points that faces use, each once

  const Vector3& at(int point) const { return boundary.vertices[point]; }
  std::string point_name(int point) const { return written.point_names[point]; }
  std::string face_name(int face) const { return written.face_names[face]; }
  std::string edge_name(int a, int b) const { return "from " + point_name(a) + " to " + point_name(b); }

  /// Strictly inside the segment.
  bool in_segment(int point, int a, int b) const {
    const Vector3 p = at(point) - at(a), q = at(point) - at(b);
    return dot(p, q).sign() < 0 && is_zero(cross(p, q));
  }
  /// Whether two open segments in one plane with this normal cross in a point inside both.
  bool cross_in_plane(const Vector3& normal, int a, int b, int c, int d) const {
    const auto turn = [&](int p, int q, int r) { return dot(cross(at(q) - at(p), at(r) - at(p)), normal).sign(); };
    return turn(a, b, c) * turn(a, b, d) < 0 && turn(c, d, a) * turn(c, d, b) < 0;
  }
};

template <class Use>
void for_each_edge(const Facet& facet, Use use) {
  for (const std::vector<int>& cycle : facet.cycles)
    for (std::size_t i = 0; i < cycle.size(); ++i) use(cycle[i], cycle[i + 1 == cycle.size() ? 0 : i + 1]);
}

/// No edge has a corner in its middle, and no two edges or faces cross or overlap: check (3).
void check_contacts(const SurfaceUnderCheck& surface);
/// The winding number is 0 outside each face and 1 inside: check (4). The other checks have passed.
void check_winding_numbers(const SurfaceUnderCheck& surface);

}  // namespace cutproof
