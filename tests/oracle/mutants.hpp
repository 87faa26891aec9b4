// SPDX-License-Identifier: GPL-3.0-or-later
// Single faults, put into the text of a plan as a slip of the hand would.
#pragma once

#include <cstdint>
#include <random>
#include <string>
#include <vector>

namespace cutproof::oracle {

/// The same seed draws the same on every system.
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : engine_(seed) {}
  std::size_t below(std::size_t size) { return static_cast<std::size_t>(engine_() % size); }
  template <class Container>
  const typename Container::value_type& one_of(const Container& choices) {
    return choices[below(choices.size())];
  }

 private:
  std::mt19937_64 engine_;
};

struct Mutant {
  std::string kind;   ///< `step dropped`
  std::string fault;  ///< the changed text
  std::string text;   ///< the whole plan
};

/// Up to `count` different mutants of a plan written in block style, with its steps two columns in, all kinds in turn.
std::vector<Mutant> mutants_of(const std::string& plan, std::size_t count, std::uint64_t seed);

}  // namespace cutproof::oracle
