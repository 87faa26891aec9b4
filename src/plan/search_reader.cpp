// SPDX-License-Identifier: GPL-3.0-or-later
// What is known only on the bench: selections by place, and motions that are found.
#include "plan/frame.hpp"
#include "plan/step_reader.hpp"

#include <algorithm>

namespace cutproof {

namespace {

const std::vector<std::string> place_keys = {"above", "below", "holding", "inside", "touching", "from", "but"};

/// Whether a motion, or one in a list, is to be found.
bool searches(const Node& node) {
  return std::any_of(node.entries.begin(), node.entries.end(), [&](const Node::Entry& entry) {
    return node.is_mapping() ? is_searching(entry.key) : node.is_sequence() && searches(entry.value);
  });
}

}  // namespace

SelectorEntry StepReader::by_place(const Node& node) {
  const std::string what = "a selection by place";
  if (index_.version() < 2) {
    const std::string hint = "write a name, a list of names, a pattern with `*`, or `all`";
    if (std::none_of(node.entries.begin(), node.entries.end(), [](const Node::Entry& entry) {
          return std::find(place_keys.begin(), place_keys.end(), entry.key) != place_keys.end();
        }))
      index_.fail(node, "pieces are wanted here", hint);
    index_.fail(node, what + " needs version 2 of the plan language, and this plan is of version 1",
                "write `cutproof: 2` at the top; or " + hint);
  }
  index_.mapping(node, what, "as in `{ inside: SOLID }` or `{ above: PLANE }`");
  index_.allow_keys(node, what, place_keys);
  auto selection = std::make_shared<PlaceSelection>();
  std::string words;
  bool good = true, asks = false;
  for (const Node::Entry& entry : node.entries)
    good = attempt([&] {
             const Node& value = entry.value;
             if (value.is_broken()) throw Recorded{};
             words += (words.empty() ? "" : ", ") + entry.key + " `" + written(value) + "`";
             asks = asks || entry.key != "from";
             if (entry.key == "above") {
               selection->above = exact(&Resolver::plane, value);
             } else if (entry.key == "below") {
               selection->below = exact(&Resolver::plane, value);
             } else if (entry.key == "holding") {
               selection->holding = exact(&Resolver::vector, value);
               if (index_.is_flat()) selection->holding->z = Number::fraction(1, 2);  // within what is thickened there
             } else if (entry.key == "inside") {
               selection->inside = exact(&Resolver::solid, value);
             } else {
               (entry.key == "touching" ? selection->touching
                : entry.key == "from"   ? selection->from
                                        : selection->but) = selector(value);
             }
           }) &&
           good;
  if (!good) throw Recorded{};
  if (!asks) index_.fail(node, "this selection does not say where the pieces lie", "write the pieces alone, without `from`");
  return {words, place(node), std::move(selection)};
}

void StepReader::read_motion(MoveEntry& entry, const Node& node) {
  if (const Frame* index = node.is_scalar() ? bound(node.frame, node.text) : nullptr;
      index != nullptr && index->entry != nullptr) {
    read_motion(entry, *index->entry);  // an index that stands for a motion
    entry.motion_place = place(node);
    return;
  }
  entry.motion_place = place(node);
  if (!searches(node)) {
    entry.motion = exact(&Resolver::motion, node);
    return;
  }
  if (!node.is_sequence()) {
    entry.parts.emplace_back(search(node));
    return;
  }
  for (const Node::Entry& part : node.entries) {
    if (!searches(part.value)) {
      entry.parts.emplace_back(exact(&Resolver::motion, part.value));
      continue;
    }
    MoveEntry inner;
    read_motion(inner, part.value);
    for (MotionPart& each : inner.parts) entry.parts.push_back(std::move(each));
  }
}

MotionSearch StepReader::search(const Node& node) {
  index_.allow_keys(node, "a motion", motion_kinds());
  const Node *lay = node.find("lay"), *onto = node.find("onto");
  const std::string kind = lay != nullptr ? "lay" : "onto";
  if (lay == nullptr && onto == nullptr)
    index_.fail_key(node.entries.front(), "`" + node.entries.front().key + "` goes with `lay` or `onto`",
                    "as in `{ onto: SOLID, corners: { P: Q } }`");
  for (const Node::Entry& entry : node.entries)
    if (entry.key != kind && entry.key != "corners" && !(lay != nullptr && entry.key == "against"))
      index_.fail_key(entry, "`" + entry.key + "` does not go with `" + kind + "`",
                      "write a list to run several motions: `[ { ... }, { ... } ]`");
  MotionSearch result;
  result.place = place(node);
  if (onto != nullptr && lay == nullptr) {
    if (onto->is_broken()) throw Recorded{};
    result.onto = exact(&Resolver::solid, *onto);
  } else {
    const auto side = [&](const Node& written, const std::string& what, const std::string& example,
                          const std::vector<std::string>& keys) -> const Node& {
      index_.mapping(written, what, example);
      index_.allow_keys(written, what, keys);
      return index_.required(written, "in", what);
    };
    if (lay->is_broken()) throw Recorded{};
    result.face = exact(&Resolver::plane, side(*lay, "`lay`", "as in `lay: { in: PLANE }`", {"in"}));
    const Node& against = index_.required(node, "against", "`lay`");
    const Node& in = side(against, "`against`", "as in `against: { of: PIECE, in: PLANE }`", {"of", "in"});
    result.against_face = exact(&Resolver::plane, in);
    const Node& piece = index_.required(against, "of", "`against`");
    index_.word(piece, "the name of a piece");
    result.against = selector_entry(piece, false);
  }
  if (const Node* corners = node.find("corners")) {
    if (corners->is_broken()) throw Recorded{};
    index_.mapping(*corners, "`corners`", "as in `corners: { P: Q }`: the point that is at P comes to Q");
    for (const Node::Entry& entry : corners->entries)
      result.corners.emplace_back(exact(&Resolver::vector, key_node(entry)), exact(&Resolver::vector, entry.value));
  }
  return result;
}

void StepReader::read_congruent(ExpectStep& result, const Node& node) {
  result.congruent_place = place(node);
  if (node.is_mapping() && (node.find("of") != nullptr || node.find("to") != nullptr)) {
    index_.allow_keys(node, "`congruent`", {"of", "to"});
    result.congruent_to = exact(&Resolver::solid, index_.required(node, "to", "`congruent`"));
    result.congruent = selector(index_.required(node, "of", "`congruent`"));
  } else {
    result.congruent = selector(node);
  }
}

void StepReader::read_shapes(ExpectStep& result, const Node& node) {
  result.shapes_place = place(node);
  const Node* number = &node;
  if (node.is_mapping()) {
    index_.mapping(node, "`shapes`", "as in `shapes: 2` or `shapes: { of: \"T.*\", count: 2 }`");
    index_.allow_keys(node, "`shapes`", {"of", "count"});
    result.shapes_of = selector(index_.required(node, "of", "`shapes`"));
    number = &index_.required(node, "count", "`shapes`");
  }
  result.shape_count = count(exact(&Resolver::number, *number), *number);
}

}  // namespace cutproof
