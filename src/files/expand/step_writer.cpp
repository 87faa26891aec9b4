// SPDX-License-Identifier: GPL-3.0-or-later
#include "files/expand/step_writer.hpp"

#include "files/expand/lemma_writer.hpp"
#include "number/print.hpp"
#include "plan/exact_value.hpp"
#include "verify/names.hpp"

#include <algorithm>
#include <set>

namespace cutproof {

namespace {

void add_new(PieceNames* names, const std::string& name) {
  if (std::find(names->begin(), names->end(), name) == names->end()) names->push_back(name);
}

/// A pattern that takes this piece and no other one on the bench; empty when there is none.
std::string pattern_for(const std::string& name, const PieceNames& bench) {
  for (std::size_t at = name.size();; --at) {
    const std::string pattern = name.substr(0, at) + "*" + name.substr(at);
    if (std::none_of(bench.begin(), bench.end(),
                     [&](const std::string& other) { return other != name && matches(pattern, other); }))
      return pattern;
    if (at == 0) return "";
  }
}

}  // namespace

void StepWriter::write_steps() {
  for (index_ = 0; index_ < plan_.steps.size(); ++index_) {
    const Step& step = plan_.steps[index_];
    done_ = &record_.step(index_);
    std::string title = step.title;
    for (const std::string& group : step.groups) {
      if (title.empty() && &group == &step.groups.back()) {
        title = group;
      } else {
        text_.comment(group);
      }
    }
    text_.title(std::move(title));
    text_.note(step.note);
    std::visit([this](const auto& action) { write(action); }, step.action);
  }
  text_.title("");
  text_.note("");
}

template <class Keep>
PieceNames StepWriter::named(const Selector& selector, const Keep& keep) const {
  PieceNames names;
  for (const SelectorEntry& entry : selector) {
    if (entry.by_place == nullptr) {
      add_new(&names, entry.text);
      continue;
    }
    const auto taken = done_->selected.find(entry.by_place.get());
    if (taken == done_->selected.end()) continue;
    for (const std::string& name : taken->second)
      if (keep(name)) add_new(&names, name);
  }
  return names;
}

PieceNames StepWriter::named(const Selector& selector) const {
  return named(selector, [](const std::string&) { return true; });
}

std::string StepWriter::written(const std::string& name) const {
  return is_of_lemma() && name == "all" ? setting_.prefix + "*" : setting_.prefix + name;
}

PieceNames StepWriter::written(PieceNames names) const {
  for (std::string& name : names) name = written(name);
  return names;
}

PlanValue StepWriter::written(const Plane& plane) const {
  return written_value(shifted(plane, setting_.aside));
}

PlanValue StepWriter::written(const Motion& motion) const {
  return written_value(shifted(motion, setting_.aside));
}

PlanValue StepWriter::written(const SolidPointer& solid) const {
  if (is_zero(setting_.aside)) return written_value(*solid);
  return written_value(*make_solid(PlacedDescription{solid, Motion::translation(setting_.aside), Number(1), {}}));
}

void StepWriter::write(const CutStep& cut) {
  if (cut.planes.empty()) return text_.comment("here nothing is cut");
  const bool by_place = std::any_of(cut.pieces.begin(), cut.pieces.end(),
                                    [](const SelectorEntry& entry) { return entry.by_place != nullptr; });
  std::set<std::string> used_up;
  for (const RecordedChange& change : done_->changes)
    for (const RecordedPiece& piece : change.consumed) used_up.insert(piece.name);
  const PieceNames& bench = done_->bench;
  PieceNames pieces = named(cut.pieces), aside;
  if (by_place && cut.planes.size() == 1 && !used_up.empty()) {
    pieces = named(cut.pieces, [&](const std::string& name) { return used_up.count(name) != 0; });
  } else if (by_place && cut.planes.size() > 1) {
    // Each plane may miss some of them, as those of a pattern.
    PieceNames patterns;
    for (const SelectorEntry& entry : cut.pieces)
      if (entry.by_place == nullptr) patterns.push_back(entry.text);
    for (const std::string& name : pieces) {
      if (std::find(patterns.begin(), patterns.end(), name) != patterns.end()) continue;
      std::string pattern = pattern_for(name, bench);
      if (pattern.empty()) {  // others get another name for a while
        pattern = name + "*";
        for (const std::string& other : bench)
          if (other != name && matches(pattern, other)) add_new(&aside, other);
      }
      patterns.push_back(std::move(pattern));
    }
    pieces = std::move(patterns);
  }
  PieceNames meanwhile;
  std::size_t number = 0;
  for (const std::string& name : aside) {
    std::string other;
    do {
      other = "aside-" + std::to_string(++number);
    } while (std::find(bench.begin(), bench.end(), other) != bench.end());
    meanwhile.push_back(other);
    text_.join({written(name)}, written(other));
    for (std::string& piece : pieces)
      if (piece == name + "*") piece = other + "*";
  }
  std::vector<PlanValue> planes;
  for (const Plane& plane : cut.planes) planes.push_back(written(plane));
  PieceNames into;
  if (cut.has_names) into = written({cut.positive.name, cut.negative.name});
  if (cut.numbering) into = {written(cut.numbering->stem) + "*"};
  text_.cut(written(pieces), planes, into);
  for (std::size_t i = 0; i < aside.size(); ++i) text_.join({written(meanwhile[i])}, written(aside[i]));
}

void StepWriter::write(const MoveStep& move) {
  std::vector<std::pair<PieceNames, PlanValue>> entries;
  for (const MoveEntry& entry : move.entries) {
    PieceNames pieces = written(named(entry.pieces));
    const auto found = done_->found.find(&entry);
    if (pieces.empty() || (!entry.parts.empty() && found == done_->found.end())) continue;
    entries.emplace_back(std::move(pieces), written(entry.parts.empty() ? entry.motion : found->second));
  }
  if (entries.empty()) return text_.comment("here nothing is moved");
  text_.move(entries);
}

void StepWriter::write(const JoinStep& join) {
  text_.join(written(named(join.pieces)), written(join.result.name));
}

void StepWriter::write(const SplitStep& split) {
  PlanValue step = PlanValue::mapping();
  step.add("split", pieces_value(written(named(split.pieces))));
  PieceNames names;
  for (const PlacedName& name : split.names) names.push_back(written(name.name));
  if (!names.empty()) step.add("into", list_value(names));
  if (split.numbering) step.add("into", written(split.numbering->stem) + "*");
  text_.add(step);
}

void StepWriter::write(const UseStep& use) {
  if (!done_->use) throw ToolFault("a lemma is written out that did not fit");
  LemmaUse written_out;
  written_out.lemma = use.lemma.get();
  written_out.backwards = use.backwards;
  written_out.setting = {setting_.prefix + prefix_of_use(index_ + 1, done_->bench),
                         setting_.aside + record_.way_aside(index_)};
  const Motion here = Motion::translation(-setting_.aside), back = Motion::translation(setting_.aside);
  written_out.taken.resize(use.taken.size());
  for (std::size_t i = 0; i < use.taken.size(); ++i)
    written_out.taken[use.taken[i].index] = {written(use.taken[i].piece.text), here.then(done_->use->there[i])};
  for (const UseStep::Made& made : use.made)
    written_out.made.push_back({written(made.name.name), done_->use->back.then(back)});
  write_lemma(text_, records_, written_out);
}

void StepWriter::write(const ExpectStep& expect) {
  PlanValue expected = PlanValue::mapping();
  if (expect.piece_count && !is_of_lemma()) expected.add("pieces", *expect.piece_count);
  PlanValue volumes = PlanValue::mapping(), invariants = PlanValue::mapping(), audits = PlanValue::list();
  for (const auto& [entry, volume, place] : expect.volumes) volumes.add(written(entry.text), to_exact(volume));
  if (!volumes.entries().empty()) expected.add("volume", volumes);
  if (expect.connected) expected.add("connected", pieces_value(written(named(*expect.connected))));
  if (expect.filled != nullptr && expect.filled_by.empty() && !is_of_lemma()) {
    expected.add("filled", written(expect.filled));
  } else if (expect.filled != nullptr) {
    const PieceNames by = expect.filled_by.empty() ? PieceNames{"all"} : named(expect.filled_by);
    PlanValue filled = PlanValue::mapping();
    filled.add("solid", written(expect.filled)).add("by", pieces_value(written(by)));
    expected.add("filled", filled);
  }
  for (const AngleAudit& audit : expect.angles) {
    PlanValue angles = PlanValue::mapping(), allowed = PlanValue::list(), exceptions = PlanValue::mapping();
    for (const Angle& angle : audit.allowed) allowed.add(to_exact(angle));
    angles.add("of", written(audit.piece.text)).add("all", allowed);
    for (const auto& [angle, count] : audit.exceptions) exceptions.add(to_exact(angle), count);
    if (!exceptions.entries().empty()) angles.add("except", exceptions);
    audits.add(angles);
  }
  PlanValue newer = PlanValue::mapping();
  // The corners of a figure are not all edges of the board that it becomes.
  if (!audits.entries().empty()) (plan_.dimension == 2 ? newer : expected).add("angles", audits);
  for (const auto& [entry, place] : expect.dehn_zero) invariants.add(written(entry.text), 0);
  if (!invariants.entries().empty()) expected.add("dehn", invariants);
  if (expect.congruent) {
    PlanValue congruent = pieces_value(written(named(*expect.congruent)));
    if (expect.congruent_to != nullptr) {
      PlanValue to_solid = PlanValue::mapping();
      to_solid.add("of", congruent).add("to", written(expect.congruent_to));
      congruent = to_solid;
    }
    newer.add("congruent", congruent);
  }
  if (expect.shape_count) {
    PlanValue shapes = *expect.shape_count;
    if (!expect.shapes_of.empty()) {
      shapes = PlanValue::mapping();
      shapes.add("of", pieces_value(written(named(expect.shapes_of)))).add("count", *expect.shape_count);
    }
    newer.add("shapes", shapes);
  }
  PlanValue conditions = PlanValue::list();
  for (const DecidedCondition& condition : expect.conditions) conditions.add(condition.text);
  if (!conditions.entries().empty()) newer.add("holds", conditions);
  if (!newer.entries().empty()) text_.comment("here version 2 also expects " + on_one_line(newer));
  if (expect.piece_count && is_of_lemma())
    text_.comment("here the lemma has " + std::to_string(*expect.piece_count) + " pieces");
  if (expected.entries().empty()) return;
  PlanValue step = PlanValue::mapping();
  step.add("expect", expected);
  text_.add(step);
}

}  // namespace cutproof
