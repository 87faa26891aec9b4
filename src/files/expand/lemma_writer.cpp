// SPDX-License-Identifier: GPL-3.0-or-later
// Forwards a lemma is carried out by its own steps. Backwards its steps are undone, the last one first: what a step cut is
// joined, what it moved is moved back, and what it joined is cut by planes of the faces between the parts. These cut
// through more than they should where the parts are not convex; then the cells of a part are joined again.
#include "files/expand/lemma_writer.hpp"

#include "files/expand/separation.hpp"
#include "plan/exact_value.hpp"
#include "plan/plan_index.hpp"

#include <algorithm>
#include <map>
#include <set>

namespace cutproof {

namespace {

/// A name for a piece that is one of the lemma's solids: goals may be called by other names than pieces.
std::string name_for(const NamedSolid& solid, std::size_t index) {
  return is_wide_name(solid.name) ? solid.name : "solid" + std::to_string(index + 1);
}

[[noreturn]] void refuse(const Lemma& lemma, const std::string& piece) {
  throw InvalidInput("the lemma `" + lemma.name + "` has no form in version 1 as it is used here: its piece `" + piece +
                         "` does not hang together, and no step of version 1 makes one piece of its parts",
                     "`split` such pieces in the lemma, or expand the lemma's own plan");
}

void write_motions(PlainSteps& text, const std::vector<LemmaUse::Side>& sides) {
  std::vector<std::pair<PieceNames, PlanValue>> entries;
  for (const LemmaUse::Side& side : sides)
    if (!side.motion.is_identity()) entries.push_back({{side.name}, written_value(side.motion)});
  if (!entries.empty()) text.move(entries);
}

/// For each goal the numbers of the pieces that lie in it at the end.
std::vector<std::vector<std::size_t>> pieces_of_goals(const RunRecord& record) {
  std::vector<Solid> pieces;
  for (const RecordedPiece& piece : record.last()) pieces.push_back(piece.solid);
  std::vector<std::vector<std::size_t>> result;
  for (const Solid& goal : record.goals()) {
    const std::vector<char> inside = record.engine().inside(pieces, goal);
    result.emplace_back();
    for (std::size_t i = 0; i < pieces.size(); ++i)
      if (inside[i] != 0) result.back().push_back(i);
  }
  return result;
}

void write_forwards(PlainSteps& text, const RunRecords& records, const RunRecord& record, const LemmaUse& use) {
  StepWriter(text, records, record, use.setting).write_steps();
  const std::vector<std::vector<std::size_t>> pieces = pieces_of_goals(record);
  for (std::size_t goal = 0; goal < pieces.size(); ++goal) {
    PieceNames names;
    std::vector<Solid> solids;
    for (const std::size_t piece : pieces[goal]) {
      names.push_back(use.setting.prefix + record.last()[piece].name);
      solids.push_back(record.last()[piece].solid);
    }
    if (solids.size() > 1 && record.engine().count_linked_groups(solids) > 1)
      refuse(*use.lemma, name_for(record.plan().goals[goal], goal));
    text.join(names, use.made[goal].name);
  }
}

/// Undoes a lemma.
class Undoing {
 public:
  Undoing(PlainSteps& text, const RunRecords& records, const RunRecord& record, const LemmaUse& use)
      : text_(text), records_(records), record_(record), engine_(record.engine()), use_(use) {}

  /// The pieces that are taken have these names and lie where the lemma's goals do.
  void run(const PieceNames& goals) {
    names_.insert(goals.begin(), goals.end());
    const std::vector<std::vector<std::size_t>> pieces = pieces_of_goals(record_);
    for (std::size_t goal = 0; goal < goals.size(); ++goal) {
      std::vector<RecordedPiece> parts;
      for (const std::size_t piece : pieces[goal]) parts.push_back(record_.last()[piece]);
      separate_into(goals[goal], parts);
    }
    const std::vector<Step>& steps = record_.plan().steps;
    for (std::size_t i = steps.size(); i-- > 0;) {
      const RecordedStep& done = record_.step(i);
      text_.title(steps[i].title.empty() ? "" : "undone: " + steps[i].title);
      if (std::holds_alternative<UseStep>(steps[i].action)) {
        undo_use(i, done);
      } else {
        undo_moves(done);
        for (auto change = done.changes.rbegin(); change != done.changes.rend(); ++change) undo(*change);
      }
      text_.title("");
    }
    for (std::size_t i = 0; i < use_.made.size(); ++i) text_.join({only_part(record_.first()[i])}, use_.made[i].name);
  }

