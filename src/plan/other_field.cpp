// SPDX-License-Identifier: GPL-3.0-or-later
#include "plan/other_field.hpp"

#include "number/print.hpp"
#include "plan/evaluate.hpp"
#include "plan/no_names.hpp"
#include "plan/rational_polynomial.hpp"

#include <array>
#include <map>
#include <string>

namespace cutproof {

namespace {

class Carrier {
 public:
  Carrier(FieldTower& from, FieldTower& to) : from_(from), to_(to) {}

  Number carried(const Number& number) {
    if (number.is_rational()) return to_.lifted(to_rational_field(number));
    std::string text = to_exact(number);
    const auto known = known_.find(text);
    if (known != known_.end()) return to_.lifted(known->second);
    NoNames nothing;
    const ExpressionPointer written = parse_expression(text);
    if (evaluate_number(*written, nothing, from_) != from_.lifted(number))
      throw ToolFault("a number is not what it is written as: " + text);
    return known_.emplace(std::move(text), evaluate_number(*written, nothing, to_)).first->second;
  }
  Vector3 carried(const Vector3& point) { return {carried(point.x), carried(point.y), carried(point.z)}; }
  Motion carried(const Motion& motion) {
    const std::array<Vector3, 3>& rows = motion.rows();
    return {{carried(rows[0]), carried(rows[1]), carried(rows[2])}, carried(motion.shift())};
  }
  SolidPointer carried(const SolidPointer& solid) {
    const auto known = solids_.find(solid.get());
    if (known != solids_.end()) return known->second;
    SolidPointer result = std::visit([this](const auto& kind) { return make_solid(carried(kind)); }, solid->kind);
    solids_.emplace(solid.get(), result);
    return result;
  }
  HullDescription carried(HullDescription hull) {
    for (Vector3& point : hull.points) point = carried(point);
    return hull;
  }
  SurfaceDescription carried(SurfaceDescription surface) {
    for (Vector3& corner : surface.boundary.vertices) corner = carried(corner);
    for (Facet& facet : surface.boundary.facets) {
      facet.plane.normal = carried(facet.plane.normal);
      facet.plane.offset = carried(facet.plane.offset);
    }
    return surface;
  }
  BooleanDescription carried(BooleanDescription combination) {
    for (SolidPointer& operand : combination.operands) operand = carried(operand);
    return combination;
  }
  PlacedDescription carried(const PlacedDescription& placed) {
    return {carried(placed.solid), carried(placed.motion), carried(placed.factor), carried(placed.about)};
  }

 private:
  FieldTower &from_, &to_;
  std::map<std::string, Number> known_;
  std::map<const SolidDescription*, SolidPointer> solids_;
};

}  // namespace

Number in_other_field(const Number& number, FieldTower& from, FieldTower& to) {
  return Carrier(from, to).carried(number);
}

SolidPointer in_other_field(const SolidPointer& solid, FieldTower& from, FieldTower& to) {
  return Carrier(from, to).carried(solid);
}

}  // namespace cutproof
