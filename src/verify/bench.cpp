// SPDX-License-Identifier: GPL-3.0-or-later
// Names and selections only; nothing here decides a verdict.
#include "verify/bench.hpp"

#include "verify/names.hpp"

#include <algorithm>

namespace cutproof {

std::vector<std::list<BenchPiece>::iterator> Selection::all() const {
  auto both = by_name;
  both.insert(both.end(), by_pattern.begin(), by_pattern.end());
  return both;
}

std::vector<std::string> Bench::names() const {
  std::vector<std::string> names;
  for (const BenchPiece& piece : pieces_) names.push_back(piece.name);
  return names;
}

Bench::Position Bench::insert(Position before, BenchPiece piece) {
  if (has(piece.name)) throw ToolFault("two pieces of one name on the bench: " + piece.name);
  phantoms_.erase(piece.name);
  const Position position = pieces_.insert(before, std::move(piece));
  by_name_.emplace(position->name, position);
  return position;
}

const BenchPiece* Bench::find(const std::string& name) const {
  const auto known = by_name_.find(name);
  return known == by_name_.end() ? nullptr : &*known->second;
}

Bench::Position Bench::erase(Position piece, int step, const TextPlace& place) {
  used_up_[piece->name] = {step, place};
  by_name_.erase(piece->name);
  return pieces_.erase(piece);
}

Selection Bench::select(const Selector& selector, const ByPlace& by_place) {
  Selection selection;
  std::unordered_set<std::string> taken;
  for (const SelectorEntry& entry : selector) {
    if (entry.is_pattern()) continue;
    const auto known = by_name_.find(entry.text);
    if (known != by_name_.end()) {
      if (taken.insert(entry.text).second) selection.by_name.push_back(known->second);
      continue;
    }
    if (is_phantom(entry.text)) continue;
    const std::string message = "there is no piece `" + entry.text + "` on the bench at this step";
    if (has_phantoms()) {
      selection.failures.push_back(message);
      continue;
    }
    const auto used = used_up_.find(entry.text);
    throw InvalidStep({entry.text, entry.place}, message,
                      used == used_up_.end() ? bench_hint(entry.text, names())
                                             : bench_hint(entry.text, names(), used->second.step, used->second.place.line));
  }
  for (const SelectorEntry& entry : selector) {
    if (!entry.is_pattern()) continue;
    bool any = false;
    if (entry.by_place != nullptr) {
      for (const Position& piece : by_place(entry)) {
        any = true;
        if (taken.insert(piece->name).second) selection.by_pattern.push_back(piece);
      }
      if (!any) selection.void_places.push_back(&entry);
      continue;
    }
    for (Position piece = pieces_.begin(); piece != pieces_.end(); ++piece) {
      if (!matches(entry.text, piece->name)) continue;
      any = true;
      if (taken.insert(piece->name).second) selection.by_pattern.push_back(piece);
    }
    if (any || may_match_phantom(entry.text)) continue;
    const std::string message = "the pattern `" + entry.text + "` matches no piece on the bench at this step";
    if (!has_phantoms()) throw InvalidStep({entry.text, entry.place}, message, bench_hint(entry.text, names()));
    selection.failures.push_back(message);
  }
  return selection;
}

std::string Bench::hint_for(const std::string& name) const {
  return bench_hint(name, names());
}

void Bench::add_phantom(const std::string& name) {
  if (!has(name)) phantoms_.insert(name);
}

void Bench::add_phantoms_below(const std::string& name) {
  phantom_stems_.insert(name + ".");
}

bool Bench::is_phantom(const std::string& name) const {
  if (has(name)) return false;
  if (phantoms_.count(name) != 0) return true;
  for (std::size_t dot = name.find('.'); dot != std::string::npos; dot = name.find('.', dot + 1))
    if (phantom_stems_.count(name.substr(0, dot + 1)) != 0) return true;
  return std::any_of(phantom_numberings_.begin(), phantom_numberings_.end(), [&](const std::string& stem) {
    return Numbering{stem, {}}.makes(name.substr(0, name.find('.', stem.size())));
  });
}

bool Bench::may_match_phantom(const std::string& pattern) const {
  for (const std::string& phantom : phantoms_)
    if (matches(pattern, phantom)) return true;
  const std::string head = pattern == "all" ? "" : pattern.substr(0, pattern.find('*'));
  const auto may_match = [&](const std::string& stem) {
    const std::size_t common = std::min(head.size(), stem.size());
    return head.compare(0, common, stem, 0, common) == 0;
  };
  return std::any_of(phantom_stems_.begin(), phantom_stems_.end(), may_match) ||
         std::any_of(phantom_numberings_.begin(), phantom_numberings_.end(), may_match);
}

bool OverlapLineage::is_reported(long a, long b) const {
  const auto known = reported_.find(a);
  return known != reported_.end() && known->second.count(b) != 0;
}

void OverlapLineage::report(long a, long b) {
  reported_[a].insert(b);
  reported_[b].insert(a);
}

void OverlapLineage::inherit(long descendant, long ancestor) {
  const auto known = reported_.find(ancestor);
  if (known == reported_.end() || descendant == ancestor) return;
  const std::unordered_set<long> others = known->second;
  for (const long other : others)
    if (other != descendant) report(descendant, other);
}

}  // namespace cutproof
