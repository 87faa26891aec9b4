// SPDX-License-Identifier: GPL-3.0-or-later
#include "plan/plan_value.hpp"

namespace cutproof {

PlanValue value_of(const Node& node) {
  if (node.is_scalar() || node.is_broken()) return node.text;
  PlanValue result = node.is_mapping() ? PlanValue::mapping() : PlanValue::list();
  for (const Node::Entry& entry : node.entries) result.add(entry.key, value_of(entry.value));
  return result;
}

}  // namespace cutproof
