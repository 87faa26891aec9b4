// SPDX-License-Identifier: GPL-3.0-or-later
// The one walk over expressions. Exact values, balls, linear forms, polynomials, small whole numbers and lists of names all
// come from it; what they are made of, each domain says. Open nodes and values stand in stacks of their own, so no height of
// a tree overflows the program's stack.
#pragma once

#include "plan/expression.hpp"

#include <set>
#include <utility>
#include <variant>
#include <vector>

namespace cutproof {

/// The answer of a domain that wants the value of this expression before it goes on.
struct Walk {
  const Expression* operand;
};
template <class Value>
using FoldStep = std::variant<Value, Walk>;

/// The values that are there so far for one node, oldest first.
template <class Value>
class Operands {
 public:
  Operands(std::vector<Value>& values, std::size_t first) : values_(values), first_(first) {}
  std::size_t size() const { return values_.size() - first_; }
  bool empty() const { return size() == 0; }
  Value& operator[](std::size_t i) const { return values_[first_ + i]; }
  Value& back() const { return values_.back(); }
  /// Puts a value here that is found otherwise.
  void add(Value value) const { values_.push_back(std::move(value)); }

 private:
  std::vector<Value>& values_;
  std::size_t first_;
};

/// The next operand in the order of the text.
template <class Value>
Walk next_operand(const Expression& at, const Operands<Value>& operands) {
  return {at.operands[operands.size()].get()};
}

/// The value of a tree in a domain: `domain(at, operands)` gives a FoldStep, and is asked for a node as often as its
/// answer is a Walk, each time with one value more. So it says itself which operands are walked, and in which order. Before
/// it asks for the next one it can refuse the last, or end with a value that this one decides. An operand of another kind (a
/// plane's name in `meet` and `foot`, the polynomial in `root`, whatever is decided in a field of its own) it reads
/// otherwise: such operands stand within a call's parentheses, which the reader nests a few hundred deep at most.
template <class Value, class Domain>
Value fold(const Expression& expression, Domain&& domain) {
  struct Open {
    const Expression* at;
    std::size_t first;  ///< of its values
  };
  std::vector<Open> open = {{&expression, 0}};
  std::vector<Value> values;
  for (;;) {
    const Open here = open.back();
    FoldStep<Value> answer = domain(*here.at, Operands<Value>(values, here.first));
    if (const Walk* walk = std::get_if<Walk>(&answer)) {
      open.push_back({walk->operand, values.size()});
      continue;
    }
    open.pop_back();
    if (open.empty()) return std::get<Value>(std::move(answer));
    values.erase(values.begin() + static_cast<std::ptrdiff_t>(here.first), values.end());
    values.push_back(std::get<Value>(std::move(answer)));
  }
}

/// Calls `look(at)` for each node, before those below it, in the order of the text; only where `enters(at, i)` for the i-th
/// operand.
template <class Look, class Enters>
void look_through(const Expression& expression, Look look, Enters enters) {
  using Nothing = std::monostate;
  fold<Nothing>(expression, [&](const Expression& at, const Operands<Nothing>& operands) -> FoldStep<Nothing> {
    if (operands.empty()) look(at);
    for (; operands.size() < at.operands.size(); operands.add({}))
      if (enters(at, operands.size())) return next_operand(at, operands);
    return Nothing{};
  });
}
template <class Look>
void look_through(const Expression& expression, Look look) {
  look_through(expression, look, [](const Expression&, std::size_t) { return true; });
}

/// Operands of `meet` and the second one of `foot` name planes.
bool is_plane_operand(const Expression& call, std::size_t operand);

/// The nodes in which one of these letters is a name. The `x` in the polynomial of a `root` is that root's own.
std::set<const Expression*> nodes_with_letters(const Expression& expression, std::string_view letters);

}  // namespace cutproof
