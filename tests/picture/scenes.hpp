// SPDX-License-Identifier: GPL-3.0-or-later
// Scenes that are hard to paint: bars that lie over each other in turn, rings that link, tunnels, heaps of random solids.
#pragma once

#include "picture/painter.hpp"
#include "solid/parts/build.hpp"
#include "solid/parts/motion.hpp"
#include "zoo/builder.hpp"
#include "zoo/zoo.hpp"

#include <random>
#include <string>
#include <vector>

namespace cutproof::test {

using Random = std::mt19937;

inline long roll(Random& random, long from, long to) {
  return from + static_cast<long>(random() % static_cast<unsigned long>(to - from + 1));
}

/// A motion with rational matrix (by a random integral quaternion) and a shift in the field of the given degree.
inline Motion random_motion(Random& random, int degree, long range) {
  const long w = roll(random, 1, 3), x = roll(random, -2, 2), y = roll(random, -2, 2), z = roll(random, -2, 2);
  const Number n(w * w + x * x + y * y + z * z);
  const auto row = [&n](long a, long b, long c) {
    return Vector3{divide(Number(a), n), divide(Number(b), n), divide(Number(c), n)};
  };
  const Number& g = zoo::generator_of_degree(degree);
  const auto place = [&] {
    return Number(roll(random, -range, range)) + divide(Number(roll(random, -4, 4)), Number(4)) * g;
  };
  return {{row(w * w + x * x - y * y - z * z, 2 * (x * y - w * z), 2 * (x * z + w * y)),
           row(2 * (x * y + w * z), w * w - x * x + y * y - z * z, 2 * (y * z - w * x)),
           row(2 * (x * z - w * y), 2 * (y * z + w * x), w * w - x * x - y * y + z * z)},
          {place(), place(), place()}};
}

inline void add(std::vector<OwnedPart>& scene, const Boundary& body, const Motion& motion = Motion()) {
  const std::size_t owner = scene.empty() ? 0 : scene.back().owner + 1;
  CellMap map(motion);
  for (const CellPointer& cell : map(build_parts(body))) scene.push_back({cell, owner});
}

inline Boundary box(const std::array<long, 3>& low, const std::array<long, 3>& high) {
  return zoo::Builder().box(low, high).boundary();
}
inline Boundary ring() {  // square, with a square hole along z
  return zoo::Builder()
      .prism({{{-3, -3}, {3, -3}, {3, 3}, {-3, 3}}, {{-1, -1}, {-1, 1}, {1, 1}, {1, -1}}}, -1, 1)
      .boundary();
}

/// The same seed gives the same scene. Owners of the first four kinds do not overlap.
inline std::vector<OwnedPart> scene(int kind, int degree, unsigned seed) {
  Random random(seed);
  std::vector<OwnedPart> parts;
  const Motion all = random_motion(random, degree, 2);
  switch (kind) {
    case 0:  // three bars, each over one and under another
      add(parts, box({-6, -1, 0}, {6, 1, 2}), Motion::translation({0, 2, 0}).then(all));
      add(parts, box({-1, -6, 0}, {1, 6, 2}), Motion::translation({2, 0, 2}).then(all));
      add(parts, zoo::Builder().tetrahedron({-4, -5, 5}, {-5, -4, 5}, {-4, 5, -1}, {5, -4, 2}).boundary(),
          Motion::translation({1, 1, 5}).then(all));
      break;
    case 1:  // two rings that link
      add(parts, ring(), all);
      add(parts, ring(), Motion({Vector3{1, 0, 0}, Vector3{0, 0, -1}, Vector3{0, 1, 0}}, {2, 0, 0}).then(all));
      break;
    case 2:  // a bar through a ring, flush with the hole's walls on two sides
      add(parts, ring(), all);
      add(parts, box({-1, -1, -4}, {1, 0, 4}), all);
      break;
    case 3: {  // a box in a grid, some boxes taken out
      for (long x = 0; x < 3; ++x)
        for (long y = 0; y < 3; ++y)
          for (long z = 0; z < 2; ++z)
            if (roll(random, 0, 3) != 0) add(parts, box({x, y, z}, {x + 1, y + 1, z + 1}), all);
      break;
    }
    default: {  // solids from the collection, thrown together
      const auto& solids = zoo::rational_solids();
      for (int i = 0; i < 3; ++i)
        add(parts, zoo::boundary_of(solids[roll(random, 0, static_cast<long>(solids.size()) - 1)].solid),
            random_motion(random, degree, 2));
    }
  }
  return parts;
}
constexpr int scene_kinds = 5;

}  // namespace cutproof::test
