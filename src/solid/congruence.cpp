// SPDX-License-Identifier: GPL-3.0-or-later
// The search for motions. A directed edge and the centroid of all corners fix a motion of each sense; that point, unlike a
// third corner, does not depend on how cycles that touch themselves were taken apart.
#include "solid/congruence.hpp"

#include "number/errors.hpp"
#include "solid/edges.hpp"

#include <algorithm>
#include <numeric>

namespace cutproof {

namespace {

std::size_t index_of(int i) {
  return static_cast<std::size_t>(i);
}

/// The numbers sorted; and for each the place of the first equal one in the sorted list.
std::vector<int> rank(const std::vector<Number>& numbers, std::vector<Number>& sorted) {
  std::vector<std::size_t> order(numbers.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return numbers[a] < numbers[b]; });
  std::vector<int> ranks(numbers.size());
  sorted.reserve(numbers.size());
  for (std::size_t i = 0; i < order.size(); ++i) {
    const bool repeated = i > 0 && numbers[order[i]] == sorted.back();
    ranks[order[i]] = repeated ? ranks[order[i - 1]] : static_cast<int>(i);
    sorted.push_back(numbers[order[i]]);
  }
  return ranks;
}

int compare_lists(const std::vector<Number>& a, const std::vector<Number>& b) {
  if (a.size() != b.size()) return a.size() < b.size() ? -1 : 1;
  for (std::size_t i = 0; i < a.size(); ++i)
    if (const int order = compare(a[i], b[i])) return order;
  return 0;
}

template <class Function>
void for_each_directed_edge(const std::vector<int>& cycle, Function use) {
  for (std::size_t i = 0; i < cycle.size(); ++i) use(cycle[i], cycle[i + 1 == cycle.size() ? 0 : i + 1]);
}

}  // namespace

SurfaceForm::SurfaceForm(Boundary canonical) : boundary_(std::move(canonical)) {
  if (boundary_.facets.empty()) throw ToolFault("an empty surface has no shape");
  measure_corners();
  measure_edges();
  gather_flats();
}

void SurfaceForm::measure_corners() {
  const std::vector<Vector3>& corners = boundary_.vertices;
  std::vector<Number> x, y, z;
  for (const Vector3& corner : corners) x.push_back(corner.x), y.push_back(corner.y), z.push_back(corner.z);
  const Vector3 sum{balanced_sum(x), balanced_sum(y), balanced_sum(z)};
  const Number count(static_cast<long>(corners.size()));
  std::vector<Number> distances;
  for (const Vector3& corner : corners) {
    from_centroid_.push_back(count * corner - sum);
    distances.push_back(dot(from_centroid_.back(), from_centroid_.back()));
  }
  corner_rank_ = rank(distances, distances_);
}

void SurfaceForm::measure_edges() {
  std::map<std::pair<int, int>, std::size_t> number_of;
  std::vector<std::pair<int, int>> pairs;
  for (const Facet& facet : boundary_.facets)
    for (const std::vector<int>& cycle : facet.cycles)
      for_each_directed_edge(cycle, [&](int from, int to) {
        const std::pair<int, int> key = std::minmax(from, to);
        if (number_of.emplace(key, pairs.size()).second) pairs.push_back(key);
        flags_.push_back({{}, from, to});
      });
  std::vector<Number> lengths;
  for (const auto& [from, to] : pairs) {
    const Vector3 along = boundary_.vertices[index_of(to)] - boundary_.vertices[index_of(from)];
    lengths.push_back(dot(along, along));
  }
  const std::vector<int> length_rank = rank(lengths, lengths_);
  for (Flag& flag : flags_) {
    const int first = corner_rank_[index_of(flag.from)], second = corner_rank_[index_of(flag.to)];
    const int length = length_rank[number_of.at(std::minmax(flag.from, flag.to))];
    flag.kind = {first, second, length};
    edge_kinds_.push_back({std::min(first, second), std::max(first, second), length});
  }
  std::sort(flags_.begin(), flags_.end(),
            [](const Flag& a, const Flag& b) { return std::tie(a.kind, a.from, a.to) < std::tie(b.kind, b.from, b.to); });
  std::sort(edge_kinds_.begin(), edge_kinds_.end());
}

