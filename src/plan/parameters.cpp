// SPDX-License-Identifier: GPL-3.0-or-later
#include "plan/parameters.hpp"

#include "number/print.hpp"
#include "plan/complaints.hpp"
#include "plan/frame.hpp"
#include "plan/no_names.hpp"
#include "plan/spelling.hpp"

#include <algorithm>

namespace cutproof {

namespace {

std::string option(const std::pair<std::string, std::string>& set) {
  return "`--set " + set.first + "=" + set.second + "`";
}

const char* const no_names_hint = "its value is made of numbers and functions alone, whatever the plan defines";

void refuse_unknown(const PlanIndex& index, const std::string& name, std::string* message, std::string* hint) {
  const std::vector<std::string>& known = index.parameters();
  const std::string near = nearest_word(name, known);
  *message = "the plan has no parameter " + quoted_text(name);
  if (!near.empty()) {
    *hint = "did you mean `" + near + "`?";
  } else if (known.empty()) {
    *hint = "parameters are named, with their own values, under `parameters`";
  } else {
    *hint = "its parameters are";
    for (std::size_t i = 0; i < known.size() && i < 8; ++i) *hint += (i == 0 ? " `" : ", `") + known[i] + "`";
  }
}

bool is_parameter(const PlanIndex& index, const std::string& name) {
  return std::find(index.parameters().begin(), index.parameters().end(), name) != index.parameters().end();
}

void set_from_outside(PlanIndex& index, const ParameterChoice& choice, const NumberLimits& limits) {
  bool good = true;
  const auto refuse = [&](const std::string& message, const std::string& hint) {
    index.report_nowhere(message, hint);
    good = false;
  };
  for (std::size_t i = 0; i < choice.set.size(); ++i) {
    const auto& [name, text] = choice.set[i];
    if (!is_parameter(index, name)) {
      std::string message, hint;
      refuse_unknown(index, name, &message, &hint);
      refuse(option(choice.set[i]) + ": " + message, hint);
      continue;
    }
    if (std::any_of(choice.set.begin(), choice.set.begin() + static_cast<std::ptrdiff_t>(i),
                    [&, &same = name](const auto& other) { return other.first == same; })) {
      refuse(option(choice.set[i]) + ": `" + name + "` is set twice", "leave one of the two out");
      continue;
    }
    try {
      NoNames nothing(index.dimension());
      FieldTower tower(limits);
      evaluate(*parse_expression(text), nothing, tower);
    } catch (const InvalidInput& error) {
      refuse(option(choice.set[i]) + ": " + told(error).sentence,
             told(error).hint.empty() ? no_names_hint : told(error).hint);
      continue;
    }
    Node value;
    value.kind = Node::Kind::scalar;
    value.quoted = true;
    value.text = text;
    value.begin = value.end = index.names(NameSpace::value).at(name).key_begin;
    index.set_parameter(name, std::move(value));
  }
  if (!good) throw Recorded{};
}

std::string exact_text(const ExactValue& value, const Node& node, int dimension) {
  if (const auto* number = std::get_if<Number>(&value)) return to_exact(*number);
  if (const auto* vector = std::get_if<Vector3>(&value)) return to_exact(*vector, dimension);
  const auto& angle = std::get<Angle>(value);
  return angle.is_rational_multiple_of_pi() ? to_exact(Number(180) * angle.pi_multiple) + " deg" : written(node);
}

}  // namespace

void choose_parameters(PlanIndex& index, const ParameterChoice& choice, const NumberLimits& limits, ReachedLimits& reached,
                       ParameterValues* values) {
  if (!choice.set.empty()) return set_from_outside(index, choice, limits);
  const Node* section = index.section("cases");
  if (section == nullptr || choice.case_number == 0) return;
  FieldTower tower(limits);
  Resolver resolver(index, tower, reached);
  const std::string example = "write values of parameters: `cases: [{ n: 2 }, { n: 3 }]`";
  const Node cases = resolver.written_out(index.sequence(*section, "`cases`", example), nullptr);
  index.sequence(cases, "`cases`", example);
  values->case_count = cases.entries.size();
  if (choice.case_number > values->case_count)
    throw InvalidInput("the plan has " + std::to_string(values->case_count) + " cases, and case " +
                       std::to_string(choice.case_number) + " was asked for");
  values->case_number = choice.case_number;
  const Node& chosen = cases.entries[choice.case_number - 1].value;
  index.mapping(chosen, "a case", "as in `{ n: 2, e: 1/2 }`: values of parameters");
  for (const Node::Entry& entry : chosen.entries) {
    if (!is_parameter(index, entry.key)) {
      std::string message, hint;
      refuse_unknown(index, entry.key, &message, &hint);
      index.fail_key(entry, message, hint);
    }
    if (entry.value.is_broken()) throw Recorded{};
    resolver.refuse_names(entry.value);
  }
  for (const Node::Entry& entry : chosen.entries) index.set_parameter(entry.key, entry.value);
  index.set_case_place(chosen.begin, chosen.end);
}

void check_parameters(PlanIndex& index, Resolver& resolver, const ParameterChoice& choice, ParameterValues* values) {
  for (const std::string& name : index.parameters()) {
    if (!index.names(NameSpace::value).at(name).arguments.empty()) throw Recorded{};  // an error that was told already
    resolver.aside([&](Scope& scope) {
      if (const std::optional<ExactValue> value = scope.value_of(name))
        values->values.emplace_back(name,
                                    exact_text(*value, *index.names(NameSpace::value).at(name).value, index.dimension()));
    });
  }
  const Node* where = index.section("where");
  if (where == nullptr) return;
  const Node conditions = resolver.written_out(*where, nullptr);
  if (!conditions.is_scalar())
    index.sequence(conditions, "`where`", "write what parameters must fulfil: `where: [n >= 4, mod(n; 2) = 0]`");
  const auto check = [&](const Node& condition) {
    if (resolver.holds(condition, condition.frame)) return;
    std::string with;
    for (const auto& [name, value] : values->values) with += (with.empty() ? "with " : ", ") + name + " = " + value;
    const std::string message = (with.empty() ? "" : with + ": ") + quoted_text(condition.text) + " does not hold";
    const std::string hint =
        "the plan's `where` demands it " + index.document().places().in_words(condition.begin) + ": choose other values";
    if (choice.of_lemma) throw InvalidInput(message, hint);
    if (!choice.set.empty()) {
      std::string options;
      for (const auto& set : choice.set) options += (options.empty() ? "" : " ") + option(set);
      index.report_nowhere(options + ": " + message, hint);
    } else if (const auto& place = index.case_place()) {
      index.report(place->first, place->second, message, hint);
    } else if (const Node* own = index.section("parameters")) {
      index.report(own->begin, own->end, message, hint);
    } else {
      index.report(condition.begin, condition.end, message, hint);
    }
    throw Recorded{};
  };
  if (conditions.is_scalar()) return check(conditions);
  for (const Node::Entry& entry : conditions.entries) check(entry.value);
}

}  // namespace cutproof
