// SPDX-License-Identifier: GPL-3.0-or-later
// The Dehn invariant of solids given by their true edges: what is printed and what a certificate proves.
#pragma once

#include "cutproof/result.hpp"
#include "dehn/decision.hpp"
#include "dehn/gather.hpp"
#include "number/angle.hpp"
#include "solid/engine.hpp"

#include <string>
#include <vector>

namespace cutproof {

/// An edge of a solid that counts `times` in the invariant (-1 where a solid is subtracted).
struct CountedEdge {
  EdgeTerm term;
  int times = 1;
};

/// An invariant with everything that proves it. Depends on the edges alone, not on their order or on who found them.
struct DehnInvariant {
  const Field* field = nullptr;
  std::vector<CountedEdge> edges;  ///< all true edges, right angles too, so that every face is closed
  Decision decision;
  std::vector<GatheredTerm> sums;  ///< what is shown
};

/// Numbers of fields below `field` are lifted. Exact; LimitReached as for `decide`.
DehnInvariant invariant_of(std::vector<CountedEdge> edges, const Field& field);

/// Checks the proof in an invariant from its data alone (see docs/certificates.md); shares no code with the search beyond
/// the arithmetic of numbers. Returns what is wrong with it, or an empty text.
std::string fault_in_certificate(const DehnInvariant& invariant);
/// The same data without anything of this program in it.
DehnCertificate certificate_of(const DehnInvariant& invariant);

/// Texts for people and for reports, with the certificate; throws ToolFault when `fault_in_certificate` objects.
DehnValue to_value(const DehnInvariant& invariant);

/// A dihedral angle in (0, 2*pi), known by the squared tangent T of the acute angle that it or its supplement is modulo pi.
struct DihedralAngle {
  enum class Kind { acute, right, obtuse, reflex_beyond_half_turn, reflex_right, reflex_before_full_turn };
  Kind kind;
  Number tangent_squared;  ///< not used for right angles
  bool is_reflex() const { return kind >= Kind::reflex_beyond_half_turn; }
};
/// The interior angle of the solid at an edge that is not flat.
DihedralAngle dihedral_angle(const EdgeTerm& term);
bool operator==(const DihedralAngle& a, const DihedralAngle& b);
Angle to_angle(const DihedralAngle& angle);
/// The cosine as an expression.
std::string cosine_text(const DihedralAngle& angle);
/// `arccos(1/3)`, `arctan(sqrt(2))`, whichever is shorter; `360 deg - arccos(1/3)` for a reflex angle.
std::string people_text(const DihedralAngle& angle);

}  // namespace cutproof
