// SPDX-License-Identifier: GPL-3.0-or-later
// Halves that were named the wrong way round, planes that were shifted, and cuts that are missing.
#include "mend/search.hpp"
#include "solid/congruence.hpp"
#include "solid/edges.hpp"

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

// What of a plane's text says where it lies: its equation, or all of it; of a name the definition. Null when not known.
const Node* text_of_plane(const PlanText& text, const Node* plane) {
  if (plane != nullptr && plane->is_scalar())
    plane = text.definition(text.dimension() == 2 ? "lines" : "planes", plane->text);
  if (plane == nullptr || !plane->is_mapping()) return nullptr;
  const Node* equation = plane->find("equation");
  return equation != nullptr && equation->is_scalar() ? equation : plane;
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
  constexpr std::size_t most_planes = 24, most_heights = 4000;
  for (std::size_t i = failure.plan->steps.size(); i-- > 0;) {
    const auto* cut = std::get_if<CutStep>(&failure.plan->steps[i].action);
    if (cut == nullptr || cut->planes.size() != 1 || failure.trials.done()) continue;
    const int step = static_cast<int>(i) + 1;
    const Node* written = text_of_plane(failure.text, failure.text.node_at(cut->plane_places.front()));
    std::optional<Boundary> whole = failure.evidence->before_cut(step);
    // A piece that the plane misses is still whole.
    const auto missed = failure.evidence->index_of(cut->pieces.front().text);
    if (!whole && missed) whole = failure.evidence->boundary({*missed});
    if (written == nullptr || !whole) continue;
    const Plane& plane = cut->planes.front();
    // Heights of corners of the piece, and of goal, piece and neighbours carried back by the motions of what was cut here.
    std::vector<Number> heights;
    const auto add = [&](const Vector3& point) {
      if (heights.size() < most_heights) heights.push_back(dot(plane.normal, point));
    };
    for (const Vector3& corner : whole->vertices) add(corner);
    std::vector<Vector3> corners = failure.evidence->goals().vertices;
    for (const Vector3& corner : corners) add(corner);
    for (const BenchPiece& piece : failure.evidence->pieces()) {
      if (!missed && !failure.evidence->comes_from_cut(piece, step)) continue;
      const Motion back = failure.evidence->since(piece, step).inverse();
      for (const Vector3& corner : corners) add(back(corner));
      for (const Vector3& corner : whole->vertices) add(back(corner));
    }
    for (std::size_t k = 0; k < failure.evidence->pieces().size() && heights.size() < most_heights; ++k) {
      const BenchPiece& piece = failure.evidence->pieces()[k];
      if (!failure.evidence->comes_from_cut(piece, step)) continue;
      const Motion back = failure.evidence->since(piece, step).inverse();
      for (std::size_t other = 0; other < failure.evidence->pieces().size(); ++other)
        if (other != k && heights.size() < most_heights)
          for (const Vector3& corner : failure.evidence->boundary({other}).vertices) add(back(corner));
    }
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
      std::string text = equation_text(plane.normal, height);
      if (written->is_mapping()) text = "{ equation: " + text + " }";
      failure.trials.mends({"plane",
                            "shift the plane of step " + std::to_string(step),
                            {{written->begin, written->end, text}},
                            Weight::number,
                            false});
    }
  }
}

void mend_missing_cut(const Failure& failure) {
  constexpr std::size_t most_suspects = 20;
  if (!failure.result->mends.empty()) return;  // one more cut would be a worse answer
  const std::vector<Boundary> missing = failure.evidence->holes({});
  if (missing.empty()) return;
  std::string offcut = "offcut";
  while (failure.text.text().find(offcut) != std::string::npos) offcut += "-x";
  for (const std::size_t index : failure.suspects(most_suspects)) {
    const std::string& name = failure.evidence->pieces()[index].name;
    for (const Boundary& region : failure.evidence->excess(index)) {
      const Number wanted = volume(region);
      const SurfaceForm form(region);
      for (const Boundary& hole : missing) {
        if (failure.trials.done()) return;
        if (volume(hole) != wanted) continue;
        const auto motion = find_motion(form, SurfaceForm(hole), Sense::direct, failure.text.ambient());
        if (!motion) continue;
        // The plane is one of the region's own, and exactly the region lies behind it.
        for (const Facet& facet : region.facets) {
          const Plane& plane = facet.plane;
          const bool behind = std::all_of(region.vertices.begin(), region.vertices.end(), [&](const Vector3& corner) {
            return compare(dot(plane.normal, corner), plane.offset) <= 0;
          });
          if (!behind) continue;
          const auto halves = failure.evidence->halves(index, plane);
          if (!halves || halves->second != wanted) continue;
          const std::vector<TextEdit> edits = failure.text.added_steps(
              {"cut: " + scalar_text(name) + ", by: { equation: " + equation_text(plane.normal, plane.offset) +
                   " }, into: [" + scalar_text(name) + ", " + offcut + "]",
               "move: { " + offcut + ": " + motion_text(*motion, failure.text.dimension()) + " }"});
          if (!edits.empty() && failure.trials.mends({"cut", "cut `" + name + "` once more, and move what comes off", edits,
                                                      Weight::addition, false}))
            return;
          break;  // other facets in this plane are the same cut
        }
      }
    }
  }
}

}  // namespace cutproof
