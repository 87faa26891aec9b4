// SPDX-License-Identifier: GPL-3.0-or-later
// Moving convex parts: corners and planes are mapped once each, however many parts share them.
#pragma once

#include "solid/parts/convex.hpp"

#include <array>
#include <unordered_map>
#include <utility>
#include <vector>

namespace cutproof {

/// x -> factor * matrix * x + shift with an orthogonal matrix and factor > 0. Remembers what it mapped.
class CellMap {
 public:
  explicit CellMap(const Motion& motion);
  /// x -> motion(about + factor * (x - about))
  CellMap(const Motion& motion, const Number& factor, const Vector3& about);

  CellPointer operator()(const CellPointer& part);
  CellList operator()(const CellList& parts);
  /// True iff this was made from an equal motion (and no factor).
  bool is(const Motion& motion) const;

 private:
  CornerPointer image(const CornerPointer& corner);
  PlanePointer image(const PlanePointer& plane);
  Vector3 linear(const Vector3& v) const;
  void adopt(const Field& field);

  Motion motion_;
  Number factor_ = Number(1);
  bool scales_ = false;
  Vector3 shift_;
  std::array<Vector3, 3> matrix_;
  // Whether the matrix only permutes coordinates and changes signs; then each comes from an axis, negated or not.
  bool permutes_ = true;
  std::array<std::pair<int, bool>, 3> taken_from_{};
  // The originals are kept alive, so that their addresses stay theirs.
  std::unordered_map<const Corner*, std::pair<CornerPointer, CornerPointer>> corners_;
  std::unordered_map<const FacePlane*, std::pair<PlanePointer, PlanePointer>> planes_;
};

}  // namespace cutproof
