// SPDX-License-Identifier: GPL-3.0-or-later
// Every key is accounted for here or by the reader of its section; nothing is passed over in silence.
#include "plan/plan_index.hpp"

#include "plan/dimension_words.hpp"
#include "plan/frame.hpp"
#include "plan/spelling.hpp"
#include "plan/synonyms.hpp"

#include <algorithm>
#include <iterator>

namespace cutproof {

namespace {

const std::vector<std::string> sections = {"cutproof", "title",   "source", "note",   "dimension", "mirror", "parameters",
                                           "where",    "cases",   "let",    "points", "planes",    "lines",  "motions",
                                           "solids",   "figures", "lemmas", "start",  "steps",     "goal",   "added"};

std::string listed(const std::vector<std::string>& words) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i)
    text += (i == 0 ? "" : i + 1 == words.size() ? " and " : ", ") + ("`" + words[i] + "`");
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
  static const std::vector<std::string> kinds = {
      "box",  "prism", "pyramid",      "convex-hull", "faces", "half-spaces", "zonohedron", "regular", "archimedean",
      "mesh", "union", "intersection", "difference",  "moved", "scaled",      "mirrored",   "polygon"};
  return kinds;
}

const std::vector<std::string>& step_kinds() {
  static const std::vector<std::string> kinds = {"cut", "move", "join", "split", "expect", "use"};
  return kinds;
}

const std::vector<std::string>& motion_kinds() {
  static const std::vector<std::string> kinds = {"translation", "rotation", "half-turn", "map",     "reflection", "inverse",
                                                 "align",       "lay",      "onto",      "against", "corners"};
  return kinds;
}

bool is_searching(const std::string& key) {
  return key == "lay" || key == "onto" || key == "against" || key == "corners";
}

PlanIndex::PlanIndex(Document& document, const RepetitionLimits& limits, Meshes* meshes, std::optional<int> version_around,
                     int dimension_around)
    : document_(document), dimension_(dimension_around), limits_(limits), meshes_(meshes) {
  const Node& root = document.root();
  if (root.is_broken()) throw Recorded{};
  if (!root.is_mapping()) fail(root, "a plan is a mapping of keys to values", "begin with `cutproof: 1`");
  const Node* version = section("cutproof");
  const bool is_read = version != nullptr && version->is_scalar() && (version->text == "1" || version->text == "2");
  if (is_read) version_ = version->text == "1" ? 1 : 2;
  if (version_around) version_ = *version_around;
  read_dimension();
  for (const Node::Entry& entry : root.entries)
    if (is_foreign_key(entry, "a plan", sections)) misspelt_.insert(word_meant(entry.key, words_of("a plan", sections)));
  if (version_around) {
    for (const Node::Entry& entry : root.entries)
      if (entry.key == "cutproof")
        report(entry.key_begin, entry.key_end,
               "a plan in a plan has no `cutproof`: it is of the version of the plan around it",
               "leave `cutproof` out here");
  } else if (version == nullptr) {
    if (!is_missing_for_a_reason("cutproof"))
      report(root.begin, root.begin, "the plan does not say which version of the language it is written in",
             "begin with `cutproof: 1`");
  } else if (!is_read && !version->is_broken()) {
    report(version->begin, version->end, "this tool reads versions 1 and 2 of the plan language",
           "write `cutproof: 1` or `cutproof: 2`");
  }
  collect("parameters", NameSpace::value);
  collect("let", NameSpace::value);
  collect("points", NameSpace::value);
  collect(is_flat() ? "lines" : "planes", NameSpace::plane);
  collect("motions", NameSpace::motion);
  collect(is_flat() ? "figures" : "solids", NameSpace::solid);
  check_arguments();
}

