// SPDX-License-Identifier: GPL-3.0-or-later
// Motions that are found: what `lay` and `onto` look at, and what is told when nothing or too much fits.
#include "solid/edges.hpp"
#include "verify/motion_search.hpp"
#include "verify/motion_text.hpp"
#include "verify/run.hpp"
#include "verify/text.hpp"

#include <algorithm>
#include <map>
#include <string>
#include <utility>

namespace cutproof {

namespace {

constexpr std::size_t most_candidates = 100;

/// All boundary that a solid has in a plane: the facets of one side, or why that is no face.
struct FaceInPlane {
  Boundary face;
  std::string fault;  ///< a statement; empty: there is one
};

FaceInPlane face_of(const Boundary& boundary, const Plane& plane) {
  FaceInPlane result{face_in(boundary, plane), {}};
  Boundary other = face_in(boundary, opposite(plane));
  if (result.face.facets.empty()) std::swap(result.face, other);
  if (result.face.facets.empty()) result.fault = "no face";
  if (!other.facets.empty()) result.fault = "faces on both sides";
  return result;
}

FindingFact text_fact(std::string text) {
  FindingFact fact;
  fact.text = std::move(text);
  return fact;
}

/// The middle of all corners.
Vector3 middle_of(const Boundary& surface) {
  Vector3 sum;
  for (const Vector3& corner : surface.vertices) sum = sum + corner;
  return divide(Number(1), Number(static_cast<long>(surface.vertices.size()))) * sum;
}

}  // namespace

std::optional<Motion> Run::found_motion(const MoveEntry& entry, const std::vector<std::string>& names,
                                        const std::vector<Solid>& pieces) {
  Motion all;
  for (const MotionPart& part : entry.parts) {
    if (const auto* written = std::get_if<Motion>(&part)) {
      all = all.then(*written);
      continue;
    }
    const std::optional<Motion> found = found_motion(std::get<MotionSearch>(part), all, names, pieces);
    if (!found) return std::nullopt;
    all = all.then(*found);
  }
  return all;
}

std::optional<Motion> Run::found_motion(const MotionSearch& search, const Motion& before,
                                        const std::vector<std::string>& names, std::vector<Solid> solids) {
  for (Solid& solid : solids)
    if (!before.is_identity()) solid = engine_.moved(solid, before);
  in_hand_ = names;
  const auto no_fit = [&](const std::string& statement, std::map<std::string, FindingFact> facts) {
    Finding none = finding("no-fit", search.place, names);
    none.statement = statement;
    none.facts = std::move(facts);
    if (search.onto == nullptr) none.facts["against"] = fact(std::vector<std::string>{search.against.text});
    left_out(std::move(none));
    return std::nullopt;
  };
  const Boundary moved = engine_.boundary(solids.size() == 1 ? solids.front() : engine_.joined(solids));
  Boundary from, onto;
  if (search.onto != nullptr) {
    from = moved;
    onto = engine_.boundary(built(search.onto));
  } else {
    const std::string& other = search.against.text;
    const BenchPiece* against = bench_.find(other);
    if (against == nullptr) {
      if (bench_.has_phantoms()) return no_fit("nothing there", {});
      throw InvalidStep({other, search.against.place}, "there is no piece `" + other + "` on the bench at this step",
                        bench_.hint_for(other));
    }
    FaceInPlane laid = face_of(moved, *search.face);
    if (!laid.fault.empty()) return no_fit(laid.fault, {});
    FaceInPlane there = face_of(engine_.boundary(against->solid), *search.against_face);
    if (!there.fault.empty()) return no_fit(there.fault + " there", {});
    from = std::move(laid.face);
    onto = turned_inside_out(there.face);
  }
  const SurfaceForm from_form(from), onto_form(onto);
  // Whatever carries one piece onto a solid puts it to the same place.
  std::vector<SurfaceForm> told_apart_by;
  if (search.onto == nullptr || solids.size() > 1)
    for (const Solid& solid : solids) told_apart_by.emplace_back(engine_.boundary(solid));
  const FoundMotions found =
      find_motions(from_form, onto_form, search.corners, plan_.allow_mirror, told_apart_by, ambient());
  const std::string kind = search.onto == nullptr ? "face" : "solid";
  if (found.ways.empty() && found.fits_without_corners) return no_fit(kind + " with corners", {});
  if (found.ways.empty() && found.mirror_only) return no_fit(kind + " mirrored", {});
  if (found.ways.empty() && search.onto == nullptr)
    return no_fit("face", {{"corners", fact(from.vertices.size())},
                           {"area", text_fact(to_exact(surface_area(from)))},
                           {"corners_there", fact(onto.vertices.size())},
                           {"area_there", text_fact(to_exact(surface_area(onto)))}});
  if (found.ways.empty()) {
    const Number own = volume(from), wanted = volume(onto);
    return no_fit(own == wanted ? "solid of this volume" : "solid", {{"own", fact(own)}, {"wanted", fact(wanted)}});
  }
  if (found.ways.size() == 1) return found.ways.front();

  Finding ambiguous = finding("ambiguous", search.place, names);
  ambiguous.statement = kind;
  ambiguous.facts["count"] = fact(found.ways.size());
  if (search.onto == nullptr) ambiguous.facts["against"] = fact(std::vector<std::string>{search.against.text});
  const Vector3 middle = middle_of(onto);
  const std::string middle_words = search.onto == nullptr ? (is_flat() ? "the edge's middle" : "the face's middle")
                                   : is_flat()            ? "the figure's middle"
                                                          : "the solid's middle";
  std::vector<Vector3> points = from.vertices;
  if (is_flat())
    points.erase(std::remove_if(points.begin(), points.end(), [](const Vector3& point) { return !point.z.is_zero(); }),
                 points.end());
  for (std::size_t i = 0; i < found.ways.size() && i < most_candidates; ++i) {
    MotionCandidate candidate;
    candidate.motion = motion_result(found.ways[i], plan_.dimension);
    candidate.motion.pieces = names;
    candidate.motion.line = search.place.line;
    candidate.motion.column = search.place.column;
    candidate.words = i == 0 ? first_way_words(found.ways[0], plan_.dimension)
                             : other_way_words(found.ways[0], found.ways[i], middle_words, middle, search.onto == nullptr,
                                               plan_.dimension);
    for (const auto& [point, image] : corners_that_choose(found, i, points))
      candidate.corners.push_back({point_text(point, plan_.dimension), point_text(image, plan_.dimension)});
    ambiguous.candidates.push_back(std::move(candidate));
  }
  left_out(std::move(ambiguous));
  return std::nullopt;
}

}  // namespace cutproof