/// Cycles are collected that lie in one plane, with the same side outside, and share a corner. How a boundary that touches
/// itself was cut into cycles is forgotten in this way, and the collections still determine the surface: each is the border
/// of a region of one plane.
void SurfaceForm::gather_flats() {
  struct Cycle {
    const Plane* plane;
    const std::vector<int>* corners;
  };
  std::vector<Cycle> cycles;
  std::vector<std::vector<std::size_t>> at_corner(boundary_.vertices.size());
  for (const Facet& facet : boundary_.facets)
    for (const std::vector<int>& corners : facet.cycles) {
      for (const int corner : corners) at_corner[index_of(corner)].push_back(cycles.size());
      cycles.push_back({&facet.plane, &corners});
    }
  std::vector<std::size_t> leader(cycles.size());
  std::iota(leader.begin(), leader.end(), std::size_t{0});
  const auto lead = [&](std::size_t i) {
    while (leader[i] != i) i = leader[i] = leader[leader[i]];
    return i;
  };
  for (const std::vector<std::size_t>& here : at_corner)
    for (std::size_t i = 0; i < here.size(); ++i)
      for (std::size_t j = 0; j < i; ++j) {
        if (lead(here[i]) == lead(here[j])) continue;
        bool same_side = false;
        if (coincide(*cycles[here[i]].plane, *cycles[here[j]].plane, &same_side) && same_side)
          leader[lead(here[i])] = lead(here[j]);
      }
  std::map<std::size_t, std::vector<std::pair<int, int>>> flats;
  for (std::size_t i = 0; i < cycles.size(); ++i)
    for_each_directed_edge(*cycles[i].corners, [&](int from, int to) { flats[lead(i)].emplace_back(from, to); });
  for (auto& [first, edges] : flats) {
    std::sort(edges.begin(), edges.end());
    flats_.push_back(std::move(edges));
  }
  std::sort(flats_.begin(), flats_.end());
}

int SurfaceForm::compare_invariants(const SurfaceForm& a, const SurfaceForm& b) {
  if (a.flats_.size() != b.flats_.size()) return a.flats_.size() < b.flats_.size() ? -1 : 1;
  if (const int by_corners = compare_lists(a.distances_, b.distances_)) return by_corners;
  if (const int by_edges = compare_lists(a.lengths_, b.lengths_)) return by_edges;
  return a.edge_kinds_ < b.edge_kinds_ ? -1 : a.edge_kinds_ == b.edge_kinds_ ? 0 : 1;
}

/// The search for motions from one form to another of equal invariants.
class Carrying {
 public:
  Carrying(const SurfaceForm& a, const SurfaceForm& b, Sense sense) : a_(a), b_(b), sense_(sense) {
    if (SurfaceForm::compare_invariants(a, b) != 0) return;
    choose_flag();
  }

  /// Hands each motion to `use` until that returns false.
  template <class Use>
  void for_each_motion(Ambient ambient, Use use) const {
    for_each_candidate(ambient, [&](const Candidate& candidate) {
      return !carries(candidate.rows, candidate.shift) || use(Motion(candidate.rows, candidate.shift));
    });
  }

  /// The same, least turn first: what may be a motion is sorted before it is tried.
  template <class Use>
  void for_each_motion_by_turn(Ambient ambient, Use use) const {
    std::vector<Candidate> candidates;
    for_each_candidate(ambient, [&](Candidate candidate) {
      candidates.push_back(std::move(candidate));
      return true;
    });
    std::sort(candidates.begin(), candidates.end(), [](const Candidate& a, const Candidate& b) {
      const auto trace = [](const Candidate& each) { return each.rows[0].x + each.rows[1].y + each.rows[2].z; };
      if (const int by_turn = compare(trace(b), trace(a))) return by_turn < 0;
      for (std::size_t row = 0; row < 3; ++row)
        if (const int by_row = compare(a.rows[row], b.rows[row])) return by_row < 0;
      return a.shift < b.shift;
    });
    for (const Candidate& candidate : candidates)
      if (carries(candidate.rows, candidate.shift) && !use(Motion(candidate.rows, candidate.shift))) return;
  }

