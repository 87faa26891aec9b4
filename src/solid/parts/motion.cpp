// SPDX-License-Identifier: GPL-3.0-or-later
// Moving convex parts. Translations and quarter turns, which only exchange coordinates and signs, cost no product.
#include "solid/parts/motion.hpp"

#include <algorithm>

namespace cutproof {

namespace {

bool identical(const Motion& a, const Motion& b) {
  return identical(a.shift(), b.shift()) && identical(a.rows()[0], b.rows()[0]) && identical(a.rows()[1], b.rows()[1]) &&
         identical(a.rows()[2], b.rows()[2]);
}

}  // namespace

CellMap::CellMap(const Motion& motion) : motion_(motion), shift_(motion.shift()), matrix_(motion.rows()) {
  for (std::size_t i = 0; i < 3; ++i)
    for (int j = 0; j < 3; ++j) {
      const Number& entry = coordinate(matrix_[i], j);
      if (entry == Number(1) || entry == Number(-1))
        taken_from_[i] = {j, entry == Number(-1)};
      else if (!entry.is_zero())
        permutes_ = false;
    }
}

CellMap::CellMap(const Motion& motion, const Number& factor, const Vector3& about) : CellMap(motion) {
  factor_ = factor;
  scales_ = factor != Number(1);
  shift_ = motion(about - factor * about);
}

bool CellMap::is(const Motion& motion) const {
  return !scales_ && identical(motion, motion_);
}

void CellMap::adopt(const Field& field) {
  // Constants written in a smaller field are lifted once, not at every product.
  const auto lift = [&field](Number& number) {
    if (&number.field() != &field && field.stands_on(number.field())) number = number.lifted_to(field);
  };
  const auto lift_all = [&lift](Vector3& vector) {
    lift(vector.x);
    lift(vector.y);
    lift(vector.z);
  };
  for (Vector3& row : matrix_) lift_all(row);
  lift_all(shift_);
  lift(factor_);
}

Vector3 CellMap::linear(const Vector3& v) const {
  std::array<Number, 3> result;
  for (std::size_t i = 0; i < 3; ++i) {
    if (!permutes_) {
      result[i] = dot(matrix_[i], v);
      continue;
    }
    const auto [axis, negative] = taken_from_[i];
    result[i] = negative ? -coordinate(v, axis) : coordinate(v, axis);
  }
  return {std::move(result[0]), std::move(result[1]), std::move(result[2])};
}

CornerPointer CellMap::image(const CornerPointer& corner) {
  auto [place, fresh] = corners_.try_emplace(corner.get());
  if (fresh) {
    Vector3 point = linear(corner->point);
    if (scales_) point = factor_ * point;
    place->second = {corner, std::make_shared<const Corner>(point + shift_)};
  }
  return place->second.second;
}

PlanePointer CellMap::image(const PlanePointer& plane) {
  auto [place, fresh] = planes_.try_emplace(plane.get());
  if (fresh) {
    const Vector3 normal = linear(plane->plane.normal);
    const Number offset = scales_ ? factor_ * plane->plane.offset : plane->plane.offset;
    const Number moved = offset + dot(normal, shift_);
    place->second = {plane, std::make_shared<const FacePlane>(reduced({normal, moved}))};
  }
  return place->second.second;
}

CellPointer CellMap::operator()(const CellPointer& part) {
  const Field& field = part->corners().front()->point.x.field();
  if (&field != &shift_.x.field()) adopt(field);
  std::vector<CornerPointer> corners;
  corners.reserve(part->corners().size());
  for (const CornerPointer& corner : part->corners()) corners.push_back(image(corner));
  std::vector<CellFace> faces = part->faces();
  for (CellFace& face : faces) face.plane = image(face.plane);
  std::vector<int> cycles = part->cycles();
  if (!motion_.is_proper())
    for (const CellFace& face : faces) std::reverse(cycles.begin() + face.begin, cycles.begin() + face.end);
  return std::make_shared<const ConvexPart>(std::move(corners), std::move(faces), std::move(cycles));
}

CellList CellMap::operator()(const CellList& parts) {
  CellList result;
  result.reserve(parts.size());
  for (const CellPointer& part : parts) result.push_back((*this)(part));
  return result;
}

}  // namespace cutproof
