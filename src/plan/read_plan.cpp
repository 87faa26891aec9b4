// SPDX-License-Identifier: GPL-3.0-or-later
// Two passes: the first finds the field, the second has every number in it. Names that nothing uses get a throw-away field
// each.
#include "plan/read_plan.hpp"

#include "number/nearest.hpp"
#include "plan/complaints.hpp"
#include "plan/definition_cycles.hpp"
#include "plan/lemmas.hpp"
#include "plan/near_numbers.hpp"
#include "plan/step_reader.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace cutproof {

namespace {

/// What is wrong is reported before what is too large: an error once found stays one.
void end_with_errors(Document& document, const ReachedLimits& limits = {}) {
  if (!document.diagnostics().empty()) throw InvalidPlan(document.diagnostics(), document.error_count());
  if (limits.first) throw *limits.first;
}

Node reference_to(const std::string& name) {
  Node node;
  node.kind = Node::Kind::scalar;
  node.text = name;
  return node;
}

/// Whether a solid may have no interior points: a part or what is left of others may.
bool can_be_empty(const SolidDescription& solid) {
  if (const auto* placed = std::get_if<PlacedDescription>(&solid.kind)) return can_be_empty(*placed->solid);
  const auto* combination = std::get_if<BooleanDescription>(&solid.kind);
  if (combination == nullptr) return false;
  return combination->kind != BooleanKind::union_of_all ||
         std::all_of(combination->operands.begin(), combination->operands.end(),
                     [](const SolidPointer& operand) { return can_be_empty(*operand); });
}

/// Checks names that nothing used, each in a field of its own (a field to which nothing was adjoined serves the next one,
/// too). Returns the solids among them that must still be built to know whether they are good.
std::vector<UnusedSolid> check_unused(PlanIndex& index, const std::set<std::pair<NameSpace, std::string>>& used_by_plan,
                                      const ReadLimits& limits, ReachedLimits& reached) {
  struct Field {
    std::shared_ptr<FieldTower> tower;
    Resolver resolver;
    Field(PlanIndex& index, const ReadLimits& limits, ReachedLimits& reached)
        : tower(std::make_shared<FieldTower>(limits.numbers, limits.progress)), resolver(index, *tower, reached) {}
  };
  std::unique_ptr<Field> field;
  std::set<std::pair<NameSpace, std::string>> used = used_by_plan;
  std::map<std::size_t, UnusedSolid> unbuilt;  // by where they stand
  const auto leave_field = [&] {
    const auto definitions = std::make_shared<std::vector<NamedSolid>>();
    for (const auto& [space, name] : field->resolver.used()) {
      if (space != NameSpace::solid || used_by_plan.count({space, name}) != 0) continue;
      const Definition& definition = index.names(space).at(name);
      if (!definition.arguments.empty()) continue;  // checked for the values that it was used with
      try {
        const SolidPointer solid = field->resolver.solid(reference_to(name));
        const std::size_t position = definition.key_begin;
        if (can_be_empty(*solid))
          unbuilt.try_emplace(position,
                              UnusedSolid{field->tower, {name, solid, index.document().place(position)}, definitions});
      } catch (const Recorded&) {
      }
    }
    *definitions = field->resolver.defined_solids();
    used.insert(field->resolver.used().begin(), field->resolver.used().end());
    field.reset();
  };
  for (const NameSpace space : {NameSpace::solid, NameSpace::motion, NameSpace::plane, NameSpace::value})
    for (const auto& [name, definition] : index.names(space)) {
      if (used.count({space, name}) != 0) continue;
      if (field != nullptr && field->resolver.used().count({space, name}) != 0) continue;
      if (field == nullptr) field = std::make_unique<Field>(index, limits, reached);
      try {
        field->resolver.evaluate_name(space, name);
      } catch (const Recorded&) {
      }
      if (field->tower->top().degree() != 1) leave_field();
    }
  if (field != nullptr) leave_field();
  std::vector<UnusedSolid> result;
  for (auto& [position, solid] : unbuilt) result.push_back(std::move(solid));
  return result;
}

/// Those among the plan's named numbers and coordinates of points that it uses.
std::vector<KnownNumber> irrational_numbers(const Resolver& resolver) {
  constexpr std::size_t most = 1000;
  std::vector<KnownNumber> known;
  const auto add = [&](const std::string& text, const Number& number) {
    if (!number.is_rational() && known.size() < most) known.push_back({text, std::fabs(nearest_double(number))});
  };
  for (const auto& [text, value] : resolver.known_values()) {
    if (const auto* number = std::get_if<Number>(&value)) add(text, *number);
    if (const auto* point = std::get_if<Vector3>(&value)) {
      add(text + ".x", point->x);
      add(text + ".y", point->y);
      add(text + ".z", point->z);
    }
  }
  return known;
}

/// Tells, where a lemma is named, what is wrong with its file.
void find_file(PlanIndex& index, const LemmaText& text, LemmaLibrary& library, const Node::Entry& entry,
               ReachedLimits& reached) {
  try {
    library.find(text, entry.key);
  } catch (const InvalidInput& error) {
    index.report(entry.value.begin, entry.value.end, told(error).sentence, told(error).hint);
  } catch (const LimitReached& error) {
    if (++reached.count == 1)
      reached.first.emplace(error.limit(), index.diagnostic(entry.value.begin, entry.value.end, told(error).sentence,
                                                            told(error).hint, nullptr));
  }
}

/// The section `lemmas`; true iff there is one. Of the plan that is checked also how many sets of values there are.
bool check_lemmas(PlanIndex& index, LemmaText& text, LemmaLibrary& library, const ReadLimits& limits,
                  ReachedLimits& reached) {
  const Node* section = index.section("lemmas");
  if (section == nullptr && text.around == nullptr) return false;
  if (section != nullptr) {
    index.mapping(*section, "`lemmas`", "names of plans: `lemmas: { strip: strip.yaml }`");
    for (const Node::Entry& entry : section->entries) {
      if (!is_wide_name(entry.key))
        index.report(entry.key_begin, entry.key_end, quoted_text(entry.key) + " cannot be the name of a lemma",
                     "a name is an ASCII letter or `_`, then letters, digits, `_`, `-` and `.`");
      if (entry.value.is_sequence() || (entry.value.is_scalar() && entry.value.text.empty()))
        index.report(entry.value.begin, entry.value.end, "a lemma is the path of a plan, or a plan that is written here",
                     "as in `strip: strip.yaml`");
      else if (entry.value.is_scalar())
        find_file(index, text, library, entry, reached);
    }
  }
  if (text.name.empty() && !limits.parameters.of_lemma) {
    try {
      library.check(text, index, limits.parameters);
    } catch (const LimitReached& error) {
      const Node& place = section == nullptr ? index.document().root() : *section;
      if (++reached.count == 1)
        reached.first.emplace(error.limit(),
                              index.diagnostic(place.begin, place.begin, told(error).sentence, told(error).hint, nullptr));
      throw Recorded{};
    }
  }
  return true;
}

/// What no step uses must be a plan all the same, for the values that it has by itself.
void check_unused_lemmas(PlanIndex& index, LemmaText& text, LemmaLibrary& library) {
  const Node* section = text.root->find("lemmas");
  if (section == nullptr) return;
  for (const Node::Entry& entry : section->entries) {
    if (entry.value.is_broken() || entry.value.is_sequence() || library.is_used(text, entry.key)) continue;
    LemmaText* lemma = nullptr;
    try {
      lemma = library.find(text, entry.key);
    } catch (const InvalidInput&) {
    } catch (const LimitReached&) {
    }
    if (lemma == nullptr) continue;  // what is wrong with the file was told
    try {
      library.read(*lemma, {});
    } catch (const InvalidPlan& error) {
      if (entry.value.is_mapping()) {
        for (const Diagnostic& each : error.diagnostics()) index.adopt(each);
        continue;
      }
      const Diagnostic& first = error.diagnostics().front();
      index.report(entry.value.begin, entry.value.end,
                   "the lemma `" + entry.key + "` is invalid: " + entry.value.text + ":" + std::to_string(first.line) + ":" +
                       std::to_string(first.column) + ": " + first.message,
                   first.hint);
    } catch (const InvalidInput& error) {
      index.report(entry.value.begin, entry.value.end, "the lemma `" + entry.key + "`: " + told(error).sentence,
                   told(error).hint);
    } catch (const LimitReached&) {
      // nothing needs it
    }
  }
}

}  // namespace

