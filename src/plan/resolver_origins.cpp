// SPDX-License-Identifier: GPL-3.0-or-later
// Where the numbers of a text that is at fault come from: a box is flat because of `h`, and `h` stands elsewhere.
#include "plan/resolver.hpp"

namespace cutproof {

namespace {

constexpr std::size_t most_names = 4;  // more would not be read

/// The names of values in the expressions of a node, in order, each once.
void collect_names(PlanIndex& index, const Node& node, std::vector<std::string>& names) {
  for (const Node::Entry& entry : node.entries) {
    collect_names(index, entry.value, names);
    if (names.size() > most_names) return;
  }
  if (!node.is_scalar()) return;
  try {
    for (const std::string& name : names_in(index.parsed(node.text), index.version())) {
      const bool is_own = bound(node.frame, name) == nullptr && index.names(NameSpace::value).count(name) != 0;
      if (is_own && std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
    }
  } catch (const InvalidInput&) {  // a text of another kind, as the equation of a plane is
  } catch (const LimitReached&) {
  }
}

}  // namespace

std::string Resolver::origins(const Node& node) const {
  std::vector<std::string> names;
  collect_names(index_, node, names);
  if (names.size() > most_names) return "";
  std::string text;
  for (const std::string& name : names) {
    const Resolver* resolver = this;
    while (resolver->outer_ != nullptr && resolver->values_.values.count(name) == 0) resolver = resolver->outer_;
    const auto known = resolver->values_.values.find(name);
    if (known == resolver->values_.values.end()) continue;
    const int line = index_.document().place(definition(NameSpace::value, name)->key_begin).line;
    text += (text.empty() ? "`" : ", `") + name + "` is " + shown(known->second, index_.dimension()) + " (line " +
            std::to_string(line) + ")";
  }
  return text;
}

std::vector<NamedSolid> Resolver::defined_solids() const {
  std::vector<NamedSolid> result;
  for (const auto& [text, solid] : solids_.values) {
    const Definition& known = *definition(NameSpace::solid, text.substr(0, text.find('(')));
    if (!known.value->is_scalar()) result.push_back({text, solid, index_.document().place(known.key_begin)});
  }
  return result;
}

void Resolver::fault(const Node& node, const std::string& message, const std::string& hint) const {
  const std::string from = origins(node);
  index_.fail(node, message, from.empty() || hint.empty() ? from + hint : from + "; " + hint);
}

}  // namespace cutproof