  /// Whether the linear map and shift, of this sense, carry corners onto corners and borders onto borders.
  bool carries(const std::array<Vector3, 3>& rows, const Vector3& shift) const {
    const std::vector<Vector3>&from = a_.boundary_.vertices, &onto = b_.boundary_.vertices;
    if (from.size() != onto.size()) return false;
    std::vector<int> image(from.size());
    for (std::size_t i = 0; i < from.size(); ++i) {
      const Vector3 point = Vector3{dot(rows[0], from[i]), dot(rows[1], from[i]), dot(rows[2], from[i])} + shift;
      const auto found = std::lower_bound(onto.begin(), onto.end(), point);
      if (found == onto.end() || *found != point) return false;
      image[i] = static_cast<int>(found - onto.begin());
    }
    auto flats = a_.flats_;
    for (auto& edges : flats) {
      for (auto& [first, second] : edges) {
        first = image[index_of(first)], second = image[index_of(second)];
        if (sense_ == Sense::mirrored) std::swap(first, second);
      }
      std::sort(edges.begin(), edges.end());
    }
    std::sort(flats.begin(), flats.end());
    return flats == b_.flats_;
  }

 private:
  struct Candidate {
    std::array<Vector3, 3> rows;
    Vector3 shift;
  };

  /// All that the edges of one kind allow, until `use` returns false.
  template <class Use>
  void for_each_candidate(Ambient ambient, Use use) const {
    if (flag_ == nullptr) return;
    SurfaceForm::Kind kind = flag_->kind;
    // Seen in a mirror, a facet's border runs the other way.
    if (sense_ == Sense::mirrored) std::swap(kind[0], kind[1]);
    const auto first = std::lower_bound(b_.flags_.begin(), b_.flags_.end(), kind,
                                        [](const SurfaceForm::Flag& flag, const auto& x) { return flag.kind < x; });
    for (auto flag = first; flag != b_.flags_.end() && flag->kind == kind; ++flag) {
      const bool mirrored = sense_ == Sense::mirrored;
      Candidate candidate = candidate_onto(mirrored ? flag->to : flag->from, mirrored ? flag->from : flag->to);
      if (ambient == Ambient::plane && !keeps_heights(candidate)) continue;
      if (!use(std::move(candidate))) return;
    }
  }

  static bool keeps_heights(const Candidate& candidate) {
    return candidate.rows[2] == Vector3{0, 0, 1} && candidate.shift.z.is_zero();
  }

  /// Takes an edge of the kind that is rarest among those whose line does not pass through the centroid.
  void choose_flag() {
    std::vector<std::pair<std::size_t, const SurfaceForm::Flag*>> kinds;
    for (const SurfaceForm::Flag& flag : a_.flags_) {
      if (kinds.empty() || kinds.back().second->kind != flag.kind) kinds.emplace_back(0, &flag);
      ++kinds.back().first;
    }
    std::stable_sort(kinds.begin(), kinds.end(), [](const auto& x, const auto& y) { return x.first < y.first; });
    for (const auto& [count, flag] : kinds) {
      origin_ = a_.boundary_.vertices[index_of(flag->from)];
      const Vector3 u = a_.boundary_.vertices[index_of(flag->to)] - origin_;
      const Vector3& v = a_.from_centroid_[index_of(flag->from)];
      const Vector3 w = cross(u, v);
      if (is_zero(w)) continue;
      flag_ = flag;
      // The rows of the inverse of the matrix with columns u, v, w.
      const Number scale = divide(Number(1), dot(w, w));
      inverse_ = {scale * cross(v, w), scale * cross(w, u), scale * w};
      return;
    }
    throw ToolFault("all edges of a surface lie on lines through one point");
  }

