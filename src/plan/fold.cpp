// SPDX-License-Identifier: GPL-3.0-or-later
#include "plan/fold.hpp"

namespace cutproof {

using Kind = Expression::Kind;

bool is_plane_operand(const Expression& call, std::size_t operand) {
  return call.kind == Kind::call && (call.text == "meet" || (call.text == "foot" && operand == 1));
}

std::set<const Expression*> nodes_with_letters(const Expression& expression, std::string_view letters) {
  std::set<const Expression*> found;
  using Letters = std::size_t;
  fold<Letters>(expression, [&](const Expression& at, const Operands<Letters>& operands) -> FoldStep<Letters> {
    if (operands.empty() && at.kind == Kind::call && at.text == "root" && !at.operands.empty()) operands.add(0);
    if (operands.size() < at.operands.size()) return next_operand(at, operands);
    Letters count = at.kind == Kind::name && at.text.size() == 1 && letters.find(at.text) != letters.npos ? 1 : 0;
    for (std::size_t i = 0; i < operands.size(); ++i) count += operands[i];
    if (count > 0) found.insert(&at);
    return count;
  });
  return found;
}

}  // namespace cutproof
