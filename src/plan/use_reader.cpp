// SPDX-License-Identifier: GPL-3.0-or-later
// The step `use`: which lemma, with which values, and whose pieces are whose.
#include "plan/complaints.hpp"
#include "plan/frame.hpp"
#include "plan/lemmas.hpp"
#include "plan/other_field.hpp"
#include "plan/spelling.hpp"
#include "plan/step_reader.hpp"

#include <algorithm>

namespace cutproof {

namespace {

std::string listed(const std::vector<NamedSolid>& solids) {
  std::string text;
  for (std::size_t i = 0; i < solids.size() && i < 8; ++i) text += (i == 0 ? "`" : ", `") + solids[i].name + "`";
  return solids.size() > 8 ? text + " and " + std::to_string(solids.size() - 8) + " more" : text;
}

}  // namespace

void StepReader::for_each_use(const UseOfLemma& tell) {
  if (const Node* steps = index_.section("steps")) attempt([&] { for_each_use(*steps, nullptr, tell); });
}

void StepReader::for_each_use(const Node& steps, const FramePointer& frame, const UseOfLemma& tell) {
  const std::function<void(const Node&, const FramePointer&)> look = [&](const Node& node, const FramePointer& here) {
    if (!node.is_mapping()) return;
    const Node *each = node.find("each"), *group = node.find("steps"), *use = node.find("use");
    const auto inside = [&](const FramePointer& pass) {
      attempt([&] {
        if (each != nullptr) return look(*each, pass);
        if (group != nullptr) return for_each_use(*group, pass, tell);
        Node name = *use;
        name.frame = pass;
        LemmaText& lemma = lemma_named(name);
        GivenValues given;
        if (const Node* with = node.find("with"))
          for (const Node::Entry& entry : with->entries)
            given.emplace_back(entry.key, resolver_.exact_text_aside(resolver_.written_out(entry.value, pass)));
        tell(lemma, given);
      });
    };
    if (each == nullptr && group == nullptr && use == nullptr) return;
    if (resolver_.is_loop(node)) {
      attempt([&] { resolver_.for_each_pass(node, here, inside); });
    } else {
      inside(here);
    }
  };
  for (const Node::Entry& entry : steps.entries) look(entry.value, frame);
}

LemmaText& StepReader::lemma_named(const Node& node) {
  const std::string name = index_.word(node, "the name of a lemma");
  LemmaText* lemma = nullptr;
  if (library_ != nullptr) {
    try {
      lemma = library_->find(*text_, name);
    } catch (const InvalidInput&) {
      throw Recorded{};  // told where the file is named
    } catch (const LimitReached&) {
      throw Recorded{};
    }
  }
  if (lemma != nullptr) return *lemma;
  const std::vector<std::string> known = text_ == nullptr ? std::vector<std::string>() : text_->known_names();
  if (std::find(known.begin(), known.end(), name) != known.end()) throw Recorded{};  // an error that was told already
  const std::string near = nearest_word(name, known);
  index_.fail(node, "there is no lemma " + quoted_text(name),
              near.empty() ? "name it under `lemmas`: a file, or the plan itself" : "did you mean `" + near + "`?");
}

GivenValues StepReader::given_values(const Node& node, LemmaText& lemma) {
  GivenValues given;
  index_.mapping(node, "`with`", "values of the lemma's parameters: `with: { n: 3 }`");
  const std::vector<std::string> known = lemma.parameters();
  bool good = true;
  for (const Node::Entry& entry : node.entries)
    good = attempt([&] {
             if (std::find(known.begin(), known.end(), entry.key) == known.end()) {
               const std::string near = nearest_word(entry.key, known);
               std::string hint =
                   known.empty() ? "it has none: parameters are named under `parameters`" : "its parameters are";
               for (std::size_t i = 0; i < known.size() && i < 8; ++i) hint += (i == 0 ? " `" : ", `") + known[i] + "`";
               index_.fail_key(entry, "the lemma has no parameter " + quoted_text(entry.key),
                               near.empty() ? hint : "did you mean `" + near + "`?");
             }
             if (entry.value.is_broken()) throw Recorded{};
             given.emplace_back(entry.key, resolver_.exact_text_aside(entry.value));
           }) &&
           good;
  if (!good) throw Recorded{};
  return given;
}

std::shared_ptr<const Lemma> StepReader::lemma_with(const Node& node, LemmaText& lemma, const GivenValues& given) {
  std::string with;
  for (const auto& [name, value] : given) with += (with.empty() ? " with " : ", ") + name + " = " + value;
  const std::string called = "the lemma `" + node.text + "`" + with;
  try {
    return library_->read(lemma, given);
  } catch (const InvalidPlan& error) {
    if (lemma.document != text_->document) {
      const Diagnostic& first = error.diagnostics().front();
      std::string where = lemma.written.empty() ? "the plan" : lemma.written;
      if (first.line > 0) where += ":" + std::to_string(first.line) + ":" + std::to_string(first.column);
      index_.fail(node, called + " is invalid: " + where + ": " + first.message, first.hint);
    }
    for (const Diagnostic& each : error.diagnostics()) index_.adopt(each);
  } catch (const LimitReached& error) {
    resolver_.placed(
        node, [&]() -> void { throw LimitReached(error.limit(), called + ": " + told(error).sentence, told(error).hint); });
  } catch (const InvalidInput& error) {
    index_.fail(node, "the lemma `" + node.text + "` cannot be used like this: " + told(error).sentence, told(error).hint);
  }
  throw Recorded{};
}

const std::vector<SolidPointer>& StepReader::carried_sides(const Node& node, const Lemma& lemma, bool backwards) {
  const auto [known, fresh] = carried_.try_emplace({&lemma, backwards});
  if (!fresh) return known->second;
  try {
    for (const NamedSolid& each : backwards ? lemma.plan.start : lemma.plan.goals)
      known->second.push_back(
          resolver_.placed(node, [&] { return in_other_field(each.solid, *lemma.plan.tower, resolver_.tower()); }));
  } catch (const Recorded&) {
    carried_.erase(known);
    throw;
  }
  return known->second;
}

std::vector<Node> StepReader::for_each_solid_of(const Node& node, const std::string& key, const std::string& lemma,
                                                const std::vector<NamedSolid>& solids, const std::string& what) {
  const Node& value = index_.required(node, key, "a `use` step");
  if (solids.empty())  // then something is wrong with the lemma itself
    index_.fail(value, "the " + what + " of the lemma `" + lemma + "` cannot be read", "mend the lemma first");
  if (value.is_scalar()) {
    if (solids.size() > 1)
      index_.fail(value, "the lemma `" + lemma + "` has several " + what + ", and this is one name",
                  "write `{ ITS-NAME: OURS, ... }` for " + listed(solids));
    return {value};
  }
  index_.mapping(value, "`" + key + "`", "a name, or names of the lemma's " + what + " and of ours: `{ A: T1, B: T2 }`");
  std::vector<const Node*> found(solids.size(), nullptr);
  for (const Node::Entry& entry : value.entries) {
    const std::string name = resolver_.piece_text(key_node(entry));
    const auto solid = std::find_if(solids.begin(), solids.end(), [&](const NamedSolid& each) { return each.name == name; });
    if (solid == solids.end())
      index_.fail_key(entry, quoted_text(name) + " is none of the " + what + " of the lemma `" + lemma + "`",
                      solids.size() == 1
                          ? "it has one: write the name of our piece alone, or `" + solids.front().name + ": OURS`"
                          : "these are " + listed(solids));
    const Node*& place = found[static_cast<std::size_t>(solid - solids.begin())];
    if (place != nullptr) index_.fail_key(entry, "the name `" + name + "` stands twice here", "name each once");
    place = &entry.value;
  }
  std::vector<Node> result;
  for (std::size_t i = 0; i < solids.size(); ++i) {
    if (found[i] == nullptr)
      index_.fail(value, "`" + key + "` does not name `" + solids[i].name + "` of the lemma `" + lemma + "`",
                  "its " + what + " are " + listed(solids));
    result.push_back(*found[i]);
  }
  return result;
}

UseStep StepReader::use(const Node& node) {
  UseStep result;
  const Node& name = *node.find("use");
  LemmaText& text = lemma_named(name);
  result.name = {name.text, place(name)};
  if (const Node* backwards = node.find("backwards")) {
    if (!backwards->is_scalar() || (backwards->text != "true" && backwards->text != "false"))
      index_.fail(*backwards, "`backwards` is `true` or `false`", "leave it out to go from the lemma's start to its goal");
    result.backwards = backwards->text == "true";
  }
  GivenValues given;
  if (const Node* with = node.find("with")) {
    if (with->is_broken()) throw Recorded{};
    given = given_values(*with, text);
  }
  result.lemma = lemma_with(name, text, given);
  const ExactPlan& lemma = result.lemma->plan;
  if (lemma.dimension != index_.dimension())
    index_.fail(name,
                "the lemma `" + name.text + "` is of dimension " + std::to_string(lemma.dimension) +
                    ", and this plan of dimension " + std::to_string(index_.dimension()),
                "a lemma is of the dimension of the plan that uses it");
  if (!lemma.added.empty())
    index_.fail(name, "the lemma `" + name.text + "` has `added`, and such a plan is no lemma",
                "it proves that start and goal are equicomplementary, not that one becomes the other");
  if (lemma.allow_mirror && !allow_mirror_)
    index_.fail(
        name, "the lemma `" + name.text + "` may turn pieces into mirror images (`mirror: allow`), and this plan forbids it",
        "write `mirror: allow` at the top of this plan, or `mirror: forbid` in the lemma");
  const std::vector<NamedSolid>&from = result.backwards ? lemma.goals : lemma.start,
        &to = result.backwards ? lemma.start : lemma.goals;
  const std::string start = "start pieces", goals = "goals";
  // What it takes and what it makes are both looked at, whatever is wrong with the other.
  const bool takes = attempt([&] {
    std::set<std::string> ours;
    const std::vector<Node> pieces = for_each_solid_of(node, "take", name.text, from, result.backwards ? goals : start);
    for (std::size_t i = 0; i < pieces.size(); ++i) {
      const Selector taken = selector(pieces[i]);
      if (taken.size() != 1 || taken.front().is_pattern())
        index_.fail(pieces[i], "the name of one piece is wanted here", "write `take: T`, or `take: { ITS-PIECE: T, ... }`");
      if (!ours.insert(taken.front().text).second)
        index_.fail(pieces[i], "the piece `" + taken.front().text + "` is taken twice",
                    "each piece can stand for one solid");
      result.taken.push_back({i, taken.front()});
    }
  });
  const bool makes = attempt([&] {
    std::set<std::string> ours;
    const std::vector<Node> names = for_each_solid_of(node, "into", name.text, to, result.backwards ? start : goals);
    const std::vector<SolidPointer>& solids = carried_sides(name, *result.lemma, result.backwards);
    for (std::size_t i = 0; i < names.size(); ++i) {
      result.made.push_back({piece_name(names[i]), solids[i]});
      if (!ours.insert(result.made.back().name.name).second)
        index_.fail(names[i], "two pieces would be named `" + result.made.back().name.name + "`",
                    "choose two different names");
    }
  });
  const bool moves = attempt([&] {
    const Node* by = node.find("by");
    if (by == nullptr) return;
    if (by->is_broken()) throw Recorded{};
    result.by.emplace();
    read_motion(*result.by, *by);
  });
  if (!takes || !makes || !moves) throw Recorded{};
  return result;
}

}  // namespace cutproof
