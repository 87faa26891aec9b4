// SPDX-License-Identifier: GPL-3.0-or-later
// A lemma that a plan uses, written out as steps of this plan: forwards its own steps, backwards what undoes them.
#pragma once

#include "files/expand/plain_text.hpp"
#include "files/expand/record.hpp"
#include "files/expand/step_writer.hpp"

#include <string>
#include <vector>

namespace cutproof {

/// A use of a lemma as the bench of the written plan has it.
struct LemmaUse {
  struct Side {
    std::string name;  ///< of the piece
    /// Of a piece that is taken: onto the solid of the lemma. Of one that is made: from there to where it comes to lie.
    Motion motion;
  };
  const Lemma* lemma = nullptr;
  bool backwards = false;
  std::vector<Side> taken, made;  ///< in the order of the lemma's start and goals, backwards of its goals and start
  Setting setting;
};

/// A beginning for the names of all pieces of a use, which none on the bench has.
std::string prefix_of_use(std::size_t step, const std::vector<std::string>& bench);
/// Throws InvalidInput where version 1 has no words for it, LimitReached for too many steps.
void write_lemma(PlainSteps& text, const RunRecords& records, const LemmaUse& use);

/// Of a plane and of a motion that are carried along by a shift.
Plane shifted(const Plane& plane, const Vector3& by);
Motion shifted(const Motion& motion, const Vector3& by);

}  // namespace cutproof
