// SPDX-License-Identifier: GPL-3.0-or-later
// What planes and motions are made from.
#include "plan/resolver.hpp"
#include "plan/words.hpp"
#include "solid/figures.hpp"

#include <algorithm>

namespace cutproof {

std::array<Vector3, 3> Resolver::three_points(const Node& node, const std::string& what) {
  index_.sequence(node, what, "write three points: `[P, Q, R]`");
  if (index_.is_flat()) {
    if (node.entries.size() != 2)
      index_.fail(node, what + " has two points; this list has " + std::to_string(node.entries.size()));
    const Vector3 p = vector(node.entries[0].value), q = vector(node.entries[1].value);
    if (p == q) fault(node, "the two points of " + what + " are equal");
    return {p, q, p + Vector3{0, 0, 1}};
  }
  if (node.entries.size() != 3)
    index_.fail(node, what + " has three points; this list has " + std::to_string(node.entries.size()),
                "put quotes round a point that holds a comma, such as \"N + [0, 0, 1]\"");
  return {vector(node.entries[0].value), vector(node.entries[1].value), vector(node.entries[2].value)};
}

// --- planes ---------------------------------------------------------------------------------------------------------------

Plane Resolver::plane_from(const Node& node) {
  if (node.is_scalar()) return plane(node);
  const std::string what = "a plane";
  index_.mapping(node, what, "as in `{ through: [P, Q, R] }` or `{ equation: \"x + 2*y = 1\" }`");
  index_.allow_keys(node, what, {"through", "point", "normal", "equation", "between", "parallel"});
  const auto only = [&](const std::vector<std::string>& keys) {
    for (const Node::Entry& entry : node.entries)
      if (std::find(keys.begin(), keys.end(), entry.key) == keys.end())
        index_.fail_key(entry, "this plane is given in two ways", "leave `" + entry.key + "` out");
  };
  return placed(node, [&]() -> Plane {
    if (const Node* equation = node.find("equation")) {
      only({"equation"});
      if (!equation->is_scalar()) index_.fail(*equation, "the equation of a plane is a text", "as in `\"x + 2*y = 1\"`");
      return in_text(*equation, equation->frame,
                     [&] { return reduced(evaluate_equation(index_.parsed_equation(equation->text), *this, tower_)); });
    }
    if (const Node* base = node.find("parallel")) {
      only({"parallel", "through"});
      const Plane parallel = plane(*base);
      const Vector3 through = vector(index_.required(node, "through", "a parallel plane"));
      return {parallel.normal, dot(parallel.normal, through)};
    }
    if (const Node* through = node.find("through")) {
      only({"through"});
      const std::array<Vector3, 3> p = three_points(*through, "`through`");
      if (index_.is_flat()) return line_through(p[0], p[1]);
      return placed(*through, [&] { return reduced(plane_through(p[0], p[1], p[2])); });
    }
    if (const Node* between = node.find("between")) {
      only({"between"});
      const std::vector<Vector3> p = points(*between, "`between`");
      if (p.size() != 2) index_.fail(*between, "`between` has two points; this list has " + std::to_string(p.size()));
      if (p[0] == p[1]) fault(*between, "the two points of `between` are equal: no plane lies between them");
      const Vector3 normal = p[1] - p[0];
      return reduced({normal, Number::fraction(1, 2) * (dot(p[1], p[1]) - dot(p[0], p[0]))});
    }
    only({"point", "normal"});
    index_.require(node, {"point", "normal"}, what);
    const Vector3 point = vector(index_.required(node, "point", what));
    const Node& normal_node = index_.required(node, "normal", what);
    const Vector3 normal = vector(normal_node);
    if (is_zero(normal)) fault(normal_node, "the normal of this plane is zero", "a normal has a direction");
    return reduced({normal, dot(normal, point)});
  });
}

// --- motions --------------------------------------------------------------------------------------------------------------

std::pair<Vector3, Vector3> Resolver::axis(const Node& node) {
  if (index_.is_flat()) {
    const bool of_space = node.is_scalar() ? node.text == "x" || node.text == "y" || node.text == "z"
                                           : !node.entries.empty() && !node.entries.front().value.is_scalar();
    if (of_space)
      index_.fail(node, "in a plan of dimension 2 a turn is about a point, and this is an axis",
                  "as in `about: P`, or `half-turn: [1, 2]`");
    return {vector(node), {0, 0, 1}};
  }
  const std::string hint = "`x`, `y`, `z`, or two points: `[P, Q]`";
  if (node.is_scalar()) {
    if (node.text == "x" || node.text == "y" || node.text == "z")
      return {{}, {Number(node.text == "x"), Number(node.text == "y"), Number(node.text == "z")}};
    index_.fail(node, "there is no axis " + quoted_text(node.text), hint);
  }
  if (!node.is_sequence() || node.entries.size() != 2) index_.fail(node, "an axis is wanted here", hint);
  const Vector3 p = vector(node.entries[0].value), q = vector(node.entries[1].value);
  if (p == q) fault(node, "the two points of this axis are equal");
  return {p, q - p};
}

Motion Resolver::aligned(const std::array<Vector3, 3>& from, const std::array<Vector3, 3>& to) {
  // Of figures that are congruent both products are squares in the field as it stands.
  const auto product_of_lengths = [this](const Vector3& u, const Vector3& v) {
    return tower_.square_root(tower_.lifted(dot(u, u) * dot(v, v)));
  };
  const Number lengths = product_of_lengths(from[1] - from[0], to[1] - to[0]);
  const Number areas = product_of_lengths(cross(from[1] - from[0], from[2] - from[0]), cross(to[1] - to[0], to[2] - to[0]));
  return Motion::align(from, to, tower_.lifted(lengths), areas);
}

Motion Resolver::motion_from(const Node& node) {
  if (node.is_scalar()) return motion(node);
  if (node.is_sequence()) {
    index_.sequence(node, "a motion", "a list of motions is run left to right");
    Motion all;
    for (const Node::Entry& entry : node.entries) all = all.then(motion(entry.value));
    return all;
  }
  index_.mapping(node, "a motion", "as in `{ translation: [1, 0, 0] }`");
  index_.allow_keys(node, "a motion", motion_kinds());
  for (const Node::Entry& entry : node.entries)
    if (is_searching(entry.key))
      index_.fail_key(entry, "a motion that is found (`" + entry.key + "`) stands in a `move` step, alone or in a list",
                      "what it finds depends on the bench when the step begins; write it there");
  if (node.entries.size() != 1)
    index_.fail_key(node.entries[1], "a motion is of one kind",
                    "write a list to run several motions: `[ { ... }, { ... } ]`");
  const Node::Entry& entry = node.entries.front();
  const Node& value = entry.value;
  return placed(value, [&]() -> Motion {
    if (entry.key == "translation") return Motion::translation(vector(value));
    if (entry.key == "reflection") return Motion::reflection(plane(value));
    if (entry.key == "inverse") return motion(value).inverse();
    if (entry.key == "half-turn") {
      const auto [point, direction] = axis(value);
      return Motion::rotation(point, direction, Number(-1), Number(0));
    }
    if (entry.key == "rotation") {
      index_.mapping(value, "a rotation", "as in `{ about: z, angle: 90 deg }`");
      index_.allow_keys(value, "a rotation", {"about", "angle"});
      index_.require(value, {"about", "angle"}, "a rotation");
      const auto [point, direction] = axis(index_.required(value, "about", "a rotation"));
      const Node& angle_node = index_.required(value, "angle", "a rotation");
      const Angle turn = angle(angle_node);
      return placed(angle_node, [&, &p = point, &d = direction] {
        const Number sine = tower_.sine_over_length(turn, dot(d, d));
        const Number cosine = tower_.cosine(turn);
        return Motion::rotation(p, d, cosine, tower_.lifted(sine));
      });
    }
    const std::string what = entry.key == "map" ? "a map" : "`align`";
    index_.mapping(value, what, "as in `{ from: [P, Q, R], to: [S, T, U] }`");
    index_.allow_keys(value, what, {"from", "to"});
    index_.require(value, {"from", "to"}, what);
    const std::array<Vector3, 3> from = three_points(index_.required(value, "from", what), "`from`");
    const std::array<Vector3, 3> to = three_points(index_.required(value, "to", what), "`to`");
    if (entry.key != "map") return aligned(from, to);
    const Vector3 way = from[1] - from[0], image = to[1] - to[0];
    if (index_.is_flat() && dot(way, way) != dot(image, image))
      index_.fail(value, "this map is no motion: the distance of the points of `from` is not that of the points of `to`",
                  "`align` asks for no distances");
    return Motion::map(from, to);
  });
}

}  // namespace cutproof
