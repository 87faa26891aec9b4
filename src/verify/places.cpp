// SPDX-License-Identifier: GPL-3.0-or-later
// Selections by place: which pieces lie where a step asks for them. What asks least is asked first, and of what is left
// only.
#include "verify/run.hpp"
#include "verify/text.hpp"

#include <algorithm>
#include <set>

namespace cutproof {

namespace {

using Positions = std::vector<Bench::Position>;

template <class Keep>
void keep_where(Positions* pieces, const Keep& keep) {
  pieces->erase(std::remove_if(pieces->begin(), pieces->end(), [&](const Bench::Position& piece) { return !keep(piece); }),
                pieces->end());
}

void keep_marked(Positions* pieces, const std::vector<char>& marks) {
  std::size_t i = 0;
  keep_where(pieces, [&](const Bench::Position&) { return marks.at(i++) != 0; });
}

std::vector<Solid> solids_of(const Positions& pieces) {
  std::vector<Solid> solids;
  for (const Bench::Position& piece : pieces) solids.push_back(piece->solid);
  return solids;
}

std::set<std::string> names_of(const Positions& pieces) {
  std::set<std::string> names;
  for (const Bench::Position& piece : pieces) names.insert(piece->name);
  return names;
}

}  // namespace

std::vector<Bench::Position> Run::pieces_at(const PlaceSelection& place) {
  Positions pieces;
  if (place.from) {
    const Selection from = select(*place.from);
    note_failures(from);
    const std::set<std::string> named = names_of(from.all());
    for (Bench::Position piece = bench_.pieces().begin(); piece != bench_.pieces().end(); ++piece)
      if (named.count(piece->name) != 0) pieces.push_back(piece);
  } else {
    for (Bench::Position piece = bench_.pieces().begin(); piece != bench_.pieces().end(); ++piece) pieces.push_back(piece);
  }
  const auto leave_out = [&](const Positions& others) {
    const std::set<std::string> names = names_of(others);
    keep_where(&pieces, [&](const Bench::Position& piece) { return names.count(piece->name) == 0; });
  };
  if (place.but) {
    const Selection but = select(*place.but);
    note_failures(but);
    leave_out(but.all());
  }
  in_hand_.clear();
  if (place.inside != nullptr) keep_marked(&pieces, engine_.inside(solids_of(pieces), built(place.inside)));
  if (place.above)
    keep_where(&pieces, [this, beyond = opposite(*place.above)](const Bench::Position& piece) {
      return !engine_.reaches_beyond(piece->solid, beyond);
    });
  if (place.below)
    keep_where(&pieces, [&](const Bench::Position& piece) { return !engine_.reaches_beyond(piece->solid, *place.below); });
  if (place.holding)
    keep_where(&pieces, [&](const Bench::Position& piece) { return engine_.holds(piece->solid, *place.holding); });
  if (place.touching) {
    const Selection touched = select(*place.touching);
    note_failures(touched);
    leave_out(touched.all());
    keep_marked(&pieces, engine_.touching(solids_of(pieces), solids_of(touched.all())));
  }
  return pieces;
}

Selection Run::select(const Selector& selector) {
  return bench_.select(selector, [this](const SelectorEntry& entry) {
    std::vector<Bench::Position> pieces = pieces_at(*entry.by_place);
    for (RunObserver* observer : observers_) observer->on_selected(*entry.by_place, pieces);
    return pieces;
  });
}

std::optional<Selection> Run::take(const Selector& selector) {
  Selection selection = select(selector);
  note_failures(selection);
  if (selection.void_places.empty()) return selection;
  for (const SelectorEntry* entry : selection.void_places) nothing_selected(*entry);
  return std::nullopt;
}

void Run::nothing_selected(const SelectorEntry& entry) {
  // How many pieces each condition takes by itself shows which one is too narrow.
  const PlaceSelection& all = *entry.by_place;
  std::string each;
  std::size_t conditions = 0;
  const auto count = [&](const std::string& key, const auto& member) {
    if (!(all.*member) || bench_.has_phantoms()) return;
    ++conditions;
    PlaceSelection one;
    one.from = all.from;
    one.*member = all.*member;
    const std::size_t taken = pieces_at(one).size();
    each += (each.empty() ? "" : ", ") + ("`" + key + "` takes ") + std::to_string(taken);
  };
  count("above", &PlaceSelection::above);
  count("below", &PlaceSelection::below);
  count("holding", &PlaceSelection::holding);
  count("inside", &PlaceSelection::inside);
  count("touching", &PlaceSelection::touching);
  count("but", &PlaceSelection::but);
  Finding nothing = finding("nothing-selected", entry.place);
  nothing.facts["asked"].text = entry.text;
  if (conditions > 1) {
    nothing.statement = "of several conditions";
    nothing.facts["pieces_there"] = fact(bench_.size());
    nothing.facts["each"].text = each;
  }
  left_out(std::move(nothing));
}

void Run::left_out(Finding finding) {
  if (bench_.has_phantoms()) {
    result_.consequences.push_back(told(std::move(finding)));
    return;
  }
  add(std::move(finding));
}

void Run::add_phantoms_below_all() {
  for (const BenchPiece& piece : bench_.pieces()) bench_.add_phantoms_below(piece.name);
}

}  // namespace cutproof
