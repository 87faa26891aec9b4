// SPDX-License-Identifier: GPL-3.0-or-later
// Values, planes and motions. Solids are in resolver_solids.cpp.
#include "plan/resolver.hpp"

#include "number/print.hpp"

#include <algorithm>

namespace cutproof {

template <class Value, class Compute>
Value Resolver::named(NameSpace space, const std::string& name, Memory<Value>& memory, Compute compute) {
  const std::pair<NameSpace, std::string> key{space, name};
  used_.insert(key);
  const auto known = memory.values.find(name);
  if (known != memory.values.end()) return known->second;
  if (memory.failed.count(name) != 0) throw Recorded{};
  const Node::Entry& entry = *index_.names(space).at(name);
  const auto open = std::find(open_.begin(), open_.end(), key);
  if (open != open_.end()) {
    std::string chain;
    for (auto it = open; it != open_.end(); ++it) chain += "`" + it->second + "` -> ";
    memory.failed.insert(name);
    index_.fail_key(entry, "`" + name + "` is defined by itself: " + chain + "`" + name + "`", "define one of these names without the others");
  }
  if (open_.size() > 200) {
    if (!limit_)
      limit_.emplace("nesting", index_.document().diagnostic(entry.key_begin, entry.key_end,
                                                            "the definition of `" + name + "` goes through more than 200 other names"));
    throw Recorded{};
  }
  open_.push_back(key);
  try {
    Value value = compute(entry.value);
    open_.pop_back();
    memory.values.emplace(name, value);
    return value;
  } catch (...) {
    open_.pop_back();
    memory.failed.insert(name);
    throw;
  }
}

std::optional<ExactValue> Resolver::value_of(const std::string& name) {
  if (index_.names(NameSpace::value).count(name) == 0) return std::nullopt;
  return named(NameSpace::value, name, values_, [this](const Node& node) { return any_value(node); });
}

std::optional<Plane> Resolver::plane_of(const std::string& name) {
  if (index_.names(NameSpace::plane).count(name) == 0) return std::nullopt;
  return named(NameSpace::plane, name, planes_, [this](const Node& node) { return plane_from(node); });
}

void Resolver::evaluate_name(NameSpace space, const std::string& name) {
  switch (space) {
    case NameSpace::value: value_of(name); break;
    case NameSpace::plane: plane_of(name); break;
    case NameSpace::motion:
      named(NameSpace::motion, name, motions_, [this](const Node& node) { return motion_from(node); });
      break;
    case NameSpace::solid:
      named(NameSpace::solid, name, solids_, [this](const Node& node) { return solid_from(node); });
      break;
  }
}

// --- expressions ----------------------------------------------------------------------------------------------------------

template <class Work>
auto Resolver::expression(const Node& node, Work work) {
  return placed(node, [&] {
    try {
      return work(*parse_expression(node.text));
    } catch (const ExpressionError& error) {
      Document& document = index_.document();
      const std::size_t begin = document.origin(node, error.offset());
      const std::size_t end = error.length() == 0 ? begin : document.origin(node, error.offset() + error.length() - 1) + 1;
      index_.report(begin, std::max(begin, end), error.what(), error.hint());
      throw Recorded{};
    }
  });
}

Number Resolver::number(const Node& node) {
  if (!node.is_scalar())
    index_.fail(node, "a number is wanted here", node.is_sequence() ? "a list of three numbers is a point; write one expression" : "");
  return expression(node, [this](const Expression& e) { return evaluate_number(e, *this, tower_); });
}

Angle Resolver::angle(const Node& node) {
  if (!node.is_scalar()) index_.fail(node, "an angle is wanted here", "as in `90 deg`, `pi/2` or `acos(1/3)`");
  return expression(node, [this](const Expression& e) { return evaluate_angle(e, *this, tower_); });
}

Vector3 Resolver::vector(const Node& node) {
  if (node.is_scalar()) return expression(node, [this](const Expression& e) { return evaluate_vector(e, *this, tower_); });
  if (!node.is_sequence()) index_.fail(node, "a point or vector is wanted here", "write `[x, y, z]`");
  if (node.entries.size() != 3)
    index_.fail(node, "a point or vector has three coordinates; this list has " + std::to_string(node.entries.size()),
                "put quotes round a coordinate that holds a comma, such as \"max(a, b)\"");
  return {number(node.entries[0].value), number(node.entries[1].value), number(node.entries[2].value)};
}

ExactValue Resolver::any_value(const Node& node) {
  if (!node.is_scalar()) return vector(node);
  return expression(node, [this](const Expression& e) { return evaluate(e, *this, tower_); });
}

void Resolver::unknown_name(const Node& node, NameSpace space, const std::string& what, const std::string& section) {
  const std::string near = index_.nearest(space, node.text);
  index_.fail(node, "there is no " + what + " " + quoted_text(node.text),
              near.empty() ? "define it in `" + section + "`" : "did you mean `" + near + "`?");
}

std::array<Vector3, 3> Resolver::three_points(const Node& node, const std::string& what) {
  index_.sequence(node, what, "write three points: `[P, Q, R]`");
  if (node.entries.size() != 3)
    index_.fail(node, what + " has three points; this list has " + std::to_string(node.entries.size()),
                "put quotes round a point that holds a comma, such as \"N + [0, 0, 1]\"");
  return {vector(node.entries[0].value), vector(node.entries[1].value), vector(node.entries[2].value)};
}

// --- planes ---------------------------------------------------------------------------------------------------------------

Plane Resolver::plane(const Node& node) {
  if (!node.is_scalar()) return plane_from(node);
  if (std::optional<Plane> plane = plane_of(node.text)) return *std::move(plane);
  unknown_name(node, NameSpace::plane, "plane", "planes");
}

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
      try {
        return reduced(evaluate_equation(equation->text, *this, tower_));
      } catch (const ExpressionError& error) {
        const std::size_t begin = index_.document().origin(*equation, error.offset());
        index_.report(begin, begin + error.length(), error.what(), error.hint());
        throw Recorded{};
      }
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
      return placed(*through, [&] { return reduced(plane_through(p[0], p[1], p[2])); });
    }
    if (const Node* between = node.find("between")) {
      only({"between"});
      const std::vector<Vector3> p = points(*between, "`between`");
      if (p.size() != 2) index_.fail(*between, "`between` has two points; this list has " + std::to_string(p.size()));
      if (p[0] == p[1]) index_.fail(*between, "the two points of `between` are equal: no plane lies between them");
      const Vector3 normal = p[1] - p[0];
      return reduced({normal, Number::fraction(1, 2) * (dot(p[1], p[1]) - dot(p[0], p[0]))});
    }
    only({"point", "normal"});
    const Vector3 point = vector(index_.required(node, "point", what));
    const Node& normal_node = index_.required(node, "normal", what);
    const Vector3 normal = vector(normal_node);
    if (is_zero(normal)) index_.fail(normal_node, "the normal of this plane is zero", "a normal has a direction");
    return reduced({normal, dot(normal, point)});
  });
}