void PlanIndex::read_dimension() {
  const Node* dimension = section("dimension");
  if (dimension == nullptr || version_ < 2 || dimension->is_broken()) return;
  if (dimension->is_scalar() && dimension->text == "2") dimension_ = 2;
  if (dimension->is_scalar() && dimension->text == "3") dimension_ = 3;
  if (dimension->is_scalar() && (dimension->text == "2" || dimension->text == "3")) return;
  report(dimension->begin, dimension->end, "`dimension` is either 3, for solids, or 2, for figures", "3 is the default");
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
    std::string name = entry.key;
    std::vector<std::string> arguments;
    if (version_ < 2 && name.find('(') != std::string::npos) {
      report(entry.key_begin, entry.key_end,
             "definitions with arguments, such as " + quoted_text(name) +
                 ", are of version 2 of the plan language, and this plan is of version 1",
             "write `cutproof: 2` at the top");
      refused += name + '\n';
      continue;
    }
    if (version_ >= 2 && name.find('(') != std::string::npos && !read_head(entry, &name, &arguments)) {
      refused += name + '\n';
      continue;
    }
    if (space == NameSpace::value) {
      if (is_reserved_name(name, version_) || name == "all") {
        report(entry.key_begin, entry.key_end, "`" + name + "` has a meaning of its own and cannot be defined",
               "choose another name");
        continue;
      }
      if (!is_identifier(name)) {
        report(entry.key_begin, entry.key_end, quoted_text(entry.key) + " cannot be a name in expressions",
               "a name is an ASCII letter or `_`, then letters, digits and `_`");
        refused += entry.key + '\n';
        continue;
      }
    } else if (!is_wide_name(name)) {
      report(entry.key_begin, entry.key_end, quoted_text(entry.key) + " cannot be a name",
             entry.key == "all" ? "`all` stands for all pieces"
                                : "a name is an ASCII letter or `_`, then letters, digits, `_`, `-` and `.`");
      refused += entry.key + '\n';
      continue;
    }
    const auto [place, fresh] = known.emplace(name, Definition{entry.key_begin, entry.key_end, &entry.value, arguments});
    if (fresh && key == "points") points_.insert(name);
    if (fresh && key == "parameters") {
      parameters_.push_back(name);
      if (!arguments.empty())
        report(entry.key_begin, entry.key_end, "a parameter has a value, and no arguments",
               "define " + quoted_text(entry.key) + " in `let`");
    }
    const Definition& first = place->second;
    if (fresh) continue;
    if (first.key_begin < node->begin)
      report(entry.key_begin, entry.key_end,
             "`" + name + "` is defined twice: it stands " + document_.places().in_words(first.key_begin) + ", too",
             version_ < 2 ? "names in `let` and `points` share one space"
                          : "names in `parameters`, `let` and `points` share one space");
    else if (first.arguments.size() != arguments.size() || !arguments.empty())  // the YAML's reader tells of equal keys
      report(entry.key_begin, entry.key_end,
             "`" + name + "` is defined twice: it stands " + document_.places().in_words(first.key_begin) + ", too",
             "one name has one definition, with arguments or without");
  }
}

void PlanIndex::set_parameter(const std::string& name, Node value) {
  set_values_.push_back(std::move(value));
  names_[static_cast<int>(NameSpace::value)].at(name).value = &set_values_.back();
}

void PlanIndex::adopt(const Diagnostic& diagnostic) {
  if (adopted_.insert(std::to_string(diagnostic.line) + ":" + std::to_string(diagnostic.column) + ":" + diagnostic.message)
          .second)
    document_.error(diagnostic);
}

void PlanIndex::report_nowhere(const std::string& message, const std::string& hint) {
  Diagnostic diagnostic;
  diagnostic.line = diagnostic.column = 0;
  diagnostic.message = message;
  diagnostic.hint = hint;
  document_.error(std::move(diagnostic));
}

