// SPDX-License-Identifier: GPL-3.0-or-later
// Two engines behind one: every operation runs on both, and every answer is compared.
#pragma once

#include "solid/engine.hpp"

#include "cutproof/engine.hpp"

namespace cutproof {

/// The engines disagree: one of them is wrong, so nothing can be concluded.
class EnginesDiffer : public ToolFault {
 public:
  using ToolFault::ToolFault;
};

/// Each engine builds its solids by its own path; after each operation the volume, corners and faces of every piece that
/// came out of it, and every other answer, must be equal, else EnginesDiffer is thrown. Answers are the first engine's. Edge
/// terms are handed out from both, for whoever sums them to compare; `bits` is the larger one.
std::unique_ptr<Engine> make_both_engines(std::unique_ptr<Engine> first, std::unique_ptr<Engine> second);

/// A new engine of this kind.
std::unique_ptr<Engine> make_engine(EngineChoice choice);

}  // namespace cutproof
