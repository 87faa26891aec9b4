// SPDX-License-Identifier: GPL-3.0-or-later
// Moving convex parts. Entries of the matrix that are 0, 1 or -1 cost no product, so translations and quarter turns are cheap.
#include "solid/parts_motion.hpp"

#include <algorithm>
#include <optional>

namespace cutproof {

namespace {

bool identical(const Motion& a, const Motion& b) {
  return identical(a.shift(), b.shift()) && identical(a.rows()[0], b.rows()[0]) && identical(a.rows()[1], b.rows()[1]) &&
         identical(a.rows()[2], b.rows()[2]);
}

}  // namespace

PartMap::PartMap(const Motion& motion) : motion_(motion), shift_(motion.shift()) {
  for (int i = 0; i < 3; ++i)
    for (int j = 0; j < 3; ++j) {
      matrix_[i][j] = coordinate(motion.rows()[i], j);
      const Number& entry = matrix_[i][j];
      simple_[i][j] = entry.is_zero() ? 0 : entry == Number(1) ? 1 : entry == Number(-1) ? -1 : 2;
    }
}

PartMap::PartMap(const Motion& motion, const Number& factor, const Vector3& about) : PartMap(motion) {
  factor_ = factor;
  scales_ = factor != Number(1);
  shift_ = motion(about - factor * about);
}

bool PartMap::is(const Motion& motion) const { return !scales_ && identical(motion, motion_); }

void PartMap::adopt(const Field& field) {
  // Constants written in a smaller field are lifted once, not at every product.
  const auto lift = [&field](Number& number) {
    if (&number.field() != &field && field.stands_on(number.field())) number = number.lifted_to(field);
  };
  for (auto& row : matrix_)
    for (Number& entry : row) lift(entry);
  lift(shift_.x);
  lift(shift_.y);
  lift(shift_.z);
  lift(factor_);
}

Vector3 PartMap::linear(const Vector3& v) const {
  std::array<Number, 3> result;
  for (int i = 0; i < 3; ++i) {
    std::optional<Number> sum;
    for (int j = 0; j < 3; ++j) {
      if (simple_[i][j] == 0) continue;
      const Number& component = coordinate(v, j);
      if (!sum) {
        sum = simple_[i][j] == 1 ? component : simple_[i][j] == -1 ? -component : matrix_[i][j] * component;
      } else if (simple_[i][j] == 2) {
        *sum += matrix_[i][j] * component;
      } else if (simple_[i][j] == 1) {
        *sum += component;
      } else {
        *sum -= component;
      }
    }
    result[i] = std::move(*sum);  // no row of an orthogonal matrix is zero
  }
  return {std::move(result[0]), std::move(result[1]), std::move(result[2])};
}

CornerPointer PartMap::image(const CornerPointer& corner) {
  auto [place, fresh] = corners_.try_emplace(corner.get());
  if (fresh) {
    Vector3 point = linear(corner->point);
    if (scales_) point = factor_ * point;
    place->second = {corner, std::make_shared<const Corner>(point + shift_)};
  }
  return place->second.second;
}

PlanePointer PartMap::image(const PlanePointer& plane) {
  auto [place, fresh] = planes_.try_emplace(plane.get());
  if (fresh) {
    const Vector3 normal = linear(plane->plane.normal);
    const Number offset = scales_ ? factor_ * plane->plane.offset : plane->plane.offset;
    const Number moved = exact_value({normal, -offset}, shift_);
    place->second = {plane, std::make_shared<const FacePlane>(reduced({normal, moved}))};
  }
  return place->second.second;
}

PartPointer PartMap::operator()(const PartPointer& part) {
  const Field& field = part->corners().front()->point.x.field();
  if (&field != &shift_.x.field()) adopt(field);
  std::vector<CornerPointer> corners;
  corners.reserve(part->corners().size());
  for (const CornerPointer& corner : part->corners()) corners.push_back(image(corner));
  std::vector<PartFace> faces = part->faces();
  for (PartFace& face : faces) face.plane = image(face.plane);
  std::vector<int> cycles = part->cycles();
  if (!motion_.is_proper())
    for (const PartFace& face : faces) std::reverse(cycles.begin() + face.begin, cycles.begin() + face.end);
  return std::make_shared<const ConvexPart>(std::move(corners), std::move(faces), std::move(cycles));
}

PartList PartMap::operator()(const PartList& parts) {
  PartList result;
  result.reserve(parts.size());
  for (const PartPointer& part : parts) result.push_back((*this)(part));
  return result;
}

}  // namespace cutproof