 private:
  /// What there is of one of the lemma's pieces.
  struct Part {
    std::string name;
    Solid solid;  ///< null when it is the whole piece
  };

  std::string fresh(const std::string& base) {
    std::string name = use_.setting.prefix + base;
    for (std::size_t number = 2; !names_.insert(name).second; ++number)
      name = use_.setting.prefix + base + "-" + std::to_string(number);
    return name;
  }

  std::string only_part(const RecordedPiece& piece) const {
    const std::vector<Part>& parts = parts_.at(piece.identity);
    if (parts.size() != 1) refuse(*use_.lemma, piece.name);
    return parts.front().name;
  }

  /// Makes one piece of parts that hang together.
  void put_together(const RecordedPiece& piece, std::vector<Part> parts) {
    PieceNames names;
    std::vector<Solid> solids;
    for (const Part& part : parts) {
      names.push_back(part.name);
      solids.push_back(part.solid);
    }
    if (parts.size() > 1 && engine_.count_linked_groups(solids) == 1) {
      for (const std::string& name : names) names_.erase(name);
      const std::string name = fresh(piece.name);
      text_.join(names, name);
      parts = {{name, nullptr}};
    }
    if (parts.size() == 1) parts.front().solid = nullptr;
    parts_[piece.identity] = std::move(parts);
  }

  /// Cuts what has this name into the pieces that it consists of.
  void separate_into(const std::string& whole, const std::vector<RecordedPiece>& pieces) {
    std::vector<Solid> solids;
    for (const RecordedPiece& piece : pieces) solids.push_back(piece.solid);
    const Separation separation = separate(engine_, solids);
    std::vector<std::vector<Part>> parts(pieces.size());
    std::map<std::size_t, std::string> cells = {{0, whole}};
    if (pieces.size() > 1) names_.erase(whole);
    for (const Separation::Leaf& leaf : separation.leaves) {
      std::string& name = cells[leaf.cell];
      if (leaf.cell != 0) name = fresh(pieces[leaf.part].name);
      parts[leaf.part].push_back({name, leaf.solid});
    }
    for (const Separation::Cut& cut : separation.cuts) {
      const std::string cell = cells.at(cut.cell);
      for (const std::size_t half : {cut.positive, cut.negative})
        if (cells.count(half) == 0) cells[half] = fresh("rest");
      text_.cut({cell}, {written_value(shifted(cut.plane, use_.setting.aside))}, {cells[cut.positive], cells[cut.negative]});
      if (cut.cell != 0) names_.erase(cell);
    }
    for (std::size_t i = 0; i < pieces.size(); ++i) put_together(pieces[i], std::move(parts[i]));
  }

  void undo_moves(const RecordedStep& done) {
    std::vector<std::pair<PieceNames, PlanValue>> entries;
    std::map<std::string, std::size_t> alike;  // by the motion as it is written
    for (const auto& [identity, motion] : done.moved) {
      const Motion back = motion.inverse();
      PlanValue value = written_value(shifted(back, use_.setting.aside));
      const auto [known, fresh] = alike.emplace(on_one_line(value), entries.size());
      if (fresh) entries.emplace_back(PieceNames{}, std::move(value));
      for (Part& part : parts_.at(identity)) {
        entries[known->second].first.push_back(part.name);
        if (part.solid != nullptr) part.solid = engine_.moved(part.solid, back);
      }
    }
    if (!entries.empty()) text_.move(entries);
  }