// --- solids by name: what they are made from is in resolver_solids.cpp ---------------------------------------------------

SolidPointer Resolver::solid(const Node& node) {
  if (!node.is_scalar()) return solid_from(node);
  if (index_.names(NameSpace::solid).count(node.text) != 0)
    return named(NameSpace::solid, node.text, solids_, [this](const Node& value) { return solid_from(value); });
  unknown_name(node, NameSpace::solid, "solid", "solids");
}

// --- motions --------------------------------------------------------------------------------------------------------------

Motion Resolver::motion(const Node& node) {
  if (!node.is_scalar()) return motion_from(node);
  if (index_.names(NameSpace::motion).count(node.text) != 0)
    return named(NameSpace::motion, node.text, motions_, [this](const Node& value) { return motion_from(value); });
  unknown_name(node, NameSpace::motion, "motion", "motions");
}

std::pair<Vector3, Vector3> Resolver::axis(const Node& node) {
  const std::string hint = "`x`, `y`, `z`, or two points: `[P, Q]`";
  if (node.is_scalar()) {
    if (node.text == "x" || node.text == "y" || node.text == "z")
      return {{}, {Number(node.text == "x"), Number(node.text == "y"), Number(node.text == "z")}};
    index_.fail(node, "there is no axis " + quoted_text(node.text), hint);
  }
  if (!node.is_sequence() || node.entries.size() != 2) index_.fail(node, "an axis is wanted here", hint);
  const Vector3 p = vector(node.entries[0].value), q = vector(node.entries[1].value);
  if (p == q) index_.fail(node, "the two points of this axis are equal");
  return {p, q - p};
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
  index_.allow_keys(node, "a motion", {"translation", "rotation", "half-turn", "map", "reflection", "inverse"});
  if (node.entries.size() != 1)
    index_.fail_key(node.entries[1], "a motion is of one kind", "write a list to run several motions: `[ { ... }, { ... } ]`");
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
      const auto [point, direction] = axis(index_.required(value, "about", "a rotation"));
      const Node& angle_node = index_.required(value, "angle", "a rotation");
      const Angle turn = angle(angle_node);
      return placed(angle_node, [&, &p = point, &d = direction] {
        const Number sine = tower_.sine_over_length(turn, dot(d, d));
        const Number cosine = tower_.cosine(turn);
        return Motion::rotation(p, d, cosine, tower_.lifted(sine));
      });
    }
    index_.mapping(value, "a map", "as in `{ from: [P, Q, R], to: [S, T, U] }`");
    index_.allow_keys(value, "a map", {"from", "to"});
    const std::array<Vector3, 3> from = three_points(index_.required(value, "from", "a map"), "`from`");
    const std::array<Vector3, 3> to = three_points(index_.required(value, "to", "a map"), "`to`");
    return Motion::map(from, to);
  });
}

}  // namespace cutproof