ExactPlan read_plan(std::string text, const ReadLimits& limits, ParameterValues* parameters) {
  Document document = read_document(std::move(text), limits.document);
  LemmaLibrary library(limits);
  ParameterValues values;
  return read_tree(document, library.top(document), library, limits, parameters == nullptr ? &values : parameters);
}

ExactPlan read_tree(Document& document, LemmaText& text, LemmaLibrary& library, const ReadLimits& limits,
                    ParameterValues* parameters) {
  ReachedLimits reached;
  ExactPlan plan;
  try {
    PlanIndex index(document, limits.repetition, limits.meshes.get(), text.version_around(), text.dimension_around());
    parameters->dimension = index.dimension();
    choose_parameters(index, limits.parameters, limits.numbers, reached, parameters);
    const bool uses_lemmas = check_lemmas(index, text, library, limits, reached);
    const auto tower = std::make_shared<FieldTower>(limits.numbers, limits.progress);
    {
      const auto draft = std::make_shared<ExactPlan>();
      draft->tower = tower;
      Resolver resolver(index, *tower, reached);
      check_parameters(index, resolver, limits.parameters, parameters);
      StepReader reader(index, resolver, library, text);
      reader.read(*draft);
      if (uses_lemmas && text.name.empty()) check_unused_lemmas(index, text, library);
      plan.unused = check_unused(index, resolver.used(), limits, reached);
      check_definition_cycles(index);
      // Of a plan with steps missing nobody can say what is on the bench.
      if (reached.first && reader.is_whole()) reached.first->draft = draft;
    }
    end_with_errors(document, reached);
    plan.tower = tower;
    index.restart_counting();
    Resolver resolver(index, *tower, reached);
    StepReader(index, resolver, library, text).read(plan);
    plan.field = &tower->top();
    plan.definitions = resolver.defined_solids();
    plan.notes = remarks_on_decimals(document, irrational_numbers(resolver));
  } catch (const Recorded&) {
  }
  end_with_errors(document, reached);
  if (plan.field == nullptr) throw ToolFault("a plan could not be read, and nothing says why");
  return plan;
}

