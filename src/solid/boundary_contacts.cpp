// SPDX-License-Identifier: GPL-3.0-or-later
// Faces may meet in common edges and corners; a corner or an edge may also touch the inside of a face. Nothing may go
// through.
//
// Two faces in different planes share inside points exactly when a segment of their planes' common line lies inside both.
// Either an end of the longest such segment is where an edge of one passes through the other, which is found edge by edge;
// or both ends are corners that lie in the other face, and the middle of the segment tells.
#include "solid/surface_under_check.hpp"

#include "solid/edge_fans.hpp"

namespace cutproof {

namespace {

class Contacts {
 public:
  explicit Contacts(const SurfaceUnderCheck& surface) : surface_(surface), facets_(surface.boundary.facets) {}

  void corners_in_edges() const {
    for (std::size_t f = 0; f < facets_.size(); ++f)
      for (const int corner : surface_.corners) {
        Extent extent;
        extent.add(surface_.at(corner));
        if (extent.apart_from(surface_.extents[f]) || side_of(facets_[f].plane, surface_.at(corner)) != 0) continue;
        for_each_edge(facets_[f], [&](int a, int b) {
          if (surface_.in_segment(corner, a, b))
            throw BoundaryError("the corner " + surface_.point_name(corner) + " lies in the middle of the edge " +
                                    surface_.edge_name(a, b) + " of " + surface_.face_name(static_cast<int>(f)),
                                "give that corner to this face as well", static_cast<int>(f), corner);
        });
      }
  }

  /// Faces in one plane first: where they overlap, faces next to them cross too, and that says less.
  void pairs() const {
    for (const bool one_plane : {true, false})
      for (std::size_t f = 0; f < facets_.size(); ++f)
        for (std::size_t g = f + 1; g < facets_.size(); ++g) {
          if (surface_.extents[f].apart_from(surface_.extents[g])) continue;
          if (coincide(facets_[f].plane, facets_[g].plane) != one_plane) continue;
          if (one_plane) {
            in_one_plane(static_cast<int>(f), static_cast<int>(g));
          } else {
            in_two_planes(static_cast<int>(f), static_cast<int>(g));
          }
        }
  }

 private:
  [[noreturn]] void fail(int f, int g, const std::string& how) const {
    throw BoundaryError(surface_.face_name(f) + " and " + surface_.face_name(g) + " " + how,
                        "the faces of a solid meet in common edges and corners only", g);
  }

  Vector3 middle(int a, int b) const { return Number::fraction(1, 2) * (surface_.at(a) + surface_.at(b)); }
  int locate_in(int f, const Vector3& point) const { return locate(surface_.boundary, facets_[f], point); }

  void in_one_plane(int f, int g) const {
    std::vector<std::pair<int, int>> shared_forward, shared_backward;
    for_each_edge(facets_[f], [&](int a, int b) {
      for_each_edge(facets_[g], [&](int c, int d) {
        if (surface_.cross_in_plane(facets_[f].plane.normal, a, b, c, d))
          fail(f, g, "overlap: they lie in one plane and their edges cross");
        if (a == c && b == d) shared_forward.emplace_back(a, b);
        if (a == d && b == c) shared_backward.emplace_back(a, b);
      });
    });
    // No edges cross, so an edge of one is a whole outside, inside or on the border of the other. With all edges outside or
    // on the border, faces that overlap are the same set, and lie on the same side of an edge that they share.
    for (const auto& [one, other] : {std::pair(f, g), std::pair(g, f)})
      for_each_edge(facets_[one], [&, other = other](int a, int b) {
        if (locate_in(other, middle(a, b)) > 0) fail(f, g, "overlap: one lies in the other");
      });
    bool same_side = false;
    coincide(facets_[f].plane, facets_[g].plane, &same_side);
    if (!(same_side ? shared_forward : shared_backward).empty()) fail(f, g, "overlap in one plane");
  }

  void in_two_planes(int f, int g) const {
    std::vector<int> ends = pass_through(f, g);
    const std::vector<int> more = pass_through(g, f);
    ends.insert(ends.end(), more.begin(), more.end());
    for (std::size_t i = 0; i < ends.size(); ++i)
      for (std::size_t j = i + 1; j < ends.size(); ++j) {
        if (ends[i] == ends[j]) continue;
        const Vector3 between = middle(ends[i], ends[j]);
        if (side_of(facets_[f].plane, between) != 0 || side_of(facets_[g].plane, between) != 0) continue;
        if (locate_in(f, between) > 0 && locate_in(g, between) > 0)
          fail(f, g, "cross along the line " + surface_.edge_name(ends[i], ends[j]));
      }
  }

  /// Fails when an edge of g passes through f or crosses an edge of it; returns the corners of g that lie in f.
  std::vector<int> pass_through(int f, int g) const {
    std::vector<int> touching;
    for_each_edge(facets_[g], [&](int a, int b) {
      const int side_a = side_of(facets_[f].plane, surface_.at(a)), side_b = side_of(facets_[f].plane, surface_.at(b));
      const auto edge = [&] { return "the edge " + surface_.edge_name(a, b) + " of " + surface_.face_name(g); };
      if (side_a == 0 && locate_in(f, surface_.at(a)) >= 0) touching.push_back(a);
      if (side_a == 0 && side_b == 0) {
        for_each_edge(facets_[f], [&](int c, int d) {
          if (surface_.cross_in_plane(facets_[f].plane.normal, a, b, c, d))
            fail(f, g,
                 "meet where " + edge() + " crosses the edge " + surface_.edge_name(c, d) +
                     ": if they only touch, give both a corner there");
        });
      } else if (side_a * side_b < 0) {
        const Number value_a = evaluate(facets_[f].plane, surface_.at(a)),
                     value_b = evaluate(facets_[f].plane, surface_.at(b));
        const Vector3 point = surface_.at(a) + divide(value_a, value_a - value_b) * (surface_.at(b) - surface_.at(a));
        const int where = locate_in(f, point);
        if (where > 0) fail(f, g, "cross: " + edge() + " passes through the other at " + to_exact(point));
        if (where == 0)
          fail(f, g,
               "meet where " + edge() + " crosses an edge of the other, at " + to_exact(point) +
                   ": if they only touch, give both a corner there");
      }
    });
    return touching;
  }

  const SurfaceUnderCheck& surface_;
  const std::vector<Facet>& facets_;
};

}  // namespace

void check_contacts(const SurfaceUnderCheck& surface) {
  const Contacts contacts(surface);
  contacts.corners_in_edges();
  contacts.pairs();
}

}  // namespace cutproof
