// SPDX-License-Identifier: GPL-3.0-or-later
// Values, planes and motions. Solids are in resolver_solids.cpp.
#include "plan/resolver.hpp"

#include <algorithm>

namespace cutproof {

namespace {

constexpr std::size_t deepest_chain = 16;  // names evaluated inside one another before the bottom of the stack takes over

}  // namespace

template <class Value, class Compute>
Value Resolver::named(NameSpace space, const std::string& name, Memory<Value>& memory, Compute compute) {
  const Key key{space, name};
  used_.insert(key);
  if (open_.empty() && !bottom_is_here_) from_the_bottom(key);
  const auto known = memory.values.find(name);
  if (known != memory.values.end()) return known->second;
  if (memory.failed.count(name) != 0) throw Recorded{};
  const auto open = std::find(open_.begin(), open_.end(), key);
  if (open != open_.end()) fail_cycle({open, open_.end()});
  if (open_.size() >= deepest_chain) throw Postponed{key, open_};
  open_.push_back(key);
  try {
    Value value = compute(index_.names(space).at(name)->value);
    open_.pop_back();
    memory.values.emplace(name, value);
    return value;
  } catch (const Postponed&) {
    open_.pop_back();
    throw;
  } catch (...) {
    open_.pop_back();
    memory.failed.insert(name);
    throw;
  }
}

void Resolver::from_the_bottom(const Key& key) {
  struct Running {
    explicit Running(bool& flag) : flag_(flag) { flag_ = true; }
    ~Running() { flag_ = false; }
    bool& flag_;
  } const running(bottom_is_here_);
  std::vector<Key> pending = {key};
  std::vector<std::vector<Key>> between;  // the names open between a pending one and the next
  while (!pending.empty()) {
    try {
      evaluate_name(pending.back().first, pending.back().second);
    } catch (Postponed& postponed) {
      between.push_back(std::move(postponed.open));
      const bool turns_back = std::find(pending.begin(), pending.end(), postponed.key) != pending.end();
      pending.push_back(postponed.key);
      if (!turns_back) continue;
      std::vector<Key> chain;
      for (const std::vector<Key>& open : between) chain.insert(chain.end(), open.begin(), open.end());
      chain.erase(chain.begin(), std::find(chain.begin(), chain.end(), postponed.key));
      fail_cycle(chain);
    } catch (const Recorded&) {
    }
    pending.pop_back();
    if (!between.empty()) between.pop_back();
  }
}

void Resolver::mark_failed(const Key& key) {
  switch (key.first) {
    case NameSpace::value:
      values_.failed.insert(key.second);
      break;
    case NameSpace::plane:
      planes_.failed.insert(key.second);
      break;
    case NameSpace::motion:
      motions_.failed.insert(key.second);
      break;
    case NameSpace::solid:
      solids_.failed.insert(key.second);
      break;
  }
}

void Resolver::fail_cycle(std::vector<Key> chain) {
  const auto entry_of = [this](const Key& key) { return index_.names(key.first).at(key.second); };
  for (const Key& key : chain) mark_failed(key);
  // Begun with the name that stands first in the text, so that a cycle is told in one way wherever it was met.
  std::rotate(chain.begin(),
              std::min_element(chain.begin(), chain.end(),
                               [&](const Key& a, const Key& b) { return entry_of(a)->key_begin < entry_of(b)->key_begin; }),
              chain.end());
  std::string path;
  for (std::size_t i = 0; i < chain.size() && i < 8; ++i) path += "`" + chain[i].second + "` -> ";
  if (chain.size() > 8) path += "... -> ";
  const std::string& name = chain.front().second;
  index_.fail_key(*entry_of(chain.front()), "`" + name + "` is defined by itself: " + path + "`" + name + "`",
                  "define one of these names without the others");
}

bool Resolver::is_known(NameSpace space, const std::string& name) const {
  if (index_.names(space).count(name) != 0) return true;
  if (index_.is_lost(space, name) && index_.nearest(space, name).empty()) throw Recorded{};
  return false;
}

std::optional<ExactValue> Resolver::value_of(const std::string& name) {
  if (!is_known(NameSpace::value, name)) return std::nullopt;
  return named(NameSpace::value, name, values_,
               [&](const Node& node) { return index_.is_point(name) ? ExactValue(vector(node)) : any_value(node); });
}

std::optional<Plane> Resolver::plane_of(const std::string& name) {
  if (!is_known(NameSpace::plane, name)) return std::nullopt;
  return named(NameSpace::plane, name, planes_, [this](const Node& node) { return plane_from(node); });
}

void Resolver::evaluate_name(NameSpace space, const std::string& name) {
  switch (space) {
    case NameSpace::value:
      value_of(name);
      break;
    case NameSpace::plane:
      plane_of(name);
      break;
    case NameSpace::motion:
      named(NameSpace::motion, name, motions_, [this](const Node& node) { return motion_from(node); });
      break;
    case NameSpace::solid:
      named(NameSpace::solid, name, solids_, [this](const Node& node) { return solid_from(node); });
      break;
  }
}

// --- expressions ----------------------------------------------------------------------------------------------------------

template <class Value>
Value Resolver::expression(const Node& node, Value (*evaluate_it)(const Expression&, Scope&, FieldTower&),
                           std::map<std::string, Value>& known) {
  const auto found = known.find(node.text);
  if (found != known.end()) return found->second;
  return placed(node, [&] {
    try {
      return known.emplace(node.text, evaluate_it(index_.parsed(node.text), *this, tower_)).first->second;
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
    index_.fail(node, "a number is wanted here",
                node.is_sequence() ? "a list of three numbers is a point; write one expression" : "");
  return expression(node, &evaluate_number, numbers_by_text_);
}

Angle Resolver::angle(const Node& node) {
  if (!node.is_scalar()) index_.fail(node, "an angle is wanted here", "as in `90 deg`, `pi/2` or `acos(1/3)`");
  return expression(node, &evaluate_angle, angles_by_text_);
}

Vector3 Resolver::vector(const Node& node) {
  if (node.is_scalar()) return expression(node, &evaluate_vector, vectors_by_text_);
  if (!node.is_sequence()) index_.fail(node, "a point or vector is wanted here", "write `[x, y, z]`");
  if (node.entries.size() != 3)
    index_.fail(node, "a point or vector has three coordinates; this list has " + std::to_string(node.entries.size()),
                "put quotes round a coordinate that holds a comma, such as \"max(a, b)\"");
  Number coordinates[3];
  bool good = true;
  for (int i = 0; i < 3; ++i) {
    try {
      coordinates[i] = number(node.entries[static_cast<std::size_t>(i)].value);
    } catch (const Recorded&) {
      good = false;  // the other two are looked at all the same
    }
  }
  if (!good) throw Recorded{};
  return {tower_.lifted(coordinates[0]), tower_.lifted(coordinates[1]), tower_.lifted(coordinates[2])};
}

ExactValue Resolver::any_value(const Node& node) {
  if (!node.is_scalar()) return vector(node);
  return expression(node, &evaluate, values_by_text_);
}

void Resolver::unknown_name(const Node& node, NameSpace space, const std::string& what, const std::string& section) {
  is_known(space, node.text);
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
  Plane result;
  if (!node.is_scalar()) {
    result = plane_from(node);
  } else if (const std::optional<Plane> known = plane_of(node.text)) {
    result = *known;
  } else {
    unknown_name(node, NameSpace::plane, "plane", "planes");
  }
  // Numbers of one field are what every later computation is fastest with.
  for (Number* number : {&result.normal.x, &result.normal.y, &result.normal.z, &result.offset})
    *number = tower_.lifted(*number);
  return result;
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
