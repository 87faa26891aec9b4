// SPDX-License-Identifier: GPL-3.0-or-later
// What an `expect` step says.
#include "plan/step_reader.hpp"

#include "number/flint.hpp"
#include "number/print.hpp"

namespace cutproof {

long StepReader::count(const Number& number, const Node& node) {
  if (!number.is_integer() || number.sign() < 0)
    index_.fail(node, "a whole number is wanted here, and this is " + to_exact(number));
  Rational value;
  number.get_rational(value);
  if (!fmpz_fits_si(value.numerator())) index_.fail(node, "this number is too large to count anything");
  return fmpz_get_si(value.numerator());
}

ExpectStep StepReader::expect(const Node& value) {
  index_.mapping(value, "`expect`", "as in `expect: { pieces: 2 }`");
  index_.allow_keys(value, "`expect`",
                    {"pieces", "volume", "connected", "filled", "angles", "dehn", "congruent", "shapes", "holds", "area"});
  ExpectStep result;
  for (const Node::Entry& entry : value.entries) {
    const Node& node = entry.value;
    if (node.is_broken()) throw Recorded{};
    if (entry.key == "pieces") {
      result.piece_count = count(exact(&Resolver::number, node), node);
      result.piece_count_place = place(node);
    } else if (entry.key == "volume" || entry.key == "area") {
      index_.mapping(node, "`volume`", "as in `volume: { A: 1/2 }`");
      std::set<std::string> names;
      for (const Node::Entry& piece : node.entries) {
        SelectorEntry name = selector_entry(key_node(piece), false);
        note_name(names, name.text, piece);
        result.volumes.emplace_back(std::move(name), exact(&Resolver::number, piece.value), place(piece.value));
      }
    } else if (entry.key == "connected") {
      result.connected = selector(node);
      result.connected_place = place(node);
    } else if (entry.key == "filled") {
      result.filled_place = place(node);
      const bool long_form = node.is_mapping() && (node.find("solid") != nullptr || node.find("by") != nullptr);
      if (long_form) {
        index_.allow_keys(node, "`filled`", {"solid", "by"});
        result.filled = exact(&Resolver::solid, index_.required(node, "solid", "`filled`"));
        if (const Node* by = node.find("by")) result.filled_by = selector(*by);
      } else {
        result.filled = exact(&Resolver::solid, node);
      }
    } else if (entry.key == "angles") {
      if (node.is_sequence()) {
        index_.sequence(node, "`angles`", "as in `angles: { of: A, all: [90 deg, 270 deg] }`");
        for (const Node::Entry& each : node.entries) result.angles.push_back(audit(each.value));
      } else {
        result.angles.push_back(audit(node));
      }
    } else if (entry.key == "congruent") {
      read_congruent(result, node);
    } else if (entry.key == "shapes") {
      read_shapes(result, node);
    } else if (entry.key == "holds") {
      read_conditions(result, node);
    } else {  // dehn
      index_.mapping(node, "`dehn`", "as in `dehn: { A: 0 }`");
      std::set<std::string> names;
      for (const Node::Entry& piece : node.entries) {
        if (!exact(&Resolver::number, piece.value).is_zero())
          index_.fail(piece.value, "only a Dehn invariant of 0 can be expected",
                      "write `0`, or compare solids with `compare`");
        SelectorEntry name = selector_entry(key_node(piece), false);
        note_name(names, name.text, piece);
        result.dehn_zero.emplace_back(std::move(name), place(piece.value));
      }
    }
  }
  return result;
}

void StepReader::read_conditions(ExpectStep& result, const Node& node) {
  const auto decide = [&](const Node& condition) {
    result.conditions.push_back({condition.text, resolver_.holds(condition, condition.frame), place(condition)});
  };
  if (!node.is_sequence()) return decide(node);
  // A loop may leave none of them, and then there is nothing that could fail to hold.
  index_.sequence_of_passes(node, "`holds`", "as in `holds: [n >= 4, mod(n; 2) = 0]`");
  for (const Node::Entry& entry : node.entries) attempt([&] { decide(entry.value); });
}

AngleAudit StepReader::audit(const Node& value) {
  index_.mapping(value, "`angles`", "as in `angles: { of: A, all: [90 deg, 270 deg], except: { 45 deg: 1 } }`");
  index_.allow_keys(value, "`angles`", {"of", "all", "except"});
  AngleAudit result;
  const Node& piece = index_.required(value, "of", "`angles`");
  index_.word(piece, "the name of a piece");
  result.piece = selector_entry(piece, false);
  result.place = place(value);
  const Node& all = index_.required(value, "all", "`angles`");
  if (all.is_sequence()) {
    index_.sequence(all, "`all`", "as in `all: [90 deg, 270 deg]`");
    for (const Node::Entry& entry : all.entries) result.allowed.push_back(exact(&Resolver::angle, entry.value));
  } else {
    result.allowed.push_back(exact(&Resolver::angle, all));
  }
  if (const Node* except = value.find("except")) {
    index_.mapping(*except, "`except`", "as in `except: { 45 deg: 1 }`: an angle and how many edges have it");
    for (const Node::Entry& entry : except->entries) {
      result.exceptions.emplace_back(exact(&Resolver::angle, key_node(entry)),  // an angle stands in the key
                                     count(exact(&Resolver::number, entry.value), entry.value));
    }
  }
  return result;
}

}  // namespace cutproof