std::vector<std::string> solid_names(std::string text, const ReadLimits& limits) {
  Document document = read_document(std::move(text), limits.document);
  std::vector<std::string> names;
  try {
    PlanIndex index(document, limits.repetition, limits.meshes.get());
    const std::string key = index.is_flat() ? "figures" : "solids";
    const Node* solids = index.section(key);
    if (solids == nullptr)
      index.fail(document.root(), "this file has no `" + key + "`",
                 "name the " + key + " to be measured under `" + key + "`");
    if (solids->is_mapping())
      for (const Node::Entry& entry : solids->entries) {
        const auto known = index.names(NameSpace::solid).find(entry.key);
        if (known != index.names(NameSpace::solid).end() && known->second.arguments.empty()) names.push_back(entry.key);
      }
  } catch (const Recorded&) {
  }
  end_with_errors(document);
  return names;
}

int dimension_of(std::string text, const ReadLimits& limits) {
  Document document = read_document(std::move(text), limits.document);
  int dimension = 3;
  try {
    dimension = PlanIndex(document, limits.repetition).dimension();
  } catch (const Recorded&) {
  }
  if (dimension == 0) throw ToolFault("a plan without a dimension");
  return dimension;
}

std::size_t case_count(const std::string& text, const ReadLimits& limits) {
  Document document = read_document(text, limits.document);
  ParameterChoice first_case = limits.parameters;
  first_case.case_number = 1;
  ReachedLimits reached;
  ParameterValues values;
  try {
    PlanIndex index(document, limits.repetition, limits.meshes.get());
    choose_parameters(index, first_case, limits.numbers, reached, &values);
  } catch (const Recorded&) {
  }
  return document.diagnostics().empty() && !reached.first ? values.case_count : 0;
}

