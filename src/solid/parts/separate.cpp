// SPDX-License-Identifier: GPL-3.0-or-later
// Deciding whether convex parts overlap or touch: doubles find the plane that separates, exact signs confirm it.
#include "solid/parts/separate.hpp"

#include <CGAL/Box_intersection_d/Box_d.h>
#include <CGAL/box_intersection_d.h>

#include <algorithm>
#include <array>
#include <limits>

namespace cutproof {

namespace {

/// Exact comparison of extremes, made only on axes along which the boxes of doubles barely meet.
bool separated_along_axis(const ConvexPart& a, const ConvexPart& b) {
  for (int axis = 0; axis < 3; ++axis) {
    const double scale = 1e-9 * (a.box().upper[axis] - a.box().lower[axis]);
    if (a.box().upper[axis] - b.box().lower[axis] <= scale && a.extreme(axis, true) <= b.extreme(axis, false)) return true;
    if (b.box().upper[axis] - a.box().lower[axis] <= scale && b.extreme(axis, true) <= a.extreme(axis, false)) return true;
  }
  return false;
}

bool separated_by_shared_plane(const ConvexPart& a, const ConvexPart& b) {
  for (const CellFace& f : a.faces())
    for (const CellFace& g : b.faces())
      if (f.plane == g.plane && f.flipped != g.flipped) return true;
  return false;
}

/// True iff no corner of `part` is strictly inside the face's plane.
bool all_outside(const CellFace& face, const ConvexPart& part) {
  for (const CornerPointer& corner : part.corners())
    if (face.side_of(*corner) < 0) return false;
  return true;
}

/// Tries the faces of one part as separating planes, those first that doubles prove; the others go to `open` when they may
/// be.
bool separated_by_face(const ConvexPart& a, const ConvexPart& b, std::vector<const CellFace*>& open) {
  for (const CellFace& face : a.faces()) {
    bool proved = true, possible = true;
    for (const CornerPointer& corner : b.corners()) {
      const Estimate guess = face.estimate_at(*corner);
      if (guess.positive()) continue;
      proved = false;
      if (guess.negative()) {
        possible = false;
        break;
      }
    }
    if (proved) return true;
    if (possible) open.push_back(&face);
  }
  return false;
}

std::vector<std::array<int, 2>> edges_of(const ConvexPart& part) {
  std::vector<std::array<int, 2>> edges;
  for (const CellFace& face : part.faces())
    for (int i = face.begin; i < face.end; ++i) {
      const int from = part.cycles()[i], to = part.cycles()[i + 1 < face.end ? i + 1 : face.begin];
      if (from < to) edges.push_back({from, to});
    }
  return edges;
}

using Direction = std::array<double, 3>;

/// A range that contains direction . p for every point p of the part.
Interval extent(const ConvexPart& part, const Direction& direction) {
  double lower = std::numeric_limits<double>::infinity(), upper = -lower, error = 0;
  for (const CornerPointer& corner : part.corners()) {
    const double value = direction[0] * corner->x + direction[1] * corner->y + direction[2] * corner->z;
    lower = std::fmin(lower, value);
    upper = std::fmax(upper, value);
    error = std::fmax(error, corner->radius + 0x1p-48 * corner->size);
  }
  error *= 1.001 * (std::fabs(direction[0]) + std::fabs(direction[1]) + std::fabs(direction[2]));
  if (!(error < std::numeric_limits<double>::infinity())) return Interval::whole_line();
  return Interval::widened(lower - error, upper + error);
}

/// Decides by directions normal to an edge of each part. Any direction in doubles that keeps the parts strictly apart is a
/// proof; the direction that comes nearest is tried exactly, which settles edges that touch.
bool separated_by_edges(const ConvexPart& a, const ConvexPart& b) {
  double best = -std::numeric_limits<double>::infinity();
  std::array<int, 4> nearest{-1, -1, -1, -1};
  const auto edges_of_a = edges_of(a), edges_of_b = edges_of(b);
  for (const auto& e : edges_of_a)
    for (const auto& f : edges_of_b) {
      const Corner &p = *a.corners()[e[0]], &q = *a.corners()[e[1]], &r = *b.corners()[f[0]], &s = *b.corners()[f[1]];
      const double ux = q.x - p.x, uy = q.y - p.y, uz = q.z - p.z, vx = s.x - r.x, vy = s.y - r.y, vz = s.z - r.z;
      Direction direction{uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx};
      const double length =
          std::sqrt(direction[0] * direction[0] + direction[1] * direction[1] + direction[2] * direction[2]);
      if (!(length >
            1e-12 * (std::fabs(ux) + std::fabs(uy) + std::fabs(uz)) * (std::fabs(vx) + std::fabs(vy) + std::fabs(vz))))
        continue;
      for (double& component : direction) component /= length;
      const Interval over_a = extent(a, direction), over_b = extent(b, direction);
      const double gap = std::fmax(over_a.lower - over_b.upper, over_b.lower - over_a.upper);
      if (gap > 0) return true;
      if (gap > best) {
        best = gap;
        nearest = {e[0], e[1], f[0], f[1]};
      }
    }
  const double scale = 1e-9 * (a.box().upper[0] - a.box().lower[0] + a.box().upper[1] - a.box().lower[1] + a.box().upper[2] -
                               a.box().lower[2]);
  if (nearest[0] < 0 || !(best > -scale)) return false;
  const Vector3 normal = cross(a.corners()[nearest[1]]->point - a.corners()[nearest[0]]->point,
                               b.corners()[nearest[3]]->point - b.corners()[nearest[2]]->point);
  if (is_zero(normal)) return false;
  const FacePlane plane(reduced({normal, dot(normal, a.corners()[nearest[0]]->point)}));
  bool a_above = true, a_below = true, b_above = true, b_below = true;
  for (const CornerPointer& corner : a.corners()) {
    const int s = side(plane, *corner);
    a_above = a_above && s >= 0;
    a_below = a_below && s <= 0;
  }
  if (!a_above && !a_below) return false;
  for (const CornerPointer& corner : b.corners()) {
    const int s = side(plane, *corner);
    b_above = b_above && s >= 0;
    b_below = b_below && s <= 0;
  }
  return (a_above && b_below) || (a_below && b_above);
}

}  // namespace

bool interiors_meet(const CellPointer& a, const CellPointer& b) {
  if (a == b) return true;
  if (!a->box().meets(b->box()) || separated_by_shared_plane(*a, *b) || separated_along_axis(*a, *b)) return false;
  std::vector<const CellFace*> open_of_a, open_of_b;
  if (separated_by_face(*a, *b, open_of_a) || separated_by_face(*b, *a, open_of_b)) return false;
  for (const CellFace* face : open_of_a)
    if (all_outside(*face, *b)) return false;
  for (const CellFace* face : open_of_b)
    if (all_outside(*face, *a)) return false;
  // A corner of one strictly inside the other proves an overlap without any new corner.
  const auto has_inside = [](const ConvexPart& outer, const ConvexPart& inner) {
    return std::any_of(inner.corners().begin(), inner.corners().end(), [&outer](const CornerPointer& corner) {
      return std::all_of(outer.faces().begin(), outer.faces().end(),
                         [&corner](const CellFace& face) { return face.estimate_at(*corner).negative(); });
    });
  };
  if (has_inside(*a, *b) || has_inside(*b, *a)) return true;
  if (separated_by_edges(*a, *b)) return false;
  return intersection(a, b) != nullptr;
}

CellPointer intersection(const CellPointer& a, const CellPointer& b) {
  CellPointer rest = a;
  for (const CellFace& face : b->faces()) {
    if (!rest) break;
    rest = inner_half(rest, face);
  }
  return rest;
}

namespace {

/// True iff all corners of a face lie in the plane of another.
bool coplanar(const CellFace& plane, const ConvexPart& part, const CellFace& face) {
  if (plane.same_plane_as(face)) return true;
  for (int i = 0; i < 3; ++i) {
    const Estimate guess = estimate(*plane.plane, *part.corner(face, i));
    if (guess.positive() || guess.negative()) return false;
  }
  for (int i = 0; i < 3; ++i)
    if (side(*plane.plane, *part.corner(face, i)) != 0) return false;
  return true;
}

/// True iff the plane of a neighbour of face f of `a` has all of face g of `b` on its outer side. In their common plane two
/// convex polygons share no area exactly when the line of an edge of one of them separates them.
bool separated_by_edge_line(const ConvexPart& a, const CellFace& f, const ConvexPart& b, const CellFace& g,
                            const std::vector<int>& neighbours) {
  for (int i = f.begin; i < f.end; ++i) {
    const CellFace& wall = a.faces()[neighbours[i]];
    bool outside = true;
    for (int j = 0; j < g.end - g.begin && outside; ++j) outside = wall.side_of(*b.corner(g, j)) >= 0;
    if (outside) return true;
  }
  return false;
}

}  // namespace

bool share_face_area(const ConvexPart& a, const ConvexPart& b) {
  if (!a.box().meets(b.box())) return false;
  std::vector<int> neighbours_in_a, neighbours_in_b;
  for (const CellFace& f : a.faces())
    for (const CellFace& g : b.faces()) {
      if (!coplanar(f, b, g)) continue;
      if (neighbours_in_a.empty()) {
        neighbours_in_a = a.neighbours();
        neighbours_in_b = b.neighbours();
      }
      if (!separated_by_edge_line(a, f, b, g, neighbours_in_a) && !separated_by_edge_line(b, g, a, f, neighbours_in_b))
        return true;
    }
  return false;
}

namespace {

/// A box with the index of its part, as CGAL's sweep wants it.
using SweepBox = CGAL::Box_intersection_d::Box_with_handle_d<double, 3, const CellPointer*>;

std::vector<SweepBox> sweep_boxes(const CellList& parts) {
  std::vector<SweepBox> boxes;
  boxes.reserve(parts.size());
  for (const CellPointer& part : parts) {
    DoubleBox box = part->box();
    boxes.emplace_back(box.lower.data(), box.upper.data(), &part);
  }
  return boxes;
}

}  // namespace

void for_each_close_pair(const CellList& left, const CellList& right,
                         const std::function<void(std::size_t, std::size_t)>& use) {
  if (left.size() * right.size() <= 64) {
    for (std::size_t i = 0; i < left.size(); ++i)
      for (std::size_t j = 0; j < right.size(); ++j)
        if (left[i]->box().meets(right[j]->box())) use(i, j);
    return;
  }
  std::vector<SweepBox> a = sweep_boxes(left), b = sweep_boxes(right);
  CGAL::box_intersection_d(a.begin(), a.end(), b.begin(), b.end(), [&](const SweepBox& x, const SweepBox& y) {
    use(static_cast<std::size_t>(x.handle() - left.data()), static_cast<std::size_t>(y.handle() - right.data()));
  });
}

void for_each_close_pair(const CellList& parts, const std::function<void(std::size_t, std::size_t)>& use) {
  if (parts.size() <= 10) {
    for (std::size_t i = 0; i < parts.size(); ++i)
      for (std::size_t j = i + 1; j < parts.size(); ++j)
        if (parts[i]->box().meets(parts[j]->box())) use(i, j);
    return;
  }
  std::vector<SweepBox> boxes = sweep_boxes(parts);
  CGAL::box_self_intersection_d(boxes.begin(), boxes.end(), [&](const SweepBox& x, const SweepBox& y) {
    const auto i = static_cast<std::size_t>(x.handle() - parts.data()),
               j = static_cast<std::size_t>(y.handle() - parts.data());
    use(std::min(i, j), std::max(i, j));
  });
}

}  // namespace cutproof
