// SPDX-License-Identifier: GPL-3.0-or-later
// Figures of plans of dimension 2 as the plan writes them. What other kinds share with space is in resolver_solids.cpp.
#include "plan/resolver.hpp"

#include "number/flint.hpp"
#include "number/print.hpp"
#include "solid/figures.hpp"

namespace cutproof {

SolidPointer Resolver::figure_from(const std::string& kind, const Node& value) {
  if (kind == "box") return rectangle(value);
  if (kind == "polygon") return polygon(value);
  if (kind == "convex-hull") return hull(value);
  if (kind == "regular") return regular_polygon(value);
  return nullptr;
}

SolidPointer Resolver::rectangle(const Node& node) {
  const std::string example = "as in `{ size: [1, 2], at: [0, 0] }`";
  index_.mapping(node, "a box", example);
  index_.allow_keys(node, "a box", {"size", "at"});
  const Node& size_node = index_.required(node, "size", "a box");
  const Vector3 size = vector(size_node);
  const Node* at = node.find("at");
  const Vector3 lowest = at ? vector(*at) : Vector3{};
  return placed(size_node, [&] { return make_rectangle(size, lowest); });
}

SolidPointer Resolver::polygon(const Node& node) {
  if (!node.is_mapping()) {
    const std::vector<Vector3> corners = points(node, "a polygon");
    return placed(node, [&] { return make_polygon(corners, {}); });
  }
  index_.mapping(node, "a polygon", "write its corners: `[[0, 0], [2, 0], [1, 1]]`");
  index_.allow_keys(node, "a polygon", {"outer", "holes"});
  const std::vector<Vector3> outer = points(index_.required(node, "outer", "a polygon with holes"), "a polygon");
  std::vector<std::vector<Vector3>> holes;
  if (const Node* list = node.find("holes")) {
    index_.sequence_of_passes(*list, "`holes`", "write each hole's corners: `holes: [[E, F, G]]`");
    for (const Node::Entry& entry : list->entries) holes.push_back(points(entry.value, "a hole"));
  }
  return placed(node, [&] { return make_polygon(outer, holes); });
}

SolidPointer Resolver::regular_polygon(const Node& node) {
  const std::string what = "a regular polygon";
  index_.mapping(node, what, "as in `{ sides: 6, edge: 1 }`");
  index_.allow_keys(node, what, {"sides", "edge", "at"});
  index_.require(node, {"sides", "edge"}, what);
  const Node& side_node = index_.required(node, "sides", what);
  const Number sides = number(side_node);
  if (!sides.is_integer() || sides < Number(3))
    index_.fail(side_node, what + " has three sides or more, and this is " + to_exact(sides));
  Rational count;
  sides.get_rational(count);
  constexpr long most = 1000000;  // the degree limit of a field is reached long before
  if (!fmpz_fits_si(count.numerator()) || fmpz_get_si(count.numerator()) > most)
    index_.fail(side_node, what + " cannot have so many sides");
  const Node& edge_node = index_.required(node, "edge", what);
  const Number edge = number(edge_node);
  const Node* at = node.find("at");
  const Vector3 centre = at ? vector(*at) : Vector3{};
  return placed(edge_node, [&] { return make_regular_polygon(fmpz_get_si(count.numerator()), edge, centre, tower_); });
}

}  // namespace cutproof
