// SPDX-License-Identifier: GPL-3.0-or-later
// Every key is accounted for here or by the reader of its section; nothing is passed over in silence.
#include "plan/plan_index.hpp"

#include <algorithm>
#include <iterator>

namespace cutproof {

namespace {

const std::vector<std::string> sections = {"cutproof", "title",   "source", "note",  "mirror", "let", "points",
                                           "planes",   "motions", "solids", "start", "steps",  "goal"};

std::string listed(const std::vector<std::string>& words) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i)
    text += (i == 0 ? "" : i + 1 == words.size() ? " or " : ", ") + ("`" + words[i] + "`");
  return text;
}

}  // namespace

bool is_wide_name(std::string_view name) {
  const auto letter = [](char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_'; };
  if (name.empty() || name == "all" || !letter(name[0])) return false;
  return std::all_of(name.begin(), name.end(),
                     [&](char c) { return letter(c) || (c >= '0' && c <= '9') || c == '-' || c == '.'; });
}

const std::vector<std::string>& solid_kinds() {
  static const std::vector<std::string> kinds = {"box",          "prism",      "pyramid", "convex-hull", "faces",
                                                 "half-spaces",  "zonohedron", "regular", "archimedean", "union",
                                                 "intersection", "difference", "moved",   "scaled",      "mirrored"};
  return kinds;
}

const std::vector<std::string>& step_kinds() {
  static const std::vector<std::string> kinds = {"cut", "move", "join", "split", "expect"};
  return kinds;
}

PlanIndex::PlanIndex(Document& document) : document_(document) {
  const Node& root = document.root();
  if (root.is_broken()) throw Recorded{};
  if (!root.is_mapping()) fail(root, "a plan is a mapping of keys to values", "begin with `cutproof: 1`");
  const Node* version = section("cutproof");
  const bool is_read = version != nullptr && version->is_scalar() && (version->text == "1" || version->text == "2");
  if (is_read) version_ = version->text == "1" ? 1 : 2;
  for (const Node::Entry& entry : root.entries)
    if (is_foreign_key(entry, "a plan", sections)) misspelt_.insert(nearest_word(entry.key, words_of("a plan", sections)));
  if (version == nullptr) {
    if (!is_missing_for_a_reason("cutproof"))
      report(root.begin, root.begin, "the plan does not say which version of the language it is written in",
             "begin with `cutproof: 1`");
  } else if (!is_read && !version->is_broken()) {
    report(version->begin, version->end, "this tool reads versions 1 and 2 of the plan language",
           "write `cutproof: 1` or `cutproof: 2`");
  }
  collect("let", NameSpace::value);
  collect("points", NameSpace::value);
  collect("planes", NameSpace::plane);
  collect("motions", NameSpace::motion);
  collect("solids", NameSpace::solid);
}

void PlanIndex::collect(std::string_view key, NameSpace space) {
  const Node* node = section(key);
  bool& lost = lost_[static_cast<int>(space)];
  std::string& refused = refused_[static_cast<int>(space)];
  if (node == nullptr ? is_missing_for_a_reason(std::string(key)) : node->is_broken() || node->damaged) lost = true;
  if (node == nullptr || node->is_broken()) return;
  if (node->is_mapping() && node->entries.empty() && node->damaged) return;
  if (!node->is_mapping() || node->entries.empty()) {
    report(node->begin, node->end, "`" + std::string(key) + "` is a mapping of names, with at least one",
           "leave `" + std::string(key) + "` out where it is not needed");
    lost = true;
    return;
  }
  Names& known = names_[static_cast<int>(space)];
  for (const Node::Entry& entry : node->entries) {
    if (space == NameSpace::value) {
      if (is_reserved_name(entry.key) || entry.key == "all") {
        report(entry.key_begin, entry.key_end, "`" + entry.key + "` has a meaning of its own and cannot be defined",
               "choose another name");
        continue;
      }
      if (!is_identifier(entry.key)) {
        report(entry.key_begin, entry.key_end, quoted_text(entry.key) + " cannot be a name in expressions",
               "a name is an ASCII letter or `_`, then letters, digits and `_`");
        refused += entry.key + '\n';
        continue;
      }
    } else if (!is_wide_name(entry.key)) {
      report(entry.key_begin, entry.key_end, quoted_text(entry.key) + " cannot be a name",
             entry.key == "all" ? "`all` stands for all pieces"
                                : "a name is an ASCII letter or `_`, then letters, digits, `_`, `-` and `.`");
      refused += entry.key + '\n';
      continue;
    }
    const auto [place, fresh] = known.emplace(entry.key, &entry);
    if (fresh && key == "points") points_.insert(entry.key);
    if (!fresh && place->second->key_begin < node->begin)  // within one section the reader of the YAML has told it
      report(entry.key_begin, entry.key_end,
             "`" + entry.key + "` is defined twice: it stands " + document_.places().in_words(place->second->key_begin) +
                 ", too",
             "names in `let` and `points` share one space");
  }
}

bool PlanIndex::is_missing_for_a_reason(const std::string& section) const {
  return document_.root().damaged || misspelt_.count(section) != 0;
}

bool PlanIndex::is_lost(NameSpace space, const std::string& name) const {
  return lost_[static_cast<int>(space)] || refused_[static_cast<int>(space)].find(name) != std::string::npos;
}

const Expression& PlanIndex::parsed(const std::string& text) {
  ExpressionPointer& expression = parsed_[text];
  if (expression == nullptr) expression = parse_expression(text);
  return *expression;
}

std::string PlanIndex::nearest(NameSpace space, const std::string& name) const {
  std::vector<std::string> known;
  for (const auto& entry : names(space)) known.push_back(entry.first);
  return nearest_word(name, known);
}

void PlanIndex::report(std::size_t begin, std::size_t end, const std::string& message, const std::string& hint) {
  if (reported_.insert({begin, message}).second) document_.error(begin, end, message, hint);
}

void PlanIndex::fail(const Node& node, const std::string& message, const std::string& hint) {
  if (!node.is_broken()) report(node.begin, node.end, message, hint);
  throw Recorded{};
}

void PlanIndex::fail_key(const Node::Entry& entry, const std::string& message, const std::string& hint) {
  report(entry.key_begin, entry.key_end, message, hint);
  throw Recorded{};
}

const Node& PlanIndex::mapping(const Node& node, const std::string& what, const std::string& example) {
  if (!node.is_mapping()) fail(node, what + " is a mapping", example);
  if (node.entries.empty() && node.damaged) throw Recorded{};
  if (node.entries.empty()) fail(node, what + " is empty", example);
  return node;
}

const Node& PlanIndex::sequence(const Node& node, const std::string& what, const std::string& example) {
  if (!node.is_sequence()) fail(node, what + " is a list", example);
  if (node.entries.empty() && node.damaged) throw Recorded{};
  if (node.entries.empty()) fail(node, what + " is empty", example);
  return node;
}

std::vector<std::string> PlanIndex::words_of(const std::string& place, const std::vector<std::string>& words) const {
  std::vector<std::string> result;
  std::copy_if(words.begin(), words.end(), std::back_inserter(result),
               [&](const std::string& word) { return version_of_word(place, word) <= version_; });
  return result;
}

bool PlanIndex::is_newer(const std::string& place, const Node::Entry& entry) {
  const int needed = version_of_word(place, entry.key);
  if (needed <= version_) return false;
  report(entry.key_begin, entry.key_end,
         "`" + entry.key + "` is a word of version " + std::to_string(needed) +
             " of the plan language, and this plan is of version " + std::to_string(version_),
         "write `cutproof: " + std::to_string(needed) + "` at the top");
  return true;
}

void PlanIndex::refuse_newer(const std::string& place, const Node::Entry& entry) {
  if (is_newer(place, entry)) throw Recorded{};
}

bool PlanIndex::is_foreign_key(const Node::Entry& entry, const std::string& what, const std::vector<std::string>& known) {
  if (is_newer(what, entry)) return true;
  if (std::find(known.begin(), known.end(), entry.key) != known.end()) return false;
  const std::vector<std::string> words = words_of(what, known);
  const std::string near = nearest_word(entry.key, words);
  report(entry.key_begin, entry.key_end, what + " has no key " + quoted_text(entry.key),
         near.empty() ? "its keys are " + listed(words) : "did you mean `" + near + "`?");
  return true;
}

void PlanIndex::allow_keys(const Node& node, const std::string& what, const std::vector<std::string>& keys) {
  bool good = true;
  for (const Node::Entry& entry : node.entries) good = !is_foreign_key(entry, what, keys) && good;
  if (!good) throw Recorded{};
}

const Node& PlanIndex::required(const Node& node, const std::string& key, const std::string& what) {
  const Node* value = node.find(key);
  if (value == nullptr) {
    if (node.damaged) throw Recorded{};
    fail(node, what + " needs the key `" + key + "`", "add `" + key + ": ...`");
  }
  if (value->is_broken()) throw Recorded{};
  return *value;
}

std::string PlanIndex::word(const Node& node, const std::string& what) {
  if (!node.is_scalar() || node.text.empty()) fail(node, what + " is wanted here");
  return node.text;
}

}  // namespace cutproof
