// SPDX-License-Identifier: GPL-3.0-or-later
// What the files of FieldTower share.
#pragma once

#include "number/extension.hpp"
#include "number/tower.hpp"

#include <map>

namespace cutproof {

struct FieldTower::State {
  NumberLimits limits;
  FieldProgress progress;
  const Field* bottom = &Field::rational();    ///< what it stands on; owned by others
  std::vector<std::unique_ptr<Field>> fields;  ///< above the bottom, lowest first
  struct Root {
    Number radicand;
    unsigned long n;
    Number value;
  };
  std::vector<Root> roots;                    ///< of radicands without rational powers in them
  std::map<std::string, Number> named_roots;  ///< of polynomials and cosines, by the text that names them
  struct Cosine {
    unsigned long numerator, conductor;  ///< in lowest terms, below 1/2
    Number value;
  };
  std::vector<Cosine> cosines;  ///< of 2*pi*numerator/conductor
};

/// Throws LimitReached: adjoining `text` would multiply the field's degree by `by`, or by at most so much.
[[noreturn]] void degree_exceeded(const Field& field, const NumberLimits& limits, const std::string& text, long by,
                                  bool at_most);

Number integer_number(const fmpz_t value, const Field& field);

}  // namespace cutproof
