// SPDX-License-Identifier: GPL-3.0-or-later
// Set operations by exact clipping. A difference divides and conquers: each clip by one part's faces also divides the other
// parts among the pieces, so that many small holes in one big part stay cheap.
#include "solid/parts/algebra.hpp"

#include "solid/parts/separate.hpp"

#include <algorithm>
#include <numeric>
#include <optional>

namespace cutproof {

namespace {

void subtract(CellPointer part, std::vector<const CellPointer*> others, CellList& result) {
  // The middle one of those that really take something away; the others that were looked at don't matter here.
  const CellPointer* taken = nullptr;
  while (!others.empty() && taken == nullptr) {
    const std::size_t middle = others.size() / 2;
    std::swap(others[middle], others.back());
    const CellPointer* candidate = others.back();
    others.pop_back();
    if (interiors_meet(part, *candidate)) taken = candidate;
  }
  if (taken == nullptr) {
    result.push_back(std::move(part));
    return;
  }
  for (const CellFace& face : (*taken)->faces()) {
    const CellHalves halves = split(part, face);
    if (halves.positive) {
      std::vector<const CellPointer*> close;
      for (const CellPointer* other : others)
        if ((*other)->box().meets(halves.positive->box())) close.push_back(other);
      subtract(halves.positive, std::move(close), result);
    }
    part = halves.negative;
    if (!part) throw ToolFault("overlapping parts were found to be apart");
  }
}

}  // namespace

CellList difference(const CellList& parts, const CellList& others) {
  std::vector<std::vector<const CellPointer*>> close(parts.size());
  for_each_close_pair(parts, others, [&](std::size_t i, std::size_t j) { close[i].push_back(&others[j]); });
  CellList result;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    std::sort(close[i].begin(), close[i].end());
    subtract(parts[i], std::move(close[i]), result);
  }
  return result;
}

CellList intersection(const CellList& parts, const CellList& others) {
  std::vector<std::pair<std::size_t, std::size_t>> pairs;
  for_each_close_pair(parts, others, [&](std::size_t i, std::size_t j) { pairs.emplace_back(i, j); });
  std::sort(pairs.begin(), pairs.end());
  CellList result;
  for (const auto& [i, j] : pairs)
    if (interiors_meet(parts[i], others[j])) result.push_back(intersection(parts[i], others[j]));
  return result;
}

bool interiors_meet(const CellList& parts, const CellList& others) {
  bool meet = false;
  for_each_close_pair(parts, others,
                      [&](std::size_t i, std::size_t j) { meet = meet || interiors_meet(parts[i], others[j]); });
  return meet;
}

Groups::Groups(std::size_t count) : parent_(count), count_(count) {
  std::iota(parent_.begin(), parent_.end(), 0);
}

std::size_t Groups::representative(std::size_t i) {
  while (parent_[i] != i) i = parent_[i] = parent_[parent_[i]];
  return i;
}

bool Groups::link(std::size_t i, std::size_t j) {
  i = representative(i);
  j = representative(j);
  if (i == j) return false;
  parent_[std::max(i, j)] = std::min(i, j);
  --count_;
  return true;
}

std::vector<std::vector<std::size_t>> Groups::members() {
  std::vector<std::vector<std::size_t>> groups;
  std::vector<std::size_t> number(parent_.size());
  for (std::size_t i = 0; i < parent_.size(); ++i) {
    const std::size_t first = representative(i);
    if (first == i) {
      number[i] = groups.size();
      groups.emplace_back();
    }
    groups[number[first]].push_back(i);
  }
  return groups;
}

namespace {

struct Component {
  CellList parts;
  const Vector3* smallest;
  std::optional<Number> volume;
  std::optional<Vector3> centroid;
};

bool precedes(Component& a, Component& b) {
  if (const int order = compare(*a.smallest, *b.smallest)) return order < 0;
  for (Component* each : {&a, &b})
    if (!each->volume) each->volume = volume(each->parts);
  if (const int order = compare(*a.volume, *b.volume)) return order < 0;
  for (Component* each : {&a, &b})
    if (!each->centroid) {
      const Vector3 sum = moment(each->parts);
      each->centroid = Vector3{divide(sum.x, *each->volume), divide(sum.y, *each->volume), divide(sum.z, *each->volume)};
    }
  return *a.centroid < *b.centroid;
}

}  // namespace

std::vector<CellList> connected(const CellList& parts) {
  Groups groups(parts.size());
  for_each_close_pair(parts, [&](std::size_t i, std::size_t j) {
    if (groups.representative(i) != groups.representative(j) && share_face_area(*parts[i], *parts[j])) groups.link(i, j);
  });
  std::vector<Component> components;
  for (const std::vector<std::size_t>& members : groups.members()) {
    Component component;
    for (const std::size_t i : members) component.parts.push_back(parts[i]);
    component.smallest = &component.parts.front()->corners().front()->point;
    for (const CellPointer& part : component.parts)
      for (const CornerPointer& corner : part->corners())
        if (corner->point < *component.smallest) component.smallest = &corner->point;
    components.push_back(std::move(component));
  }
  // Few components; moved by hand because the comparison fills in what it needs.
  std::vector<Component*> order;
  for (Component& component : components) order.push_back(&component);
  std::sort(order.begin(), order.end(), [](Component* a, Component* b) { return a != b && precedes(*a, *b); });
  std::vector<CellList> result;
  for (Component* component : order) result.push_back(std::move(component->parts));
  return result;
}

}  // namespace cutproof
