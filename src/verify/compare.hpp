// SPDX-License-Identifier: GPL-3.0-or-later
// Could one side be cut into the other at all? Two polyhedra are scissors congruent if and only if volumes and Dehn
// invariants are equal: M. Dehn, Math. Ann. 55 (1901) 465-478; J.-P. Sydler, Comment. Math. Helv. 40 (1965) 43-80.
#pragma once

#include "cutproof/result.hpp"
#include "dehn/invariant.hpp"
#include "solid/engine.hpp"

#include <string>
#include <vector>

namespace cutproof {

/// Compares the solids on the left, taken together, with those on the right. Fills everything that depends on the solids
/// alone; the caller adds files, names and field. `answer` is `yes` iff a dissection exists. Where volumes differ, `scale`
/// is the factor that the right side must be scaled by to have the left side's volume, and `exists_at_scale` says
/// whether a dissection exists then; a cube root outside the field leaves it for a field of degree 3 over it, which keeps
/// square classes apart, so then the invariants agree only if both are zero. Solids of one side may overlap: they are
/// counted, not united; but `relation` is about the points that a side covers, however often.
/// In dimension 2 they are figures of the plane: then equal areas are all that a dissection needs (W. Wallace 1807, P.
/// Gerwien, J. reine angew. Math. 10 (1833) 228-234; F. Bolyai), invariants are not looked at, and `scale` is a square root.
CompareResult compare_solids(Engine& engine, const std::vector<Solid>& left, const std::vector<Solid>& right,
                             const Field& field, int dimension = 3);

}  // namespace cutproof
