// SPDX-License-Identifier: GPL-3.0-or-later
#include "verify/motion_search.hpp"

#include <algorithm>

namespace cutproof {

namespace {

bool goes_there(const Motion& motion, const PointPairs& corners) {
  return std::all_of(corners.begin(), corners.end(), [&](const auto& pair) { return motion(pair.first) == pair.second; });
}

/// Whether both motions put each piece to the same place.
bool same_places(const Motion& a, const Motion& b, const std::vector<SurfaceForm>& pieces) {
  const Motion there_and_back = a.then(b.inverse());
  return std::all_of(pieces.begin(), pieces.end(),
                     [&](const SurfaceForm& piece) { return carries(there_and_back, piece, piece); });
}

}  // namespace

FoundMotions find_motions(const SurfaceForm& from, const SurfaceForm& onto, const PointPairs& corners, bool allow_mirror,
                          const std::vector<SurfaceForm>& pieces, Ambient ambient) {
  FoundMotions found;
  for (const Sense sense : {Sense::direct, Sense::mirrored}) {
    if (sense == Sense::mirrored && !allow_mirror) {
      if (!found.fits_without_corners) found.mirror_only = find_motion(from, onto, sense, ambient).has_value();
      break;
    }
    found.sense = sense;
    for_each_motion_by_turn(from, onto, sense, ambient, [&](const Motion& motion) {
      found.fits_without_corners = true;
      if (!goes_there(motion, corners)) return true;
      const auto way = std::find_if(found.ways.begin(), found.ways.end(),
                                    [&](const Motion& known) { return same_places(motion, known, pieces); });
      found.motions.emplace_back(motion, static_cast<std::size_t>(way - found.ways.begin()));
      if (way == found.ways.end()) found.ways.push_back(motion);
      return !pieces.empty();  // otherwise the first one is as good as any
    });
    if (!found.ways.empty()) break;
  }
  return found;
}

PointPairs corners_that_choose(const FoundMotions& found, std::size_t chosen, const std::vector<Vector3>& candidates) {
  // A way may be reached by several motions, each of which the corners must rule out.
  std::vector<const Motion*> others;
  for (const auto& [motion, way] : found.motions)
    if (way != chosen) others.push_back(&motion);
  PointPairs corners;
  while (!others.empty()) {
    const Vector3* best = nullptr;
    std::size_t most = 0;
    for (const Vector3& point : candidates) {
      const Vector3 image = found.ways[chosen](point);
      const auto told_apart = static_cast<std::size_t>(
          std::count_if(others.begin(), others.end(), [&](const Motion* other) { return (*other)(point) != image; }));
      if (told_apart <= most) continue;
      most = told_apart;
      best = &point;
      if (most == others.size()) break;
    }
    if (best == nullptr) break;  // nothing more to tell apart by
    const Vector3 image = found.ways[chosen](*best);
    others.erase(std::remove_if(others.begin(), others.end(), [&](const Motion* other) { return (*other)(*best) != image; }),
                 others.end());
    corners.emplace_back(*best, image);
  }
  return corners;
}

}  // namespace cutproof
