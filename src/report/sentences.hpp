// SPDX-License-Identifier: GPL-3.0-or-later
// The one place where findings become sentences.
#pragma once

#include "cutproof/report.hpp"

#include <string>
#include <vector>

namespace cutproof {

/// How a statement is worded. In a text, `{x}` is the fact `x` of the finding (or its `pieces`, `volume`, `missing`,
/// `excess` and `box`), `{x?one|many}` a choice by how many it is, and what stands in brackets
/// is left out where a fact in it is an empty list.
struct Sentence {
  const char* code;
  const char* statement;  ///< `Finding::statement`
  const char* message;
  const char* hint;
};
/// Of all statements that findings about a dissection can make.
const std::vector<Sentence>& sentences();

/// Why a dissection exists or not; empty where that is not decided.
std::string dissection_reason_of(const CheckResult& result);

/// The same of a comparison, whose sides have names.
std::string dissection_reason_of(const CompareResult& result);
/// Whether scaling one side makes a dissection possible; empty where the volumes are equal.
std::string at_scale_text(const CompareResult& result);
/// What was demanded of dihedral angles, and what stands against it.
std::string audit_text(const AuditResult& audit);

/// `x, y, z`, of a point of the plane `x, y`; exact.
std::string coordinates_text(const ExactPoint& point);

}  // namespace cutproof