  Candidate candidate_onto(int from, int to) const {
    const Vector3& origin = b_.boundary_.vertices[index_of(from)];
    const Vector3 u = b_.boundary_.vertices[index_of(to)] - origin;
    const Vector3& v = b_.from_centroid_[index_of(from)];
    Vector3 w = cross(u, v);
    if (sense_ == Sense::mirrored) w = -w;
    Candidate candidate;
    for (int row = 0; row < 3; ++row) {
      const auto entry = [&](int column) {
        return sum_of_products({{&coordinate(u, row), &coordinate(inverse_[0], column)},
                                {&coordinate(v, row), &coordinate(inverse_[1], column)},
                                {&coordinate(w, row), &coordinate(inverse_[2], column)}});
      };
      candidate.rows[index_of(row)] = {entry(0), entry(1), entry(2)};
    }
    const auto& rows = candidate.rows;
    candidate.shift = origin - Vector3{dot(rows[0], origin_), dot(rows[1], origin_), dot(rows[2], origin_)};
    return candidate;
  }

  const SurfaceForm &a_, &b_;
  Sense sense_;
  const SurfaceForm::Flag* flag_ = nullptr;
  Vector3 origin_;
  std::array<Vector3, 3> inverse_;
};

std::optional<Motion> find_motion(const SurfaceForm& a, const SurfaceForm& b, Sense sense, Ambient ambient) {
  std::optional<Motion> found;
  Carrying(a, b, sense).for_each_motion(ambient, [&](Motion motion) {
    found = std::move(motion);
    return false;
  });
  return found;
}

std::vector<Motion> all_motions(const SurfaceForm& a, const SurfaceForm& b, Sense sense, Ambient ambient) {
  std::vector<Motion> found;
  for_each_motion_by_turn(a, b, sense, ambient, [&](const Motion& motion) {
    found.push_back(motion);
    return true;
  });
  return found;
}

void for_each_motion_by_turn(const SurfaceForm& a, const SurfaceForm& b, Sense sense, Ambient ambient,
                             const std::function<bool(const Motion&)>& use) {
  Carrying(a, b, sense).for_each_motion_by_turn(ambient, use);
}

bool carries(const Motion& motion, const SurfaceForm& a, const SurfaceForm& b) {
  return Carrying(a, b, motion.is_proper() ? Sense::direct : Sense::mirrored).carries(motion.rows(), motion.shift());
}

Boundary face_in(const Boundary& canonical, const Plane& outside) {
  Boundary face;
  face.vertices = canonical.vertices;
  for (const Facet& facet : canonical.facets) {
    bool same_side = false;
    if (coincide(facet.plane, outside, &same_side) && same_side) face.facets.push_back(facet);
  }
  return normalised(face);
}

Boundary turned_inside_out(const Boundary& surface) {
  Boundary turned = surface;
  for (Facet& facet : turned.facets) {
    facet.plane = opposite(facet.plane);
    for (std::vector<int>& cycle : facet.cycles) std::reverse(cycle.begin() + 1, cycle.end());
  }
  std::sort(turned.facets.begin(), turned.facets.end(), [](const Facet& a, const Facet& b) { return a.cycles < b.cycles; });
  return turned;
}

// --- classes --------------------------------------------------------------------------------------------------------------

std::size_t ShapeCatalogue::add(const Number& volume, SurfaceForm form) {
  const auto order = [&](const std::vector<std::size_t>& group) {
    const Shape& shape = shapes_[group.front()];
    const int by_volume = compare(shape.volume, volume);
    return by_volume != 0 ? by_volume : SurfaceForm::compare_invariants(shape.form, form);
  };
  auto group = std::partition_point(alike_.begin(), alike_.end(), [&](const auto& each) { return order(each) < 0; });
  if (group == alike_.end() || order(*group) != 0) group = alike_.insert(group, std::vector<std::size_t>());
  for (const std::size_t known : *group)
    if (find_motion(shapes_[known].form, form, Sense::direct, ambient_)) return known;
  Shape shape{volume, std::move(form), false, std::nullopt};
  shape.chiral = !find_motion(shape.form, shape.form, Sense::mirrored, ambient_);
  if (shape.chiral)
    for (const std::size_t known : *group)
      if (shapes_[known].chiral && find_motion(shapes_[known].form, shape.form, Sense::mirrored, ambient_)) {
        shape.mirror_of = known;
        break;
      }
  group->push_back(shapes_.size());
  shapes_.push_back(std::move(shape));
  return shapes_.size() - 1;
}

}  // namespace cutproof