bool PlanIndex::read_head(const Node::Entry& entry, std::string* name, std::vector<std::string>* arguments) {
  const std::string& key = entry.key;
  const std::string usage = "write `P(k)` or `P(i, j)`: a name, and names for the values that it is used with";
  const std::size_t open = key.find('('), close = key.find(')');
  *name = key.substr(0, key.find_last_not_of(' ', open == 0 ? 0 : open - 1) + 1);
  if (open == 0 || close + 1 != key.size() || close < open) {
    report(entry.key_begin, entry.key_end, quoted_text(key) + " does not name a definition", usage);
    return false;
  }
  for (std::size_t begin = open + 1; begin <= close;) {
    const std::size_t end = std::min(key.find_first_of(",;", begin), close);
    const std::size_t first = std::min(key.find_first_not_of(' ', begin), end);
    std::string argument = key.substr(first, end - first);
    argument.erase(argument.find_last_not_of(' ') + 1);
    begin = end + 1;
    std::string problem;
    if (argument.empty()) {
      problem = "the name of an argument is missing in " + quoted_text(key);
    } else if (!is_identifier(argument)) {
      problem = quoted_text(argument) + " cannot be the name of an argument";
    } else if (is_reserved_name(argument, version_) || argument == "all") {
      problem = "`" + argument + "` has a meaning of its own and cannot be an argument";
    } else if (std::find(arguments->begin(), arguments->end(), argument) != arguments->end()) {
      problem = "two arguments of " + quoted_text(key) + " are named `" + argument + "`";
    }
    if (!problem.empty()) {
      report(entry.key_begin, entry.key_end, problem, usage);
      return false;
    }
    arguments->push_back(std::move(argument));
  }
  return true;
}

bool PlanIndex::is_taken(const std::string& name) const {
  return is_reserved_name(name, version_) || name == "all" ||
         std::any_of(std::begin(names_), std::end(names_), [&](const Names& names) { return names.count(name) != 0; });
}

void PlanIndex::check_arguments() {
  for (const Names& names : names_)
    for (const auto& [name, definition] : names)
      for (const std::string& argument : definition.arguments)
        if (is_taken(argument))
          report(definition.key_begin, definition.key_end,
                 "the argument `" + argument + "` of `" + name + "` has the name of something that the plan defines",
                 "choose another name for the argument");
}

void PlanIndex::count(std::size_t& counter, std::size_t more, std::size_t limit, const char* one, const char* many) {
  if (more > limit || counter > limit - more) {
    counter = limit;
    throw LimitReached("max-passes", "this makes more than " + std::to_string(limit) + " " + (limit == 1 ? one : many),
                       "is a range longer than it is meant to be? --max-passes raises the limit");
  }
  counter += more;
}

bool PlanIndex::is_missing_for_a_reason(const std::string& section) const {
  return document_.root().damaged || misspelt_.count(section) != 0;
}

bool PlanIndex::is_lost(NameSpace space, const std::string& name) const {
  return lost_[static_cast<int>(space)] || refused_[static_cast<int>(space)].find(name) != std::string::npos;
}

namespace {

template <class Tree, class Parse>
const Tree& once(std::unordered_map<std::string, Tree>& known, const std::string& text, Parse parse) {
  const auto found = known.find(text);
  return found != known.end() ? found->second : known.emplace(text, parse()).first->second;
}

}  // namespace

const Expression& PlanIndex::parsed(const std::string& text) {
  return *once(parsed_, text, [&] { return parse_expression(text, version_); });
}
const Equation& PlanIndex::parsed_equation(const std::string& text) {
  return once(equations_, text, [&] { return parse_equation(text, version_); });
}
const Condition& PlanIndex::parsed_condition(const std::string& text) {
  return once(conditions_, text, [&] { return parse_condition(text); });
}
const Range& PlanIndex::parsed_range(const std::string& text) {
  return once(ranges_, text, [&] { return parse_range(text); });
}
const Reference& PlanIndex::parsed_reference(const std::string& text) {
  return once(references_, text, [&] { return parse_reference(text); });
}
const WrittenName& PlanIndex::parsed_name(const std::string& text) {
  return once(written_names_, text, [&] { return parse_written_name(text); });
}

std::string PlanIndex::nearest(NameSpace space, const std::string& name) const {
  std::vector<std::string> known;
  for (const auto& entry : names(space)) known.push_back(entry.first);
  return nearest_word(name, known);
}

Diagnostic PlanIndex::diagnostic(std::size_t begin, std::size_t end, const std::string& message, const std::string& hint,
                                 const FramePointer& frame) const {
  const std::shared_ptr<const Pass> pass = pass_of(frame);
  const std::optional<std::size_t> use = used_at(frame);
  std::string context;
  if (use) context = "with " + arguments_text(frame) + ", used " + document_.places().in_words(*use);
  if (pass != nullptr) context += (use ? " " : "") + pass_words(*pass);
  Diagnostic result =
      document_.diagnostic(begin, end, (context.empty() ? "" : context + ": ") + in_dimension(dimension_, message),
                           hint_in_dimension(dimension_, hint));
  result.pass = pass;
  if (use) result.used_at = document_.place(*use);
  return result;
}

