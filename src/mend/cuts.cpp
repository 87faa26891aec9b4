// SPDX-License-Identifier: GPL-3.0-or-later
// Halves that were named the wrong way round, and planes that were shifted.
#include "mend/search.hpp"
#include "number/print.hpp"

#include <algorithm>

namespace cutproof {
namespace {

struct NamedCut {
  int step;
  std::string words;
  std::vector<TextEdit> exchanged;
};

// The cuts whose halves have names, with these names exchanged.
std::vector<NamedCut> named_cuts(const Failure& failure) {
  std::vector<NamedCut> cuts;
  for (std::size_t i = 0; i < failure.plan->steps.size(); ++i) {
    const auto* cut = std::get_if<CutStep>(&failure.plan->steps[i].action);
    if (cut == nullptr || !cut->has_names) continue;
    const Node* step = failure.text.mapping_with_key_at(failure.plan->steps[i].place);
    const Node* into = step == nullptr ? nullptr : step->find("into");
    if (into == nullptr || into->entries.size() != 2) continue;
    const auto range = [&](const Node::Entry& entry) {
      return into->is_mapping() ? std::pair(entry.key_begin, entry.key_end) : std::pair(entry.value.begin, entry.value.end);
    };
    const auto [a_begin, a_end] = range(into->entries[0]);
    const auto [b_begin, b_end] = range(into->entries[1]);
    const std::string& text = failure.text.text();
    cuts.push_back({static_cast<int>(i) + 1,
                    "`" + cut->positive.name + "` and `" + cut->negative.name + "`",
                    {{a_begin, a_end, text.substr(b_begin, b_end - b_begin)},
                     {b_begin, b_end, text.substr(a_begin, a_end - a_begin)}}});
  }
  return cuts;
}

// Steps that findings point at come first.
std::vector<int> suspect_steps(const CheckResult& result) {
  std::vector<int> steps;
  for (const Finding& finding : result.findings)
    for (const Suspect& suspect : finding.suspects)
      if (std::find(steps.begin(), steps.end(), suspect.step) == steps.end()) steps.push_back(suspect.step);
  return steps;
}

// The number that an equation such as `x + 2*y = 1` has on one side alone, and the side.
const Node* equation_of(const PlanText& text, const Node* plane) {
  if (plane != nullptr && plane->is_scalar()) plane = text.definition("planes", plane->text);
  return plane == nullptr || !plane->is_mapping() ? nullptr : plane->find("equation");
}

}  // namespace

void mend_halves(const Failure& failure) {
  std::vector<NamedCut> cuts = named_cuts(failure);
  const std::vector<int> steps = suspect_steps(*failure.result);
  const auto rank = [&](const NamedCut& cut) { return std::find(steps.begin(), steps.end(), cut.step) - steps.begin(); };
  std::stable_sort(cuts.begin(), cuts.end(), [&](const NamedCut& a, const NamedCut& b) { return rank(a) < rank(b); });
  for (const NamedCut& cut : cuts) {
    if (failure.trials.done()) return;
    failure.trials.mends({"halves", "exchange the names of the halves " + cut.words, cut.exchanged, Weight::change, false});
  }
  for (std::size_t i = 0; i < cuts.size(); ++i) {
    for (std::size_t k = i + 1; k < cuts.size(); ++k) {
      if (failure.trials.done()) return;
      std::vector<TextEdit> both = cuts[i].exchanged;
      both.insert(both.end(), cuts[k].exchanged.begin(), cuts[k].exchanged.end());
      failure.trials.mends({"halves", "exchange the names of the halves " + cuts[i].words + ", and of " + cuts[k].words,
                            std::move(both), Weight::change, false});
    }
  }
}

void mend_planes(const Failure& failure) {
  constexpr std::size_t most_planes = 24;
  for (std::size_t i = failure.plan->steps.size(); i-- > 0;) {
    const auto* cut = std::get_if<CutStep>(&failure.plan->steps[i].action);
    if (cut == nullptr || cut->planes.size() != 1 || failure.trials.done()) continue;
    const Node* equation = equation_of(failure.text, failure.text.node_at(cut->plane_places.front()));
    std::optional<Boundary> whole = failure.evidence->before_cut(static_cast<int>(i) + 1);
    // A piece that the plane misses is still whole.
    const auto missed = failure.evidence->index_of(cut->pieces.front().text);
    if (!whole && missed) whole = failure.evidence->boundary({*missed});
    if (equation == nullptr || !equation->is_scalar() || !whole) continue;
    const Plane& plane = cut->planes.front();
    // Heights of corners of the piece, of the goal, and of the goal carried back by the motions of pieces that come from it.
    std::vector<Number> heights;
    const auto add = [&](const Vector3& point) { heights.push_back(dot(plane.normal, point)); };
    for (const Vector3& corner : whole->vertices) add(corner);
    const std::vector<Vector3> corners = failure.evidence->goals().vertices;
    for (const BenchPiece& piece : failure.evidence->pieces()) {
      const MoveEntry* entry = failure.evidence->last_move(piece);
      if (entry == nullptr || heights.size() > 2000) continue;
      const Motion back = entry->motion.inverse();
      for (const Vector3& corner : corners) add(back(corner));
      for (const Vector3& corner : whole->vertices) add(back(corner));
    }
    for (const Vector3& corner : corners) add(corner);
    // Nearest to the plane first; only planes that pass through the piece.
    Number lowest = heights.front(), highest = heights.front();
    for (const Vector3& corner : whole->vertices) {
      const Number height = dot(plane.normal, corner);
      if (height < lowest) lowest = height;
      if (highest < height) highest = height;
    }
    std::stable_sort(heights.begin(), heights.end(), [&](const Number& a, const Number& b) {
      const int nearer = compare(absolute(a - plane.offset), absolute(b - plane.offset));
      return nearer != 0 ? nearer < 0 : a < b;
    });
    heights.erase(std::unique(heights.begin(), heights.end()), heights.end());
    std::size_t tried = 0;
    for (const Number& height : heights) {
      if (tried == most_planes || failure.trials.done()) break;
      if (!(lowest < height) || !(height < highest) || height == plane.offset) continue;
      ++tried;
      // The sides are divided by the leading coefficient, as people write them; the normal may not turn round.
      std::string left;
      Number scale(1);
      for (int axis = 0; axis < 3; ++axis)
        if (!coordinate(plane.normal, axis).is_zero()) {
          scale = absolute(coordinate(plane.normal, axis));
          break;
        }
      for (int axis = 0; axis < 3; ++axis) {
        const Number factor = divide(coordinate(plane.normal, axis), scale);
        if (factor.is_zero()) continue;
        const char* name = axis == 0 ? "x" : axis == 1 ? "y" : "z";
        const bool negative = factor == Number(-1);
        if (factor == Number(1) || negative) {
          left += (left.empty() ? (negative ? "-" : "") : (negative ? " - " : " + ")) + std::string(name);
        } else {
          left += (left.empty() ? "" : " + ") + std::string("(") + to_exact(factor) + ")*" + name;
        }
      }
      const std::string text = left + " = " + to_exact(divide(height, scale));
      failure.trials.mends({"plane",
                            "shift the plane of step " + std::to_string(i + 1),
                            {{equation->begin, equation->end, "\"" + text + "\""}},
                            Weight::number,
                            false});
    }
  }
}

}  // namespace cutproof
