// SPDX-License-Identifier: GPL-3.0-or-later
// The true boundary of convex parts: faces that look at each other are taken off where they overlap. What is left are
// polygons that share no area, and the canonical form of a boundary merges such polygons.
#include "solid/parts/boundary.hpp"

#include "number/errors.hpp"
#include "solid/edges.hpp"

#include <algorithm>
#include <map>
#include <numeric>
#include <unordered_map>

namespace cutproof {

namespace {

/// Numbers for corners: equal points have equal numbers.
class CornerNumbers {
 public:
  void add(const CornerPointer& corner) { numbers_.try_emplace(corner.get(), -1); }
  /// To be called once, after all were added.
  void finish() {
    std::vector<const Corner*> sorted;
    for (const auto& entry : numbers_) sorted.push_back(entry.first);
    std::sort(sorted.begin(), sorted.end(), [](const Corner* a, const Corner* b) { return a->point < b->point; });
    const Corner* last = nullptr;
    int number = -1;
    for (const Corner* corner : sorted) {
      if (last == nullptr || last->point != corner->point) ++number;
      numbers_[last = corner] = number;
    }
  }
  int of(const CornerPointer& corner) const { return numbers_.at(corner.get()); }

 private:
  std::unordered_map<const Corner*, int> numbers_;
};

/// A face of a part, as it goes through the cancellation.
struct Sheet {
  const ConvexPart* part;
  const CellFace* face;
};

Cycle cycle_of(const Sheet& sheet) {
  Cycle cycle;
  for (int i = 0; i < sheet.face->end - sheet.face->begin; ++i) cycle.push_back(sheet.part->corner(*sheet.face, i));
  return cycle;
}

/// All faces but those that another one covers exactly, from the other side: two faces with the same corners lie in one
/// plane.
std::vector<Sheet> unmatched_faces(const CellList& parts) {
  CornerNumbers numbers;
  for (const CellPointer& part : parts)
    for (const CornerPointer& corner : part->corners()) numbers.add(corner);
  numbers.finish();
  std::vector<std::pair<std::vector<int>, Sheet>> sheets;
  for (const CellPointer& part : parts)
    for (const CellFace& face : part->faces()) {
      std::vector<int> key;
      for (int i = 0; i < face.end - face.begin; ++i) key.push_back(numbers.of(part->corner(face, i)));
      std::sort(key.begin(), key.end());
      sheets.emplace_back(std::move(key), Sheet{part.get(), &face});
    }
  std::stable_sort(sheets.begin(), sheets.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<Sheet> left;
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    if (i + 1 < sheets.size() && sheets[i].first == sheets[i + 1].first) {
      ++i;
      continue;
    }
    left.push_back(sheets[i].second);
  }
  return left;
}

/// The faces in one plane, by the side to which they look.
struct PlaneSheets {
  Plane plane;
  std::vector<Sheet> front, back;
};

/// The plane divided by the first coefficient of its normal that is not zero: equal for equal sets of points.
std::array<Number, 4> canonical(const Plane& plane, int& sign) {
  std::array<Number, 4> result{plane.normal.x, plane.normal.y, plane.normal.z, plane.offset};
  const Number* first = &plane.normal.x;
  for (const Number* each : {&plane.normal.y, &plane.normal.z})
    if (first->is_zero()) first = each;
  sign = first->sign();
  const Number leading = *first;
  for (Number& coefficient : result)
    if (!coefficient.is_zero()) coefficient = divide(coefficient, leading);
  return result;
}

struct LessCoefficients {
  bool operator()(const std::array<Number, 4>& a, const std::array<Number, 4>& b) const {
    for (int i = 0; i < 4; ++i)
      if (const int order = compare(a[i], b[i])) return order < 0;
    return false;
  }
};

std::vector<PlaneSheets> by_plane(const std::vector<Sheet>& sheets) {
  std::map<std::array<Number, 4>, std::size_t, LessCoefficients> classes;
  std::unordered_map<const FacePlane*, std::pair<std::size_t, bool>>
      known;  // class, and whether the plane looks backward there
  std::vector<PlaneSheets> result;
  for (const Sheet& sheet : sheets) {
    const FacePlane* plane = sheet.face->plane.get();
    auto [place, fresh] = known.try_emplace(plane);
    if (fresh) {
      int sign = 0;
      const auto [found, added] = classes.try_emplace(canonical(plane->plane, sign), result.size());
      if (added) result.push_back({sign > 0 ? plane->plane : opposite(plane->plane), {}, {}});
      place->second = {found->second, sign < 0};
    }
    PlaneSheets& target = result[place->second.first];
    (place->second.second != sheet.face->flipped ? target.back : target.front).push_back(sheet);
  }
  return result;
}

/// What is left of a face when faces in its plane that look the other way are taken off.
std::vector<Cycle> without(const Sheet& sheet, const std::vector<Sheet>& others) {
  std::vector<Cycle> left{cycle_of(sheet)};
  for (const Sheet& other : others) {
    if (!sheet.part->box().meets(other.part->box())) continue;
    const std::vector<int> neighbours = other.part->neighbours();
    std::vector<Cycle> next;
    for (Cycle& cycle : left) {
      std::vector<Cycle> outside;
      Cycle rest = cycle;
      for (int i = other.face->begin; i < other.face->end && !rest.empty(); ++i) {
        const CellFace& wall = other.part->faces()[neighbours[i]];
        Cycle positive, negative;
        split_cycle(rest, *wall.plane, positive, negative);
        if (wall.flipped) std::swap(positive, negative);
        if (!positive.empty()) outside.push_back(std::move(positive));
        rest = std::move(negative);
      }
      if (rest.empty()) {
        next.push_back(std::move(cycle));  // nothing was taken off: keep it whole
      } else {
        next.insert(next.end(), std::make_move_iterator(outside.begin()), std::make_move_iterator(outside.end()));
      }
    }
    left = std::move(next);
  }
  return left;
}

/// Adds what is left of faces to a boundary.
void add_facets(Boundary& boundary, const Plane& plane, const std::vector<Sheet>& sheets, const std::vector<Sheet>& others) {
  for (const Sheet& sheet : sheets)
    for (const Cycle& polygon : without(sheet, others)) {
      std::vector<int> cycle;
      for (const CornerPointer& corner : polygon) {
        cycle.push_back(static_cast<int>(boundary.vertices.size()));
        boundary.vertices.push_back(corner->point);
      }
      boundary.facets.push_back({plane, {std::move(cycle)}});
    }
}

}  // namespace

Boundary true_boundary(const CellList& parts) {
  Boundary boundary;
  for (const PlaneSheets& sheets : by_plane(unmatched_faces(parts))) {
    add_facets(boundary, sheets.plane, sheets.front, sheets.back);
    add_facets(boundary, opposite(sheets.plane), sheets.back, sheets.front);
  }
  return normalised(boundary);
}

}  // namespace cutproof
