// SPDX-License-Identifier: GPL-3.0-or-later
// Exact values as the texts that stand in results, and as short words for messages.
#pragma once

#include "cutproof/result.hpp"
#include "plan/exact_plan.hpp"
#include "solid/engine.hpp"

#include <string>
#include <vector>

namespace cutproof {

Value value_text(const Number& number);
/// The square root.
Value length_text(const Number& squared_length);
/// In dimension 2 a point has no z: its text is empty.
ExactPoint point_text(const Vector3& point, int dimension = 3);
ExactBox box_text(const Box& box, int dimension = 3);
FieldResult field_text(const Field& field);

/// The exact text where it is short, else about eight digits of the decimal after `about`.
std::string short_text(const Number& number);
std::string short_text(const Vector3& point, int dimension = 3);
/// `A`, `A and B`, `A, B and C`, `A, B, C and 5 more`; each name in back quotes.
std::string list_text(const std::vector<std::string>& names);

/// Values that findings state.
FindingFact fact(const Number& number);
FindingFact fact(const Vector3& point);
FindingFact fact(std::size_t count);
FindingFact fact(std::vector<std::string> names);

/// Fills volume, box and corners of a finding from a region.
void describe_region(const Region& region, Finding& finding);

/// Makes a finding one about a plan of dimension 2: its words are those of the plane, and its points lose their z (of
/// corners, which lie below and above each other there, the lower ones are kept).
void flatten(Finding* finding);

/// Line, column and pass of a finding; the pass is put in front of its message, where it has one already.
void set_place(Finding& finding, const TextPlace& place);

}  // namespace cutproof