void PlanIndex::report(std::size_t begin, std::size_t end, const std::string& message, const std::string& hint,
                       const FramePointer& frame) {
  // Of what goes wrong in every pass the first one says enough.
  if (frame != nullptr && !reported_in_passes_.insert(begin).second) return;
  if (reported_.insert({begin, message}).second) document_.error(diagnostic(begin, end, message, hint, frame));
}

void PlanIndex::fail(const Node& node, const std::string& message, const std::string& hint) {
  if (!node.is_broken()) report(node.begin, node.end, message, hint, node.frame);
  throw Recorded{};
}

void PlanIndex::fail_key(const Node::Entry& entry, const std::string& message, const std::string& hint) {
  report(entry.key_begin, entry.key_end, message, hint, entry.value.frame);
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
  std::copy_if(words.begin(), words.end(), std::back_inserter(result), [&](const std::string& word) {
    std::string_view meant;
    const int dimension = dimension_of_word(word, &meant);
    return version_of_word(place, word) <= version_ && (dimension == 0 || dimension == dimension_);
  });
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

bool PlanIndex::is_of_other_dimension(const Node::Entry& entry) {
  std::string_view meant;
  const int dimension = dimension_of_word(entry.key, &meant);
  if (dimension == 0 || dimension == dimension_) return false;
  report(entry.key_begin, entry.key_end,
         "`" + entry.key + "` is a word of plans of dimension " + std::to_string(dimension) +
             ", and this one is of dimension " + std::to_string(dimension_),
         meant.empty() ? "" : "write `" + std::string(meant) + "`", entry.value.frame);
  return true;
}

const Node& PlanIndex::sequence_of_passes(const Node& node, const std::string& what, const std::string& example) {
  return node.is_sequence() && node.entries.empty() && node.repeats ? node : sequence(node, what, example);
}

void PlanIndex::refuse_newer(const std::string& place, const Node::Entry& entry) {
  if (is_newer(place, entry)) throw Recorded{};
}

bool PlanIndex::is_foreign_key(const Node::Entry& entry, const std::string& what, const std::vector<std::string>& known) {
  if (is_newer(what, entry)) return true;
  if (std::find(known.begin(), known.end(), entry.key) != known.end()) return is_of_other_dimension(entry);
  const std::vector<std::string> words = words_of(what, known);
  const std::string near = word_meant(entry.key, words);
  report(entry.key_begin, entry.key_end, what + " has no key " + quoted_text(entry.key),
         !near.empty()       ? "did you mean `" + near + "`?"
         : words.size() == 1 ? "its only key is " + listed(words)
                             : "its keys are " + listed(words),
         entry.value.frame);
  return true;
}

void PlanIndex::allow_keys(const Node& node, const std::string& what, const std::vector<std::string>& keys) {
  bool good = true;
  for (const Node::Entry& entry : node.entries) good = !is_foreign_key(entry, what, keys) && good;
  if (!good) throw Recorded{};
}

void PlanIndex::require(const Node& node, const std::vector<std::string>& keys, const std::string& what) {
  std::vector<std::string> missing;
  std::string example;
  for (const std::string& key : keys) {
    if (node.find(key) != nullptr) continue;
    missing.push_back(key);
    example += (example.empty() ? "add `" : " and `") + key + ": ...`";
  }
  if (missing.empty()) return;
  if (node.damaged) throw Recorded{};
  fail(node, what + (missing.size() == 1 ? " needs the key " : " needs the keys ") + listed(missing), example);
}

const Node& PlanIndex::required(const Node& node, const std::string& key, const std::string& what) {
  const Node* value = node.find(key);
  if (value == nullptr) {
    require(node, {key}, what);
    throw Recorded{};
  }
  if (value->is_broken()) throw Recorded{};
  return *value;
}

std::string PlanIndex::word(const Node& node, const std::string& what) {
  if (!node.is_scalar() || node.text.empty()) fail(node, what + " is wanted here");
  return node.text;
}

}  // namespace cutproof
