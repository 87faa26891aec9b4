// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/outline.hpp"

#include <algorithm>
#include <cmath>
#include <deque>
#include <map>
#include <utility>

namespace cutproof {
namespace {

/// -1, 0 or 1 as p comes before, is, or comes after q, by x, then y, then z; exact.
int compare(const Corner& p, const Corner& q) {
  if (&p == &q) return 0;
  const double error = p.radius + q.radius;
  if (p.x - q.x > error || q.x - p.x > error) return p.x < q.x ? -1 : 1;
  return compare(p.point, q.point);
}

/// True iff the three points lie in one line; exact.
bool in_line(const Corner& p, const Corner& q, const Corner& r) {
  const double ux = q.x - p.x, uy = q.y - p.y, uz = q.z - p.z, vx = r.x - p.x, vy = r.y - p.y, vz = r.z - p.z;
  const double size = p.size + q.size + r.size, error = p.radius + q.radius + r.radius + 0x1p-45 * size;
  const double bound =
      16 * error * (std::fabs(ux) + std::fabs(uy) + std::fabs(uz) + std::fabs(vx) + std::fabs(vy) + std::fabs(vz) + error);
  if (std::fabs(uy * vz - uz * vy) > bound || std::fabs(uz * vx - ux * vz) > bound || std::fabs(ux * vy - uy * vx) > bound)
    return false;
  return is_zero(cross(q.point - p.point, r.point - p.point));
}

/// From its smaller end to its larger.
Line sorted(const Line& line) {
  return compare(*line.from, *line.to) <= 0 ? line : Line{line.to, line.from};
}

bool boxes_meet(const Line& a, const Line& b) {
  const double error = a.from->radius + a.to->radius + b.from->radius + b.to->radius;
  const auto apart = [error](double p, double q, double r, double s) {
    return std::fmin(p, q) - std::fmax(r, s) > error || std::fmin(r, s) - std::fmax(p, q) > error;
  };
  return !apart(a.from->x, a.to->x, b.from->x, b.to->x) && !apart(a.from->y, a.to->y, b.from->y, b.to->y) &&
         !apart(a.from->z, a.to->z, b.from->z, b.to->z);
}

}  // namespace

std::vector<Line> common(const Line& segment, const std::vector<Line>& others) {
  const Line whole = sorted(segment);
  std::vector<Line> found;
  for (const Line& other : others) {
    if (!boxes_meet(whole, other) || !in_line(*whole.from, *whole.to, *other.from) ||
        !in_line(*whole.from, *whole.to, *other.to))
      continue;
    const Line along = sorted(other);
    const Line both{compare(*whole.from, *along.from) < 0 ? along.from : whole.from,
                    compare(*whole.to, *along.to) < 0 ? whole.to : along.to};
    if (compare(*both.from, *both.to) < 0) found.push_back(both);
  }
  std::sort(found.begin(), found.end(), [](const Line& a, const Line& b) { return compare(*a.from, *b.from) < 0; });
  std::vector<Line> result;
  for (const Line& each : found) {
    if (result.empty() || compare(*result.back().to, *each.from) < 0) {
      result.push_back(each);
    } else if (compare(*result.back().to, *each.to) < 0) {
      result.back().to = each.to;
    }
  }
  return result;
}

std::vector<Line> without(const Line& segment, const std::vector<Line>& stretches) {
  Line open = sorted(segment);
  std::vector<Line> result;
  for (const Line& each : stretches) {
    if (compare(*open.from, *each.from) < 0) result.push_back({open.from, each.from});
    open.from = each.to;
  }
  if (compare(*open.from, *open.to) < 0) result.push_back(open);
  return result;
}

std::vector<Cycle> united(const std::vector<Cycle>& polygons) {
  // Corners by number, equal points once.
  struct Smaller {
    bool operator()(const CornerPointer& a, const CornerPointer& b) const { return compare(*a, *b) < 0; }
  };
  std::map<CornerPointer, int, Smaller> numbers;
  for (const Cycle& cycle : polygons)
    for (const CornerPointer& corner : cycle) numbers.emplace(corner, 0);
  std::vector<CornerPointer> corners;
  for (auto& [corner, number] : numbers) {
    number = static_cast<int>(corners.size());
    corners.push_back(corner);
  }
  // How often each stretch between neighbouring corners is run along from its smaller to its larger end, less how often the
  // other way.
  std::map<std::pair<int, int>, int> runs;
  for (const Cycle& cycle : polygons)
    for (std::size_t i = 0; i < cycle.size(); ++i) {
      int from = numbers.at(cycle[i]), to = numbers.at(cycle[i + 1 < cycle.size() ? i + 1 : 0]);
      const int sense = from < to ? 1 : -1;
      if (from > to) std::swap(from, to);
      // Corners are numbered in the order along every line.
      int last = from;
      for (int k = from + 1; k < to; ++k)
        if (boxes_meet({corners[from], corners[to]}, {corners[k], corners[k]}) &&
            in_line(*corners[from], *corners[to], *corners[k])) {
          runs[{last, k}] += sense;
          last = k;
        }
      runs[{last, to}] += sense;
    }
  std::map<int, std::deque<int>> next;
  for (const auto& [ends, count] : runs)
    for (int k = 0; k < std::abs(count); ++k) {
      const auto [from, to] = count > 0 ? ends : std::pair(ends.second, ends.first);
      next[from].push_back(to);
    }
  std::vector<Cycle> result;
  for (auto& [first, ways] : next)
    while (!ways.empty()) {
      std::vector<int> walk;
      int at = first;
      do {
        walk.push_back(at);
        std::deque<int>& onward = next.at(at);
        at = onward.front();
        onward.pop_front();
      } while (at != first);
      Cycle cycle;
      for (std::size_t i = 0; i < walk.size(); ++i) {
        const int before = walk[i > 0 ? i - 1 : walk.size() - 1], after = walk[i + 1 < walk.size() ? i + 1 : 0];
        // A point is passed straight on when it lies between the two others in the order along the line.
        const bool straight =
            (before < walk[i]) == (walk[i] < after) && in_line(*corners[before], *corners[walk[i]], *corners[after]);
        if (!straight) cycle.push_back(corners[walk[i]]);
      }
      if (cycle.size() >= 3) result.push_back(std::move(cycle));
    }
  return result;
}

}  // namespace cutproof
