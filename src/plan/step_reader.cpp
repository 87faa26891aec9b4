// SPDX-License-Identifier: GPL-3.0-or-later
// Which pieces are on the bench is for the run to tell; here stands what a step says, and whether that has a meaning.
#include "plan/step_reader.hpp"

#include "plan/spelling.hpp"
#include "plan/synonyms.hpp"

#include <algorithm>
#include <set>

namespace cutproof {

bool Numbering::makes(const std::string& name) const {
  if (name.size() <= stem.size() || name.compare(0, stem.size(), stem) != 0 || name[stem.size()] == '0') return false;
  return name.find_first_not_of("0123456789", stem.size()) == std::string::npos;
}

bool StepReader::is_solid_kind(const std::string& key) const {
  const std::vector<std::string> kinds = index_.words_of("a solid", solid_kinds());
  return std::find(kinds.begin(), kinds.end(), key) != kinds.end();
}

bool StepReader::describes_solid(const Node& node) const {
  const std::vector<std::string> kinds = index_.words_of("a solid", solid_kinds());
  return node.is_mapping() && std::any_of(node.entries.begin(), node.entries.end(),
                                          [&](const Node::Entry& entry) { return !nearest_word(entry.key, kinds).empty(); });
}

const char* Step::kind() const {
  static const char* const names[] = {"cut", "move", "join", "split", "expect", "use"};
  return names[action.index()];
}

void StepReader::read(ExactPlan& plan) {
  read_head(plan);
  // Too many passes are told before any of them costs time.
  attempt([&] {
    for (const char* key : {"start", "steps", "goal", "added"})
      if (const Node* node = index_.section(key))
        resolver_.count_passes(*node, nullptr, /*keys_are_names=*/key != std::string("steps"));
  });
  if (resolver_.has_stopped()) return;
  index_.restart_counting();
  read_start(plan);
  if (const Node* steps = index_.section("steps")) {
    attempt([&] {
      if (!steps->is_sequence())
        index_.fail(*steps, "`steps` is a list", "begin each step with `- `; write `steps: []` for none");
      read_steps(*steps, nullptr, plan);
    });
  }
  read_goal(plan);
  read_added(plan);
}

void StepReader::read_steps(const Node& steps, const FramePointer& frame, ExactPlan& plan) {
  for (const Node::Entry& entry : steps.entries) attempt([&] { read_step(entry.value, frame, plan); });
}

void StepReader::read_step(const Node& node, const FramePointer& frame, ExactPlan& plan) {
  if (index_.version() < 2) {
    plan.steps.push_back(step(node));
    return;
  }
  if (const Node* each = node.find("each")) {
    index_.allow_keys(node, "a loop", {"for", "when", "each"});
    resolver_.for_each_pass(node, frame, [&](const FramePointer& pass) { attempt([&] { read_step(*each, pass, plan); }); });
    return;
  }
  const bool repeats = resolver_.is_loop(node);
  if (const Node* group = node.find("steps")) {
    index_.allow_keys(node, "a group of steps", {"for", "when", "steps", "title", "note"});
    for (const char* key : {"title", "note"})
      if (const Node* text = node.find(key)) free_text(*text, "the " + std::string(key) + " of a group of steps");
    index_.sequence(*group, "a group of steps", "begin each step with `- `");
    if (!repeats) return read_group(node, frame, plan);
    resolver_.for_each_pass(node, frame, [&](const FramePointer& pass) { read_group(node, pass, plan); });
    return;
  }
  if (!repeats) {
    plan.steps.push_back(step(resolver_.written_out(node, frame)));
    return;
  }
  Node once = node;
  once.entries.erase(std::remove_if(once.entries.begin(), once.entries.end(),
                                    [](const Node::Entry& entry) { return entry.key == "for" || entry.key == "when"; }),
                     once.entries.end());
  resolver_.for_each_pass(node, frame, [&](const FramePointer& pass) {
    attempt([&] { plan.steps.push_back(step(resolver_.written_out(once, pass))); });
  });
}

void StepReader::read_group(const Node& node, const FramePointer& frame, ExactPlan& plan) {
  const std::size_t first = plan.steps.size();
  read_steps(*node.find("steps"), frame, plan);
  const Node* title = node.find("title");
  if (title == nullptr || first >= plan.steps.size()) return;
  std::vector<std::string>& groups = plan.steps[first].groups;  // those inside were read first
  groups.insert(groups.begin(), title->text);
}

std::string StepReader::free_text(const Node& node, const std::string& what) {
  if (!node.is_scalar()) index_.fail(node, what + " is a text", "put quotes round it");
  return node.text;
}

// --- pieces --------------------------------------------------------------------------------------------------------------

void StepReader::note_name(std::set<std::string>& names, const std::string& name, const Node::Entry& entry) {
  if (!names.insert(name).second)  // texts that are equal were told by the reader of the YAML
    index_.fail_key(entry, "the name `" + name + "` stands twice here", "let an index stand in each of the names");
}

SelectorEntry StepReader::selector_entry(const Node& node, bool pattern_allowed) {
  const SelectorEntry entry{resolver_.piece_text(node), place(node)};
  const std::string& text = entry.text;
  if (text == "all" && pattern_allowed) return entry;
  std::string plain = text;
  if (pattern_allowed) plain.erase(std::remove(plain.begin(), plain.end(), '*'), plain.end());
  const bool only_stars = pattern_allowed && plain.empty() && !text.empty();
  const bool starts_with_star = pattern_allowed && text.size() > 1 && text[0] == '*';
  if (!only_stars && !is_wide_name(starts_with_star ? "_" + plain : plain)) {
    index_.fail(node, quoted_text(text) + " cannot be the name of a piece" + (pattern_allowed ? " or a pattern" : ""),
                !pattern_allowed ? "write one name"
                : text.find(',') != std::string::npos
                    ? "several pieces stand in a list: `[A, B]`; in `move` write `- { pieces: [A, B], by: MOTION }`"
                    : "write a name, a pattern such as `\"T.*\"`, or `all`");
  }
  return entry;
}

Selector StepReader::selector(const Node& node) {
  Selector result;
  if (node.is_sequence()) {
    index_.sequence(node, "a selection of pieces", "write names: `[A, B]`");
    for (const Node::Entry& entry : node.entries) {
      if (entry.value.is_mapping()) {
        result.push_back(by_place(entry.value));
        continue;
      }
      if (!entry.value.is_scalar()) index_.fail(entry.value, "the name of a piece is wanted here");
      for (SelectorEntry& each : selector(entry.value)) result.push_back(std::move(each));
    }
    return result;
  }
  if (node.is_mapping()) return {by_place(node)};
  if (!node.is_scalar())
    index_.fail(node, "pieces are wanted here", "write a name, a list of names, a pattern with `*`, or `all`");
  if (const Frame* index = bound(node.frame, node.text)) {
    if (index->entry != nullptr) return selector(*index->entry);
    index_.fail(node, "pieces are wanted here, and `" + node.text + "` stands for " + shown(*index),
                "an index stands in a name like this: `c(" + node.text + ")`");
  }
  result.push_back(selector_entry(node, true));
  return result;
}

PlacedName StepReader::piece_name(const Node& node) {
  if (!node.is_scalar()) index_.fail(node, "the name of a piece is wanted here");
  const std::string name = resolver_.piece_text(node);
  if (!is_wide_name(name))
    index_.fail(node, quoted_text(name) + " cannot be the name of a piece",
                name == "all" ? "`all` stands for all pieces"
                              : "a name is an ASCII letter or `_`, then letters, digits, `_`, `-` and `.`");
  return {name, place(node)};
}

std::vector<PlacedName> StepReader::piece_names(const Node& node) {
  index_.sequence(node, "`into`", "write names: `into: [A, B]`");
  std::vector<PlacedName> names;
  for (const Node::Entry& entry : node.entries) {
    names.push_back(piece_name(entry.value));
    for (std::size_t i = 0; i + 1 < names.size(); ++i)
      if (names[i].name == names.back().name)
        index_.fail(entry.value, "two pieces would be named `" + names.back().name + "`", "choose two different names");
  }
  return names;
}

std::optional<Numbering> StepReader::numbering(const Node& into) {
  if (!into.is_scalar()) return std::nullopt;
  const std::string hint = "write `into: [A, B]`, or one name that ends with a star: `slab.*` makes slab.1, slab.2, ...";
  const std::string text = resolver_.piece_text(into);
  if (text.empty() || text.back() != '*') index_.fail(into, quoted_text(text) + " names no pieces", hint);
  const std::string stem = text.substr(0, text.size() - 1);
  if (!is_wide_name(stem + "1")) index_.fail(into, quoted_text(text) + " cannot number pieces", hint);
  return Numbering{stem, place(into)};
}

// --- steps ---------------------------------------------------------------------------------------------------------------

Step StepReader::step(const Node& node) {
  index_.mapping(node, "a step", "as in `{ cut: T, by: PLANE, into: [A, B] }`");
  const Node::Entry* kind = nullptr;
  const std::vector<std::string> kinds = index_.words_of("a step", step_kinds());
  for (const Node::Entry& entry : node.entries) {
    if (std::find(kinds.begin(), kinds.end(), entry.key) == kinds.end()) continue;
    if (kind != nullptr)
      index_.fail_key(entry, "this step is of two kinds, `" + kind->key + "` and `" + entry.key + "`",
                      "begin a step of its own with `- `");
    kind = &entry;
  }
  if (kind == nullptr) {
    if (node.damaged) throw Recorded{};
    for (const Node::Entry& entry : node.entries) {
      index_.refuse_newer("a step", entry);
      const std::string near = word_meant(entry.key, kinds);
      if (!near.empty())
        index_.fail_key(entry, "there is no kind of step " + quoted_text(entry.key), "did you mean `" + near + "`?");
    }
    index_.fail(
        node, "this step does not say what it does",
        "a step is one of `cut`, `move`, `join`, `split`, `expect`" + std::string(index_.version() < 2 ? "" : ", `use`"));
  }
  std::vector<std::string> keys = {kind->key, "title", "note"};
  if (kind->key == "cut") keys.insert(keys.end(), {"by", "into"});
  if (kind->key == "join") keys.push_back("as");
  if (kind->key == "split") keys.push_back("into");
  if (kind->key == "use") keys.insert(keys.end(), {"with", "take", "into", "by", "backwards"});
  index_.allow_keys(node, "a `" + kind->key + "` step", keys);
  if (kind->value.is_broken()) throw Recorded{};
  Step result;
  result.place = place(key_node(*kind));
  if (const Node* title = node.find("title")) result.title = free_text(*title, "the title of a step");
  if (const Node* note = node.find("note")) result.note = free_text(*note, "the note of a step");
  if (kind->key == "cut") result.action = cut(node);
  if (kind->key == "move") result.action = move(kind->value);
  if (kind->key == "join") result.action = join(node);
  if (kind->key == "split") result.action = split(node);
  if (kind->key == "expect") result.action = expect(kind->value);
  if (kind->key == "use") result.action = use(node);
  return result;
}

void StepReader::demand_one_piece(const Selector& pieces, const Node& into, const std::string& what,
                                  const std::string& hint) {
  std::set<std::string> names;  // a selection is a set; what its patterns add to these, the run tells
  for (const SelectorEntry& entry : pieces)
    if (!entry.is_pattern()) names.insert(entry.text);
  if (names.size() > 1)
    index_.fail(into, "`into` is for one piece; this " + what + " takes " + std::to_string(names.size()), hint);
}

CutStep StepReader::cut(const Node& node) {
  CutStep result;
  // Each of the three is looked at, whatever is wrong with the others.
  const bool pieces_are_good = attempt([&] { result.pieces = selector(*node.find("cut")); });
  std::size_t planes = 1;
  const bool planes_are_good = attempt([&] {
    const Node& by = index_.required(node, "by", "a `cut` step");
    if (!by.is_sequence()) {
      result.planes.push_back(exact(&Resolver::plane, by));
      result.plane_places.push_back(place(by));
      return;
    }
    index_.sequence_of_passes(by, "a list of planes", "write a plane, or several in a list");
    planes = by.entries.size();
    for (const Node::Entry& entry : by.entries)
      attempt([&] {
        result.planes.push_back(exact(&Resolver::plane, entry.value));
        result.plane_places.push_back(place(entry.value));
      });
    if (result.planes.size() != planes) throw Recorded{};
  });
  const Node* into = node.find("into");
  if (into != nullptr) result.numbering = numbering(*into);
  if (into != nullptr && !result.numbering) {
    if (pieces_are_good)
      demand_one_piece(result.pieces, *into, "cut",
                       "leave `into` out: the halves of T are then T.1 and T.2; or number them: `into: slab.*`");
    if (into->is_mapping() && !planes_are_good) throw Recorded{};  // which half is which, nobody can tell
    name_halves(result, *into, planes);
  }
  if (!pieces_are_good || !planes_are_good) throw Recorded{};
  return result;
}

void StepReader::name_halves(CutStep& cut, const Node& into, std::size_t planes) {
  std::vector<PlacedName> names;
  if (into.is_mapping()) {
    index_.mapping(into, "`into`", "write names: `into: [A, B]`");
    for (const Node::Entry& entry : into.entries) names.push_back(piece_name(key_node(entry)));
  } else {
    names = piece_names(into);
  }
  if (names.size() != 2)
    index_.fail(
        into,
        "a cut makes two pieces; `into` has " + std::to_string(names.size()) + (names.size() == 1 ? " name" : " names"),
        into.is_mapping() ? "give each of the halves a name and a point on its side of the plane"
                          : "the first name is for the side the plane's normal points to");
  if (planes != 1)
    index_.fail(into, "`into` is for one plane; this cut has " + std::to_string(planes),
                "leave `into` out: the pieces of T are then T.1.1, T.1.2, ...; or number them: `into: slab.*`");
  if (into.is_mapping()) {
    int sides[2] = {1, -1};
    const Plane& plane = cut.planes.front();
    for (std::size_t i = 0; i < 2; ++i) {
      const Node& node = into.entries[i].value;
      const Vector3 point = exact(&Resolver::vector, node);
      if (resolver_.has_stopped()) continue;
      sides[i] = side_of(plane, point);
      if (sides[i] == 0)
        index_.fail(node, "this point lies in the plane of the cut, so it tells no half from the other",
                    "write a point on the side where `" + names[i].name + "` is to be");
    }
    if (sides[0] == sides[1])
      index_.fail(into.entries[1].value,
                  "the points of `" + names[0].name + "` and `" + names[1].name +
                      "` both lie on the side of the plane that its normal points " + (sides[0] > 0 ? "to" : "away from"),
                  "write a point on the other side for one of them");
    if (sides[0] < 0) std::swap(names[0], names[1]);
  }
  cut.has_names = true;
  cut.positive = names[0];
  cut.negative = names[1];
}

MoveStep StepReader::move(const Node& value) {
  MoveStep result;
  const auto add = [&](Selector pieces, const Node& motion) {
    MoveEntry entry;
    entry.pieces = std::move(pieces);
    read_motion(entry, motion);
    result.entries.push_back(std::move(entry));
  };
  if (value.is_sequence()) {
    index_.sequence_of_passes(value, "`move`", "as in `move: [ { pieces: A, by: MOTION } ]`");
    for (const Node::Entry& entry : value.entries) {
      index_.mapping(entry.value, "an entry of `move`", "as in `{ pieces: A, by: MOTION }`");
      index_.allow_keys(entry.value, "an entry of `move`", {"pieces", "by"});
      index_.require(entry.value, {"pieces", "by"}, "an entry of `move`");
      add(selector(index_.required(entry.value, "pieces", "an entry of `move`")),
          index_.required(entry.value, "by", "an entry of `move`"));
    }
    return result;
  }
  if (!(value.is_mapping() && value.entries.empty() && value.repeats))
    index_.mapping(value, "`move`", "as in `move: { A: { translation: [1, 0, 0] } }`");
  std::set<std::string> names;
  for (const Node::Entry& entry : value.entries)
    attempt([&] {
      if (entry.value.is_broken()) throw Recorded{};
      Selector pieces = selector(key_node(entry));
      if (pieces.size() == 1) note_name(names, pieces.front().text, entry);
      add(std::move(pieces), entry.value);
    });
  if (result.entries.size() != value.entries.size()) throw Recorded{};
  return result;
}

JoinStep StepReader::join(const Node& node) {
  Selector pieces = selector(*node.find("join"));
  return {std::move(pieces), piece_name(index_.required(node, "as", "a `join` step"))};
}

SplitStep StepReader::split(const Node& node) {
  SplitStep result{selector(*node.find("split")), {}, {}};
  const Node* into = node.find("into");
  if (into != nullptr) result.numbering = numbering(*into);
  if (into != nullptr && !result.numbering) {
    result.names = piece_names(*into);
    demand_one_piece(result.pieces, *into, "step", "leave `into` out: the parts of T are then T.1, T.2, ...");
  }
  return result;
}

}  // namespace cutproof
