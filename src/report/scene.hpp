// SPDX-License-Identifier: GPL-3.0-or-later
// Scenes for what draws them.
#pragma once

#include "cutproof/scene.hpp"

#include <string>

namespace cutproof {

/// One JSON object with the keys `blocks`, `states`, `goals` and `regions` of docs/scene.md, without exact coordinates.
std::string scene_for_drawing(const Scene& scene);

}  // namespace cutproof
