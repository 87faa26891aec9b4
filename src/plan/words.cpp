// SPDX-License-Identifier: GPL-3.0-or-later
// A word that is added to the language is added here, and to the list of those that its place accepts.
#include "plan/words.hpp"

#include <algorithm>
#include <iterator>

namespace cutproof {

namespace {

struct NewerWord {
  int version;
  std::string_view place;  ///< empty: wherever keys are words of the language
  std::string_view word;
};

constexpr NewerWord newer_words[] = {
    {2, "a plan", "note"},
    {2, "a plan", "dimension"},
    {2, "a plan", "lines"},
    {2, "a plan", "figures"},
    {2, "a plan", "parameters"},
    {2, "a plan", "where"},
    {2, "a plan", "cases"},
    {2, "a solid", "half-spaces"},
    {2, "a solid", "zonohedron"},
    {2, "a solid", "archimedean"},
    {2, "a solid", "polygon"},
    {2, "a solid", "mesh"},
    {2, "a plan", "lemmas"},
    {2, "a plan", "added"},
    {2, "a step", "use"},
    {2, "", "for"},
    {2, "", "when"},
    {2, "", "each"},
    {2, "a step", "steps"},
    {2, "a function", "floor"},
    {2, "a function", "ceil"},
    {2, "a function", "mod"},
    {2, "a motion", "align"},
    {2, "a motion", "lay"},
    {2, "a motion", "onto"},
    {2, "a motion", "against"},
    {2, "a motion", "corners"},
    {2, "`expect`", "congruent"},
    {2, "`expect`", "shapes"},
    {2, "`expect`", "holds"},
    {2, "`expect`", "area"},
};

}  // namespace

int version_of_word(std::string_view place, std::string_view word) {
  const auto* const found = std::find_if(std::begin(newer_words), std::end(newer_words), [&](const NewerWord& each) {
    return each.word == word && (each.place.empty() || each.place == place);
  });
  return found == std::end(newer_words) ? 1 : found->version;
}

}  // namespace cutproof
