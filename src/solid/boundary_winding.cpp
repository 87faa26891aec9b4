// SPDX-License-Identifier: GPL-3.0-or-later
// What is inside and what is outside, for a closed surface whose faces do not cross.
//
// Round an edge the winding number falls by 1 at each half-plane that ends a sector of the solid and rises at each that
// begins one; when they alternate, all faces there have the same number outside. So one ray for each connected shell
// decides.
#include "solid/surface_under_check.hpp"

#include "solid/edge_fans.hpp"

#include <numeric>
#include <optional>

namespace cutproof {

namespace {

class Winding {
 public:
  explicit Winding(const SurfaceUnderCheck& surface)
      : surface_(surface), facets_(surface.boundary.facets), fans_(edge_fans(surface.boundary)), shell_(facets_.size()) {
    std::iota(shell_.begin(), shell_.end(), 0);
    for (const EdgeFan& fan : fans_)
      for (std::size_t i = 0; i < fan.around.size(); ++i) {
        // the half-planes of one sector of the solid
        const HalfPlane &begin = fan.around[i], &end = fan.around[i + 1 == fan.around.size() ? 0 : i + 1];
        if (!begin.forward && end.forward) shell_[shell_of(begin.facet)] = shell_of(end.facet);
      }
  }

  void check() {
    std::vector<int> outside(facets_.size());
    bool all_reversed = true;
    for (std::size_t f = 0; f < facets_.size(); ++f) {
      if (shell_of(static_cast<int>(f)) != static_cast<int>(f)) continue;
      outside[f] = winding_outside(static_cast<int>(f));
      all_reversed = all_reversed && outside[f] == -1;
    }
    if (all_reversed)
      throw BoundaryError("the surface is inside out: its faces are clockwise as seen from outside",
                          "reverse the order of the corners of every face", 0);
    // Shells inside one that is inside out have wrong numbers too, but further from 0.
    for (const bool all : {false, true})
      for (std::size_t f = 0; f < facets_.size(); ++f) {
        const int winding = outside[shell_of(static_cast<int>(f))];
        if (winding == 0 || (!all && winding != 1 && winding != -1)) continue;
        if (winding > 0)
          throw BoundaryError(
              shell_name(static_cast<int>(f)) + " lies inside another one and faces the same way",
              "the faces round a cavity are counterclockwise as seen from inside the cavity; give no shell twice",
              static_cast<int>(f));
        throw BoundaryError(
            shell_name(static_cast<int>(f)) + " is inside out, or bounds a cavity that lies outside every body",
            "give the corners of every face counterclockwise as seen from outside the solid", static_cast<int>(f));
      }
    for (const EdgeFan& fan : fans_)
      if (!fan.alternates())
        throw BoundaryError("the faces at the edge " + surface_.edge_name(fan.from, fan.to) + ", " + faces_text(fan) +
                                " among them, cross there: the bodies that they bound overlap",
                            "bodies may touch along an edge, but not share inside points", fan.around.front().facet);
  }

 private:
  int shell_of(int f) {
    while (shell_[f] != f) f = shell_[f] = shell_[shell_[f]];
    return f;
  }

  std::string shell_name(int f) {
    int count = 0;
    for (std::size_t g = 0; g < facets_.size(); ++g) count += shell_of(static_cast<int>(g)) == shell_of(f) ? 1 : 0;
    return "the shell of " + std::to_string(count) + " faces to which " + surface_.face_name(f) + " belongs";
  }

  std::string faces_text(const EdgeFan& fan) const {
    for (const HalfPlane& half : fan.around)
      if (half.facet != fan.around.front().facet)
        return surface_.face_name(fan.around.front().facet) + " and " + surface_.face_name(half.facet);
    return surface_.face_name(fan.around.front().facet);
  }

  /// Points inside a face, different for each attempt: from an edge inward, part of the way to what comes next.
  Vector3 inner_point(const Facet& facet, long attempt) const {
    const std::vector<int>& outer = facet.cycles.front();
    const std::size_t edge = static_cast<std::size_t>(attempt) % outer.size();
    const Vector3 &a = surface_.at(outer[edge]), &b = surface_.at(outer[edge + 1 == outer.size() ? 0 : edge + 1]);
    const Vector3& normal = facet.plane.normal;
    const Vector3 start = a + Number::fraction(1 + attempt % 7, 2 + attempt % 7 + attempt % 5) * (b - a),
                  inward = cross(normal, b - a);
    std::optional<Number> nearest;
    const auto meet = [&](const Number& distance) {
      if (distance.sign() > 0 && (!nearest || distance < *nearest)) nearest = distance;
    };
    for_each_edge(facet, [&](int p, int q) {
      // start + t * inward on the segment from p to q
      const Vector3 along = surface_.at(q) - surface_.at(p), there = surface_.at(p) - start;
      const Number denominator = dot(cross(inward, along), normal);
      if (denominator.is_zero()) {
        if (dot(cross(there, inward), normal).is_zero()) {
          meet(divide(dot(there, inward), dot(inward, inward)));
          meet(divide(dot(there + along, inward), dot(inward, inward)));
        }
        return;
      }
      const Number on_segment = divide(dot(cross(there, inward), normal), denominator);
      if (on_segment.sign() >= 0 && on_segment <= Number(1)) meet(divide(dot(cross(there, along), normal), denominator));
    });
    if (!nearest) throw ToolFault("no point was found inside a face");
    return start + Number::fraction(1 + attempt % 3, 3 + attempt % 4) * *nearest * inward;
  }

  int winding_outside(int f) const {
    for (long attempt = 1; attempt < 1000; ++attempt) {
      const Vector3 start = inner_point(facets_[f], attempt);
      const Vector3 wobble{Number::fraction((attempt * 7919) % 101 - 50, 97),
                           Number::fraction((attempt * 104729) % 103 - 51, 101),
                           Number::fraction((attempt * 1299709) % 107 - 53, 103)};
      const int side = dot(wobble, facets_[f].plane.normal).sign();
      if (side == 0) continue;
      if (const std::optional<int> winding = crossings(f, start, side > 0 ? wobble : -wobble)) return *winding;
    }
    throw ToolFault("no ray in general position was found");
  }

  /// Signed crossings of a ray with all faces but f, on which it starts; empty when it meets an edge or starts on another
  /// face.
  std::optional<int> crossings(int f, const Vector3& start, const Vector3& direction) const {
    int winding = 0;
    for (std::size_t g = 0; g < facets_.size(); ++g) {
      if (static_cast<int>(g) == f) continue;
      const Plane& plane = facets_[g].plane;
      const Number slope = dot(plane.normal, direction);
      const int rising = slope.sign(), above = side_of(plane, start);
      if (above == 0) {
        // in this face's plane: the ray leaves it at once or stays in it
        if (rising == 0 || locate(surface_.boundary, facets_[g], start) >= 0) return std::nullopt;
        continue;
      }
      if (rising == 0 || above == rising) continue;
      const Vector3 point = start - divide(evaluate(plane, start), slope) * direction;
      const int where = locate(surface_.boundary, facets_[g], point);
      if (where == 0) return std::nullopt;
      if (where > 0) winding += rising;
    }
    return winding;
  }

  const SurfaceUnderCheck& surface_;
  const std::vector<Facet>& facets_;
  const std::vector<EdgeFan> fans_;
  std::vector<int> shell_;
};

}  // namespace

void check_winding_numbers(const SurfaceUnderCheck& surface) {
  Winding(surface).check();
}

}  // namespace cutproof
