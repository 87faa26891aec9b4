// SPDX-License-Identifier: GPL-3.0-or-later
// Which names a text uses depends on where it stands: a solid's text names solids, and numbers and points in its arguments.
// Names of corners are taken for points here, which does no harm: no point is made of solids.
#include "plan/definition_cycles.hpp"

#include "plan/fold.hpp"

#include <algorithm>
#include <map>

namespace cutproof {

namespace {

using Name = std::pair<NameSpace, std::string>;

class References {
 public:
  References(PlanIndex& index, std::vector<Name>& found) : index_(index), found_(found) {}

  void in_node(const Node& node, NameSpace space) {
    if (node.is_scalar()) return in_text(node.text, space);
    for (const Node::Entry& entry : node.entries) {
      const std::string& key = entry.key;
      if (key == "for" || key == "when" || key == "name") continue;
      if (key == "equation" && entry.value.is_scalar()) {
        quietly([&] {
          const Equation& equation = index_.parsed_equation(entry.value.text);
          in_expression(*equation.left);
          in_expression(*equation.right);
        });
        continue;
      }
      in_node(entry.value, space_below(key, node.is_mapping(), space));
    }
  }

 private:
  static NameSpace space_below(const std::string& key, bool has_keys, NameSpace around) {
    if (!has_keys || key == "each") return around;
    for (const char* plane : {"parallel", "reflection", "in", "half-spaces"})
      if (key == plane) return NameSpace::plane;
    for (const char* motion : {"inverse", "by"})
      if (key == motion) return NameSpace::motion;
    for (const char* solid : {"solid", "union", "intersection", "difference"})
      if (key == solid) return NameSpace::solid;
    const bool wraps = key == "moved" || key == "scaled" || key == "mirrored";
    return wraps ? around : NameSpace::value;
  }

  void in_text(const std::string& text, NameSpace space) {
    quietly([&] {
      if (space == NameSpace::value) return in_expression(index_.parsed(text));
      const Reference& reference = index_.parsed_reference(text);
      add(space, reference.name);
      for (const ExpressionPointer& argument : reference.arguments) in_expression(*argument);
    });
  }

  void in_expression(const Expression& expression) {
    using Kind = Expression::Kind;
    std::set<const Expression*> planes;
    look_through(
        expression,
        [&](const Expression& at) {
          const bool is_plane = planes.count(&at) != 0;
          if (is_plane || at.kind == Kind::name || at.kind == Kind::call)
            add(is_plane ? NameSpace::plane : NameSpace::value, at.text);
        },
        [&](const Expression& at, std::size_t i) {
          if (planes.count(&at) == 0 && is_plane_operand(at, i)) planes.insert(at.operands[i].get());
          return true;
        });
  }

  void add(NameSpace space, const std::string& name) {
    if (index_.names(space).count(name) != 0) found_.emplace_back(space, name);
  }

  /// What cannot be read is told where it is used.
  template <class Work>
  static void quietly(Work work) {
    try {
      work();
    } catch (const ExpressionError&) {
    } catch (const LimitReached&) {
    }
  }

  PlanIndex& index_;
  std::vector<Name>& found_;
};

}  // namespace

void report_cycle(PlanIndex& index, std::vector<std::pair<std::string, const Definition*>> circle) {
  // Begun with the name that stands first in the text, so that a circle is told in one way wherever it was met.
  std::rotate(circle.begin(),
              std::min_element(circle.begin(), circle.end(),
                               [](const auto& a, const auto& b) { return a.second->key_begin < b.second->key_begin; }),
              circle.end());
  std::string path;
  for (std::size_t i = 0; i < circle.size() && i < 8; ++i) path += "`" + circle[i].first + "` -> ";
  if (circle.size() > 8) path += "... -> ";
  const auto& [name, first] = circle.front();
  index.report(first->key_begin, first->key_end, "`" + name + "` is defined by itself: " + path + "`" + name + "`",
               first->arguments.empty() ? "define one of these names without the others"
                                        : "a definition may not reach itself, whatever the values of its arguments");
}

void check_definition_cycles(PlanIndex& index) {
  constexpr NameSpace spaces[] = {NameSpace::value, NameSpace::plane, NameSpace::motion, NameSpace::solid};
  enum class State { open, closed };
  std::map<Name, State> states;
  struct Visit {
    Name name;
    std::vector<Name> uses;
    std::size_t next = 0;
  };
  const auto visit = [&](const Name& name) {
    states[name] = State::open;
    Visit result{name, {}};
    References(index, result.uses).in_node(*index.names(name.first).at(name.second).value, name.first);
    return result;
  };
  for (const NameSpace space : spaces)
    for (const auto& [name, definition] : index.names(space)) {
      if (definition.arguments.empty() || states.count({space, name}) != 0) continue;
      std::vector<Visit> path;
      path.push_back(visit({space, name}));
      while (!path.empty()) {
        Visit& last = path.back();
        if (last.next == last.uses.size()) {
          states[last.name] = State::closed;
          path.pop_back();
          continue;
        }
        const Name next = last.uses[last.next++];
        const auto known = states.find(next);
        if (known == states.end()) {
          path.push_back(visit(next));
        } else if (known->second == State::open) {
          std::vector<std::pair<std::string, const Definition*>> circle;
          for (auto each = std::find_if(path.begin(), path.end(), [&](const Visit& other) { return other.name == next; });
               each != path.end(); ++each)
            circle.emplace_back(each->name.second, &index.names(each->name.first).at(each->name.second));
          report_cycle(index, std::move(circle));
        }
      }
    }
}

}  // namespace cutproof
