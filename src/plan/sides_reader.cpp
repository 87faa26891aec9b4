// SPDX-License-Identifier: GPL-3.0-or-later
// What a plan says beside its steps: its head, what lies on the bench at the start, the goal, and what is added to both.
#include "plan/lemmas.hpp"
#include "plan/step_reader.hpp"

#include <set>

namespace cutproof {

void StepReader::read_head(ExactPlan& plan) {
  plan.dimension = index_.dimension();
  attempt([&] {
    if (const Node* title = index_.section("title")) plan.title = free_text(*title, "the title");
  });
  attempt([&] {
    if (const Node* source = index_.section("source")) plan.source = free_text(*source, "the source");
  });
  attempt([&] {
    if (const Node* note = index_.section("note")) plan.note = free_text(*note, "the note");
  });
  attempt([&] {
    const Node* mirror = index_.section("mirror");
    allow_mirror_ = plan.allow_mirror = text_ != nullptr && text_->allows_mirror();
    if (mirror == nullptr) return;
    if (!mirror->is_scalar() || (mirror->text != "forbid" && mirror->text != "allow"))
      index_.fail(*mirror, "`mirror` is either `forbid` or `allow`", "`forbid` is the default");
    allow_mirror_ = plan.allow_mirror = mirror->text == "allow";
  });
}

void StepReader::read_start(ExactPlan& plan) {
  const Node* section = index_.section("start");
  attempt([&] {
    const Node& root = index_.document().root();
    if (section == nullptr) {
      if (index_.is_missing_for_a_reason("start")) throw Recorded{};
      index_.fail(root, "the plan has no start",
                  "write `start: { T: SOLID }`: the pieces on the bench and the solids they are");
    }
    plan.start_place = place(*section);
    const Node start = resolver_.written_out(*section, nullptr, /*keys_are_names=*/true);
    index_.mapping(start, "`start`", "write `start: { T: SOLID }`: the pieces on the bench and the solids they are");
    std::set<std::string> names;
    for (const Node::Entry& entry : start.entries)
      attempt([&] {
        const PlacedName name = piece_name(key_node(entry));
        note_name(names, name.name, entry);
        if (is_solid_kind(entry.key) && !entry.value.is_scalar() && !describes_solid(entry.value))
          index_.fail_key(entry, "`start` gives each piece a name, and `" + entry.key + "` is a kind of solid",
                          "write `start: { T: { " + entry.key + ": ... } }`");
        plan.start.push_back({name.name, exact(&Resolver::solid, entry.value), name.place});
      });
  });
}

void StepReader::read_goal(ExactPlan& plan) {
  attempt([&] {
    const Node& root = index_.document().root();
    const Node* section = index_.section("goal");
    if (section == nullptr) {
      if (index_.is_missing_for_a_reason("goal")) throw Recorded{};
      index_.fail(root, "the plan has no goal", "write `goal: SOLID`: what the pieces make in the end");
    }
    for (const Node::Entry& entry : root.entries)
      if (entry.key == "goal") plan.goal_size_place = plan.goal_place = place(key_node(entry));
    const Node written = resolver_.written_out(*section, nullptr, /*keys_are_names=*/true);
    const Node* goal = &written;
    if (goal->is_sequence()) {
      index_.sequence(*goal, "`goal`", "write a solid, or a list of solids");
      for (std::size_t i = 0; i < goal->entries.size(); ++i)
        attempt([&] {
          const Node& value = goal->entries[i].value;
          SolidPointer solid = exact(&Resolver::solid, value);
          const std::string name = value.is_scalar() ? resolver_.reference_text(value) : "goal " + std::to_string(i + 1);
          plan.goals.push_back({name, std::move(solid), place(value)});
        });
      return;
    }
    if (goal->is_mapping()) {
      index_.mapping(*goal, "`goal`", "write a solid, or names and solids");
      const Node& first = goal->entries[0].value;
      if (goal->entries.size() == 1 && first.is_mapping() && !describes_solid(first))
        index_.allow_keys(*goal, "a solid", solid_kinds());
      if (!(goal->entries.size() == 1 && is_solid_kind(goal->entries[0].key))) {
        std::set<std::string> names;
        for (const Node::Entry& entry : goal->entries)
          attempt([&] {
            if (is_solid_kind(entry.key))
              index_.fail_key(entry, "`" + entry.key + "` is a kind of solid and cannot name a goal", "choose another name");
            const std::string name = resolver_.piece_text(key_node(entry));
            if (!is_wide_name(name))
              index_.fail_key(entry, quoted_text(name) + " cannot be the name of a goal",
                              goal->entries.size() == 1
                                  ? "is it meant to be a kind of solid, such as `box`?"
                                  : "a name is an ASCII letter or `_`, then letters, digits, `_`, `-` and `.`");
            note_name(names, name, entry);
            plan.goals.push_back({name, exact(&Resolver::solid, entry.value), place(key_node(entry))});
          });
        return;
      }
    }
    const Node* solids = index_.section("solids");
    const Node* definition =
        goal->is_scalar() && solids != nullptr && solids->is_mapping() ? solids->find(goal->text) : nullptr;
    if (definition != nullptr) {
      const Node* box = definition->is_mapping() ? definition->find("box") : nullptr;
      const Node* size = box != nullptr && box->is_mapping() ? box->find("size") : nullptr;
      plan.goal_size_place = place(size != nullptr ? *size : *definition);
    }
    SolidPointer solid = exact(&Resolver::solid, *goal);
    plan.goals.push_back({goal->is_scalar() ? resolver_.reference_text(*goal) : "goal", std::move(solid), place(*goal)});
  });
}

void StepReader::read_added(ExactPlan& plan) {
  const Node* section = index_.section("added");
  if (section == nullptr || index_.version() < 2) return;
  const std::string example = "write `added: { R: { solid: SOLID, by: MOTION } }`: what is added to start and goal";
  attempt([&] {
    const Node added = resolver_.written_out(*section, nullptr, /*keys_are_names=*/true);
    index_.mapping(added, "`added`", example);
    std::set<std::string> names;
    for (const NamedSolid& piece : plan.start) names.insert(piece.name);
    for (const Node::Entry& entry : added.entries)
      attempt([&] {
        const PlacedName name = piece_name(key_node(entry));
        if (!names.insert(name.name).second)
          index_.fail_key(entry, "the name `" + name.name + "` stands twice in `start` and `added`",
                          "give what is added a name of its own");
        index_.mapping(entry.value, "an entry of `added`", example);
        index_.allow_keys(entry.value, "an entry of `added`", {"solid", "by"});
        AddedSolid result{
            {name.name, exact(&Resolver::solid, index_.required(entry.value, "solid", "an entry of `added`")), name.place},
            {}};
        if (const Node* by = entry.value.find("by")) {
          if (by->is_broken()) throw Recorded{};
          result.by.emplace();
          read_motion(*result.by, *by);
        }
        plan.added.push_back(std::move(result));
      });
  });
}

}  // namespace cutproof
