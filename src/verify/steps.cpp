// SPDX-License-Identifier: GPL-3.0-or-later
// What each kind of step makes of the pieces that it takes; Run::replace puts the result on the bench and checks it.
#include "number/print.hpp"
#include "verify/motion_text.hpp"
#include "verify/run.hpp"
#include "verify/text.hpp"

#include <algorithm>
#include <map>
#include <utility>

namespace cutproof {

namespace {

std::vector<std::string> names_of(const std::vector<Bench::Position>& pieces) {
  std::vector<std::string> names;
  for (const Bench::Position& piece : pieces) names.push_back(piece->name);
  return names;
}

/// States where something lies whose points p have normal . p from `lowest` to `highest`, beside a plane that misses it:
/// along an axis by coordinates, else by distances.
void state_place_beside(const Plane& plane, const Number& lowest, const Number& highest, Finding* finding) {
  const auto text = [](std::string words) {
    FindingFact fact;
    fact.text = std::move(words);
    return fact;
  };
  const Vector3& n = plane.normal;
  const bool x = !n.x.is_zero(), y = !n.y.is_zero(), z = !n.z.is_zero();
  if (x + y + z == 1) {
    const Number& along = x ? n.x : y ? n.y : n.z;
    Number from = divide(lowest, along), to = divide(highest, along);
    if (to < from) std::swap(from, to);
    finding->statement += finding->statement.empty() ? "along an axis" : ", along an axis";
    finding->facts["axis"] = text(x ? "x" : y ? "y" : "z");
    finding->facts["least"] = fact(from);
    finding->facts["most"] = fact(to);
    finding->facts["plane"] = fact(divide(plane.offset, along));
    return;
  }
  const bool in_front = !(lowest < plane.offset);
  const Number squared_length = dot(n, n);
  const auto distance = [&](const Number& height) {
    FindingFact fact;
    fact.number = length_text(divide(square(height), squared_length));
    return fact;
  };
  finding->facts["side"] = text(in_front ? "to" : "away from");
  finding->facts["near"] = distance(in_front ? lowest - plane.offset : plane.offset - highest);
  finding->facts["far"] = distance(in_front ? highest - plane.offset : plane.offset - lowest);
}

}  // namespace

// --- cut ------------------------------------------------------------------------------------------------------------------

std::vector<Run::NamedSolidPart> Run::halves_of(const std::vector<NamedSolidPart>& parts, const Plane& plane, bool& passes) {
  std::vector<NamedSolidPart> result;
  result.reserve(parts.size());
  for (const NamedSolidPart& part : parts) {
    Halves halves;
    try {
      halves = engine_.cut(part.solid, plane);
    } catch (...) {
      in_hand_ = {part.name.text()};
      throw;
    }
    if (halves.positive != nullptr && halves.negative != nullptr) {
      passes = true;
      result.push_back({part.name.half(1), std::move(halves.positive)});
      result.push_back({part.name.half(2), std::move(halves.negative)});
    } else {
      result.push_back(part);
    }
  }
  return result;
}

void Run::missed(const CutStep& step, std::size_t index, const std::vector<std::string>& names,
                 const std::vector<Solid>& pieces) {
  const Plane& plane = step.planes[index];
  std::vector<Number> heights;
  for (const Solid& piece : pieces)
    for (const Vector3& corner : engine_.boundary(piece).vertices) heights.push_back(dot(plane.normal, corner));
  const auto [lowest, highest] =
      std::minmax_element(heights.begin(), heights.end(), [](const Number& a, const Number& b) { return a < b; });
  Finding missed_piece = finding("plane-misses", step.plane_places.at(index), names);
  if (step.planes.size() > 1) missed_piece.statement = "of several";
  missed_piece.facts = {{"index", fact(index + 1)}};
  state_place_beside(plane, *lowest, *highest, &missed_piece);
  // The plane itself may be at fault as well as what put the piece where it lies.
  for (const std::string& name : names)
    missed_piece.suspects.push_back({name, step_, step.plane_places[index].line, step.plane_places[index].column});
  note_suspects(&missed_piece);
  add(std::move(missed_piece));
}

void Run::apply(const CutStep& step) {
  const std::optional<Selection> taken = take(step.pieces);
  const bool makes_halves = !step.has_names && !step.numbering;  // T.1 and T.2
  const auto drop_names = [&](const std::vector<Bench::Position>& pieces) {
    if (step.has_names) {
      bench_.add_phantom(step.positive.name);
      bench_.add_phantom(step.negative.name);
    }
    if (step.numbering) bench_.add_phantoms(*step.numbering);
    for (const Bench::Position& piece : pieces) {
      if (makes_halves) bench_.add_phantoms_below(piece->name);
      piece->stale = !(step.has_names && (piece->name == step.positive.name || piece->name == step.negative.name)) &&
                     !(step.numbering && step.numbering->makes(piece->name));
    }
  };
  if (!taken) {
    drop_names({});
    if (makes_halves) add_phantoms_below_all();
    return skip();
  }
  const Selection& selection = *taken;
  if (selection.empty()) {
    drop_names({});
    for (const SelectorEntry& entry : step.pieces)
      if (!entry.is_pattern() && makes_halves) bench_.add_phantoms_below(entry.text);
    return skip();
  }
  if (options_.details.motions)
    for (std::size_t i = 0; i < step.planes.size(); ++i)
      result_.steps.back().planes.push_back({point_text(step.planes[i].normal, plan_.dimension),
                                             to_exact(step.planes[i].offset), step.plane_places[i].line,
                                             step.plane_places[i].column});
  if (step.has_names && selection.all().size() != 1)
    throw InvalidStep(
        {step.pieces.front().text, step.pieces.front().place},
        "`into` names the two halves of one piece, but this step takes " + std::to_string(selection.all().size()),
        "leave `into` out: the halves of T are then T.1 and T.2");

  std::vector<Replacement> replacements;
  const auto plan_replacement = [&](const Bench::Position& piece, std::vector<NamedSolidPart> parts) {
    if (parts.size() < 2) return;
    in_hand_ = {piece->name};
    std::vector<Solid> solids;
    for (const NamedSolidPart& part : parts) solids.push_back(part.solid);
    if (!engine_.overlapping_pairs(solids, std::vector<char>(solids.size(), 1)).empty())
      throw ToolFault("the halves of a cut overlap");
    Replacement replacement;
    replacement.consumed = {piece};
    for (std::size_t i = 0; i < parts.size(); ++i) {
      PlacedName name{step.has_names ? std::string() : parts[i].name.text(), current_place()};
      if (step.has_names) name = i == 0 ? step.positive : step.negative;
      replacement.made.push_back({name, std::move(parts[i].solid), piece->stale});
    }
    replacements.push_back(std::move(replacement));
  };

  for (const Bench::Position& piece : selection.by_name) {
    std::vector<NamedSolidPart> parts{{piece->name, piece->solid}};
    bool dropped = false;
    for (std::size_t i = 0; i < step.planes.size(); ++i) {
      bool passes = false;
      parts = halves_of(parts, step.planes[i], passes);
      if (passes) continue;
      dropped = true;
      missed(step, i, {piece->name}, {piece->solid});
    }
    if (dropped) {
      drop_names({piece});
    } else {
      plan_replacement(piece, std::move(parts));
    }
  }
  std::vector<std::vector<NamedSolidPart>> group;
  for (const Bench::Position& piece : selection.by_pattern) group.push_back({{piece->name, piece->solid}});
  for (std::size_t i = 0; i < step.planes.size() && !group.empty(); ++i) {
    bool passes = false;
    for (std::vector<NamedSolidPart>& parts : group) parts = halves_of(parts, step.planes[i], passes);
    if (passes) continue;
    std::vector<Solid> solids;
    for (const Bench::Position& piece : selection.by_pattern) solids.push_back(piece->solid);
    missed(step, i, names_of(selection.by_pattern), solids);
    if (step.has_names) {
      drop_names({selection.by_pattern});
    } else if (step.numbering) {
      bench_.add_phantoms(*step.numbering);
    } else {
      // Which of them the plane should have met is not known: pieces that planes by pattern miss stay as they are.
      for (const std::vector<NamedSolidPart>& parts : group)
        for (const NamedSolidPart& part : parts) bench_.add_phantoms_below(part.name.text());
    }
  }
  for (std::size_t i = 0; i < group.size(); ++i) plan_replacement(selection.by_pattern[i], std::move(group[i]));
  if (step.numbering) number(*step.numbering, replacements);
  if (!replacements.empty()) replace(std::move(replacements));
}

// --- move -----------------------------------------------------------------------------------------------------------------

void Run::note_motion(BenchPiece& piece, const TextPlace& place) const {
  constexpr std::size_t most = 3;
  const bool was_moved = piece.placed.step > 0 && std::holds_alternative<MoveStep>(
                                                      plan_.steps[static_cast<std::size_t>(piece.placed.step) - 1].action);
  if (was_moved) piece.earlier.push_back(piece.placed);
  if (piece.earlier.size() > most) piece.earlier.erase(piece.earlier.begin());
  piece.placed = {step_, place};
}

void Run::apply(const MoveStep& step) {
  // What is taken and found is taken and found on the bench as it is now, before anything has moved.
  struct Going {
    const MoveEntry* entry;
    std::vector<Bench::Position> pieces;
    std::optional<Motion> found;
    const Motion& motion() const { return found ? *found : entry->motion; }
  };
  std::vector<Going> all_going;
  std::map<long, Bench::Position> moved;  // by identity
  for (const MoveEntry& entry : step.entries) {
    const std::optional<Selection> selection = take(entry.pieces);
    if (!selection) continue;
    Going going{&entry, selection->all(), std::nullopt};
    for (const Bench::Position& piece : going.pieces)
      if (!moved.emplace(piece->identity, piece).second)
        throw InvalidStep({entry.pieces.front().text, entry.pieces.front().place},
                          "the piece `" + piece->name + "` is moved twice in this step",
                          "give it one motion: a list of motions is run left to right");
    all_going.push_back(std::move(going));
  }
  for (Going& going : all_going) {
    if (going.entry->parts.empty() || going.pieces.empty()) continue;
    std::vector<Solid> solids;
    for (const Bench::Position& piece : going.pieces) solids.push_back(piece->solid);
    going.found = found_motion(*going.entry, names_of(going.pieces), solids);
    if (going.found) {
      for (RunObserver* observer : observers_) observer->on_found(*going.entry, *going.found);
      continue;
    }
    for (const Bench::Position& piece : going.pieces) moved.erase(piece->identity);
    going.pieces.clear();
  }
  for (const Going& going : all_going) {
    const MoveEntry& entry = *going.entry;
    const std::vector<Bench::Position>& pieces = going.pieces;
    const Motion& motion = going.motion();
    demand_flat(motion);
    for (const Bench::Position& piece : pieces) note_motion(*piece, entry.motion_place);
    if (!pieces.empty() && !motion.is_proper() && !plan_.allow_mirror)
      add(finding("mirrored", entry.motion_place, names_of(pieces)));
    for (const Bench::Position& piece : pieces) {
      in_hand_ = {piece->name};
      dehn_.take(engine_, piece->solid);
      piece->solid = engine_.moved(piece->solid, motion);
      dehn_.put(engine_, piece->solid);
      check_size(piece->solid, piece->name);
      const Number volume = engine_.volume(piece->solid);
      if (volume != piece->volume) {
        Finding changed = finding("volume-changed", current_place(), {piece->name});
        changed.statement = "moved";
        changed.facts = {{"before", fact(piece->volume)}, {"after", fact(volume)}};
        add(std::move(changed));
      }
      total_volume_ = total_volume_ - piece->volume + volume;
      piece->volume = volume;
      result_.steps.back().moved.push_back(piece->name);
      for (RunObserver* observer : observers_) observer->on_moved(*piece, motion);
    }
    if (options_.details.motions && !pieces.empty()) {
      MotionResult told = motion_result(motion, plan_.dimension);
      told.pieces = names_of(pieces);
      told.line = entry.motion_place.line;
      told.column = entry.motion_place.column;
      result_.steps.back().motions.push_back(std::move(told));
    }
  }
  if (step.entries.empty()) return;  // loops left none
  if (moved.empty()) return skip();
  std::vector<char> suspect;
  for (const BenchPiece& piece : bench_.pieces()) suspect.push_back(moved.count(piece.identity) != 0 ? 1 : 0);
  find_overlaps(suspect);
}

// --- join and split -------------------------------------------------------------------------------------------------------

void Run::apply(const JoinStep& step) {
  const std::optional<Selection> selection = take(step.pieces);
  const std::vector<Bench::Position> pieces = selection ? selection->all() : std::vector<Bench::Position>();
  if (pieces.empty()) {
    bench_.add_phantom(step.result.name);
    return skip();
  }
  const std::vector<std::string> names = names_of(pieces);
  in_hand_ = names;
  std::vector<Solid> solids;
  for (const Bench::Position& piece : pieces) solids.push_back(piece->solid);
  Finding joined;  // only until it is known whether they hang together
  joined.pieces = in_hand_;
  note_suspects(&joined);
  if (!replace({{pieces, {{step.result, pieces.size() == 1 ? solids.front() : engine_.joined(solids)}}}})) return;
  if (pieces.size() == 1) return;
  in_hand_ = names;
  const std::size_t groups = engine_.count_linked_groups(solids);
  if (groups < 2) return;
  Finding apart = finding("join-apart", current_place(), in_hand_);
  apart.facts = {{"groups", fact(groups)}};
  apart.suspects = std::move(joined.suspects);
  add(std::move(apart));
}

void Run::apply(const SplitStep& step) {
  const std::optional<Selection> selection = take(step.pieces);
  const std::vector<Bench::Position> pieces = selection ? selection->all() : std::vector<Bench::Position>();
  if (!selection && step.names.empty() && !step.numbering) add_phantoms_below_all();
  if (pieces.empty()) {
    for (const PlacedName& name : step.names) bench_.add_phantom(name.name);
    if (step.numbering) bench_.add_phantoms(*step.numbering);
    if (step.names.empty() && !step.numbering)
      for (const SelectorEntry& entry : step.pieces)
        if (!entry.is_pattern()) bench_.add_phantoms_below(entry.text);
    return skip();
  }
  if (!step.names.empty() && pieces.size() != 1)
    throw InvalidStep({step.pieces.front().text, step.pieces.front().place},
                      "`into` names the parts of one piece, but this step takes " + std::to_string(pieces.size()),
                      "leave `into` out: the parts of T are then T.1, T.2, ...");
  std::vector<Replacement> replacements;
  for (const Bench::Position& piece : pieces) {
    in_hand_ = {piece->name};
    std::vector<Solid> parts = engine_.connected_components(piece->solid);
    if (!step.names.empty() && step.names.size() != parts.size()) {
      Finding finding = expectation("split", current_place(), {piece->name});
      finding.facts = {{"parts", fact(parts.size())}, {"names", fact(step.names.size())}};
      const bool keeps_name = std::any_of(step.names.begin(), step.names.end(),
                                          [&](const PlacedName& name) { return name.name == piece->name; });
      expectation_failed(std::move(finding));
      for (const PlacedName& name : step.names) bench_.add_phantom(name.name);
      piece->stale = !keeps_name;
      return;
    }
    if (step.names.empty() && parts.size() == 1) continue;
    Replacement replacement;
    replacement.consumed = {piece};
    for (std::size_t i = 0; i < parts.size(); ++i)
      replacement.made.push_back(
          {step.names.empty() ? PlacedName{piece->name + "." + std::to_string(i + 1), current_place()} : step.names[i],
           std::move(parts[i]), piece->stale});
    replacements.push_back(std::move(replacement));
  }
  if (step.numbering) number(*step.numbering, replacements);
  if (!replacements.empty()) replace(std::move(replacements));
}

void Run::number(const Numbering& numbering, std::vector<Replacement>& replacements) {
  struct Entry {
    Made* made;
    Boundary boundary;  ///< canonical: its first corner is the smallest
  };
  std::vector<Entry> all;
  for (Replacement& replacement : replacements)
    for (Made& made : replacement.made) {
      in_hand_ = {made.name.name};
      all.push_back({&made, engine_.boundary(made.solid)});
    }
  std::stable_sort(all.begin(), all.end(), [](const Entry& a, const Entry& b) {
    if (const int by_corner = compare(a.boundary.vertices.front(), b.boundary.vertices.front())) return by_corner < 0;
    if (const int by_volume = compare(volume(a.boundary), volume(b.boundary))) return by_volume < 0;
    return moment(a.boundary) < moment(b.boundary);  // the volumes are equal, so this is the order of the centroids
  });
  for (std::size_t i = 0; i < all.size(); ++i) all[i].made->name = {numbering.stem + std::to_string(i + 1), numbering.place};
  for (Replacement& replacement : replacements)  // the bench has them in this order, too
    std::sort(replacement.made.begin(), replacement.made.end(), [](const Made& a, const Made& b) {
      const std::string &left = a.name.name, &right = b.name.name;
      return left.size() != right.size() ? left.size() < right.size() : left < right;
    });
}

}  // namespace cutproof
