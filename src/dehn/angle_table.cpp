// SPDX-License-Identifier: GPL-3.0-or-later
// Equality is exact: hashes only choose whom to compare with.
#include "dehn/angle_table.hpp"

namespace cutproof {

namespace {

constexpr ulong hash_prime_above = (1UL << 61) + (1UL << 60);

/// Equal and opposite vectors have equal hashes.
std::size_t hash_of(const Vector3& v) {
  return v.x.hash() * 0x9E3779B97F4A7C15u + v.y.hash() * 0xC2B2AE3D27D4EB4Fu + v.z.hash() * 0x165667B19E3779F9u;
}

bool first_nonzero_is_negative(const Vector3& v) {
  for (const Number* each : {&v.x, &v.y, &v.z})
    if (const int sign = each->sign()) return sign < 0;
  throw ToolFault("a face without a normal");
}

}  // namespace

AngleTable::AngleTable(const Field& field) : field_(field), place_(PlaceSequence(field, hash_prime_above, 2)[0]) {}

int AngleTable::index_of(const Vector3& normal) const {
  const auto [begin, end] = normals_by_hash_.equal_range(hash_of(normal));
  for (auto each = begin; each != end; ++each) {
    const Vector3& known = normals_[each->second].vector;
    if (known == normal || are_opposite(known, normal)) return each->second;
  }
  return -1;
}

int AngleTable::normal(const Vector3& given) {
  const auto lies_here = [&](const Number& x) { return &x.field() == &field_; };
  const auto lifted = [&](const Number& x) { return lies_here(x) ? x : x.lifted_to(field_); };
  if (!lies_here(given.x) || !lies_here(given.y) || !lies_here(given.z))
    return normal({lifted(given.x), lifted(given.y), lifted(given.z)});
  const int known = index_of(given);
  if (known >= 0) return known;
  const int index = static_cast<int>(normals_.size());
  Vector3 vector = first_nonzero_is_negative(given) ? -given : given;
  normals_by_hash_.emplace(hash_of(vector), index);
  Number squared_length = dot(vector, vector);
  normals_.push_back({std::move(vector), std::move(squared_length)});
  return index;
}

const AngleTable::Contribution& AngleTable::contribution(int first_normal, int second_normal, int axis) {
  const PairKey key =
      (static_cast<PairKey>(first_normal) << 33) | (static_cast<PairKey>(second_normal) << 2) | static_cast<PairKey>(axis);
  const auto known = contributions_.find(key);
  if (known != contributions_.end()) return known->second;
  return contributions_.emplace(key, computed_contribution(first_normal, second_normal, axis)).first->second;
}

AngleTable::Contribution AngleTable::computed_contribution(int first_normal, int second_normal, int axis) {
  const Normal &first = normals_[first_normal], &second = normals_[second_normal];
  const Number cosine = dot(first.vector, second.vector);
  if (cosine.is_zero()) return {-1, Number(0L, field_)};
  const Number cosine_squared = square(cosine);
  const Number sine_squared = sum_of_products({{&first.squared_length, &second.squared_length}, {&cosine, &cosine, true}});
  if (sine_squared.is_zero()) return {-1, Number(0L, field_)};
  const Number along = cross_component(first.vector, second.vector, axis);
  if (along.is_zero()) throw ToolFault("an edge is not parallel to the faces that meet there");
  return {angle_of(sine_squared, cosine_squared), -divide(cosine, along)};
}

int AngleTable::angle_of(const Number& sine_squared, const Number& cosine_squared) {
  const auto top = residue(sine_squared, place_), bottom = residue(cosine_squared, place_);
  const std::size_t hash = top && bottom && *bottom != 0 ? multiply_mod(*top, n_invmod(*bottom, place_.q), place_.q) : 0;
  // Where the residue is not defined (one pair in 2^61 or so) the hash must not depend on how T is written; 0 catches all of
  // these, but a T that has a residue could also be written so that it has none.
  const auto [begin, end] = angles_by_hash_.equal_range(hash);
  for (auto each = begin; each != end; ++each) {
    const KnownAngle& known = angles_[each->second];
    if (known.sine * cosine_squared == sine_squared * known.cosine) return each->second;
  }
  const int index = static_cast<int>(angles_.size());
  angles_.push_back({sine_squared, cosine_squared, Number(0L, field_)});
  angles_by_hash_.emplace(hash, index);
  return index;
}

const Number& AngleTable::tangent_squared(int angle) {
  KnownAngle& known = angles_[angle];
  if (!known.divided) {
    known.tangent_squared = divide(known.sine, known.cosine);
    known.divided = true;
  }
  return known.tangent_squared;
}

}  // namespace cutproof