namespace {

void set_parameters(PlanIndex& index, Resolver& resolver, const ReadLimits& limits, ReachedLimits& reached,
                    ParameterValues* parameters = nullptr) {
  ParameterValues values;
  choose_parameters(index, limits.parameters, limits.numbers, reached, &values);
  check_parameters(index, resolver, limits.parameters, &values);
  if (parameters != nullptr) *parameters = std::move(values);
}

SolidPointer read_one(const std::string& text, const std::string& name, FieldTower& tower, const ReadLimits& limits,
                      TextPlace* place, std::vector<NamedSolid>* definitions) {
  Document document = read_document(text, limits.document);
  ReachedLimits reached;
  SolidPointer solid;
  try {
    PlanIndex index(document, limits.repetition, limits.meshes.get());
    Resolver resolver(index, tower, reached);
    set_parameters(index, resolver, limits, reached);
    const auto& solids = index.names(NameSpace::solid);
    const std::string plain = index.version() < 2 ? name : name.substr(0, name.find('('));
    const auto known = solids.find(plain);
    if (known == solids.end()) {
      const std::string near = index.nearest(NameSpace::solid, plain);
      index.fail(document.root(), "this file has no solid " + quoted_text(plain),
                 near.empty() ? "solids are named under `solids`" : "did you mean `" + near + "`?");
    }
    if (place != nullptr) *place = document.place(known->second.key_begin);
    solid = resolver.solid(reference_to(name));
    if (definitions != nullptr) *definitions = resolver.defined_solids();
  } catch (const Recorded&) {
  }
  end_with_errors(document, reached);
  if (solid == nullptr) throw ToolFault("a solid could not be read, and nothing says why");
  return solid;
}

std::vector<NamedSolid> read_side(const std::string& text, void (StepReader::*section)(ExactPlan&),
                                  std::vector<NamedSolid> ExactPlan::*side, FieldTower& tower, const ReadLimits& limits,
                                  ParameterValues* parameters, std::vector<NamedSolid>* definitions) {
  Document document = read_document(text, limits.document);
  ReachedLimits reached;
  ExactPlan plan;
  try {
    PlanIndex index(document, limits.repetition, limits.meshes.get());
    Resolver resolver(index, tower, reached);
    set_parameters(index, resolver, limits, reached, parameters);
    StepReader reader(index, resolver);
    (reader.*section)(plan);
    if (definitions != nullptr) *definitions = resolver.defined_solids();
  } catch (const Recorded&) {
  }
  end_with_errors(document, reached);
  if ((plan.*side).empty()) throw ToolFault("a side of a plan could not be read, and nothing says why");
  return plan.*side;
}

}  // namespace

ReadSolid read_solid(const std::string& text, const std::string& name, const ReadLimits& limits) {
  ReadSolid result;
  result.tower = std::make_shared<FieldTower>(limits.numbers, limits.progress);
  read_one(text, name, *result.tower, limits, nullptr, nullptr);
  result.solid = read_one(text, name, *result.tower, limits, &result.place, &result.definitions);
  return result;
}

SolidPointer read_solid_into(const std::string& text, const std::string& name, FieldTower& tower, const ReadLimits& limits,
                             TextPlace* place, std::vector<NamedSolid>* definitions) {
  return read_one(text, name, tower, limits, place, definitions);
}

std::vector<NamedSolid> read_start_into(const std::string& text, FieldTower& tower, const ReadLimits& limits,
                                        ParameterValues* parameters, std::vector<NamedSolid>* definitions) {
  return read_side(text, &StepReader::read_start, &ExactPlan::start, tower, limits, parameters, definitions);
}

std::vector<NamedSolid> read_goals_into(const std::string& text, FieldTower& tower, const ReadLimits& limits,
                                        ParameterValues* parameters, std::vector<NamedSolid>* definitions) {
  return read_side(text, &StepReader::read_goal, &ExactPlan::goals, tower, limits, parameters, definitions);
}

}  // namespace cutproof