  void undo(const RecordedChange& change) {
    if (change.consumed.size() > 1) {
      const std::string name = only_part(change.made.front());
      return separate_into(name, change.consumed);
    }
    const RecordedPiece& piece = change.consumed.front();
    std::vector<Part> parts;
    for (const RecordedPiece& made : change.made)
      for (Part& part : parts_.at(made.identity))
        parts.push_back({part.name, part.solid == nullptr ? made.solid : part.solid});
    put_together(piece, std::move(parts));
  }

  void undo_use(std::size_t index, const RecordedStep& done) {
    const auto& use = std::get<UseStep>(record_.plan().steps[index].action);
    const RecordedChange& change = done.changes.front();
    const Motion here = Motion::translation(-use_.setting.aside), back = Motion::translation(use_.setting.aside);
    LemmaUse undone;
    undone.lemma = use.lemma.get();
    undone.backwards = !use.backwards;
    PieceNames bench;
    for (const std::string& name : names_) bench.push_back(name.substr(use_.setting.prefix.size()));
    undone.setting = {use_.setting.prefix + prefix_of_use(index + 1, bench), use_.setting.aside + record_.way_aside(index)};
    for (const RecordedPiece& made : change.made)
      undone.taken.push_back({only_part(made), here.then(done.use->back.inverse())});
    for (const LemmaUse::Side& taken : undone.taken) names_.erase(taken.name);
    undone.made.resize(use.taken.size());
    for (std::size_t i = 0; i < use.taken.size(); ++i) {
      const std::string name = fresh(change.consumed[i].name);
      undone.made[use.taken[i].index] = {name, done.use->there[i].inverse().then(back)};
      parts_[change.consumed[i].identity] = {{name, nullptr}};
    }
    write_lemma(text_, records_, undone);
  }

  PlainSteps& text_;
  const RunRecords& records_;
  const RunRecord& record_;
  Engine& engine_;
  const LemmaUse& use_;
  std::map<long, std::vector<Part>> parts_;  ///< by identity
  std::set<std::string> names_;              ///< of what is on the bench of the lemma
};

}  // namespace

Plane shifted(const Plane& plane, const Vector3& by) {
  return is_zero(by) ? plane : Plane{plane.normal, plane.offset + dot(plane.normal, by)};
}

Motion shifted(const Motion& motion, const Vector3& by) {
  return is_zero(by) ? motion : Motion::translation(-by).then(motion).then(Motion::translation(by));
}

std::string prefix_of_use(std::size_t step, const std::vector<std::string>& bench) {
  std::string prefix = "use" + std::to_string(step);
  while (std::any_of(bench.begin(), bench.end(),
                     [&](const std::string& name) { return name.compare(0, prefix.size(), prefix) == 0; }))
    prefix += "x";
  return prefix + ".";
}

void write_lemma(PlainSteps& text, const RunRecords& records, const LemmaUse& use) {
  const RunRecord& record = records.of(*use.lemma);
  const ExactPlan& plan = record.plan();
  std::string values;
  for (const auto& [name, value] : use.lemma->values) values += (values.empty() ? " with " : ", ") + name + " = " + value;
  text.comment("the lemma `" + use.lemma->name + "`" + values + (use.backwards ? ", backwards" : "") +
               (plan.title.empty() ? "" : ": " + plan.title));
  const std::vector<NamedSolid>& solids = use.backwards ? plan.goals : plan.start;
  const Motion aside = Motion::translation(use.setting.aside), back = Motion::translation(-use.setting.aside);
  PieceNames names;
  std::vector<LemmaUse::Side> taken, made = use.made;
  for (std::size_t i = 0; i < use.taken.size(); ++i) {
    std::string name = use.setting.prefix + name_for(solids[i], i);
    while (std::find(names.begin(), names.end(), name) != names.end()) name += "-";
    names.push_back(std::move(name));
    text.join({use.taken[i].name}, names[i]);
    taken.push_back({names[i], use.taken[i].motion.then(aside)});
  }
  write_motions(text, taken);
  if (use.backwards) {
    Undoing(text, records, record, use).run(names);
  } else {
    write_forwards(text, records, record, use);
  }
  for (LemmaUse::Side& side : made) side.motion = back.then(side.motion);
  write_motions(text, made);
}

}  // namespace cutproof
