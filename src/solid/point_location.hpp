// SPDX-License-Identifier: GPL-3.0-or-later
// Where a point lies to a solid, decided from the solid's boundary.
#pragma once

#include "solid/boundary.hpp"

namespace cutproof {

/// 1: in the interior, 0: on the boundary, -1: outside. The boundary is closed and oriented, and of a regularised solid.
int locate(const Boundary& boundary, const Vector3& point);

}  // namespace cutproof
