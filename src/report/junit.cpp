// SPDX-License-Identifier: GPL-3.0-or-later
// JUnit's XML: a plan is a suite, and what is decided about it are its test cases. A case holds one finding, so that every
// reader counts alike; where several concern the same question, the further ones are cases with a number.
#include "plan/dimension_words.hpp"
#include "report/against_text.hpp"
#include "report/ci_formats.hpp"
#include "report/escape.hpp"
#include "report/finding_facts.hpp"
#include "report/sentences.hpp"
#include "report/verdict_text.hpp"

#include <algorithm>
#include <map>
#include <string_view>

namespace cutproof {
namespace {

std::string attribute(const char* name, std::string_view text) {
  return std::string(" ") + name + "=\"" + in_markup(escaped(text)) + "\"";
}
std::string attribute(const char* name, std::size_t number) {
  return attribute(name, std::to_string(number));
}

struct Counts {
  std::size_t tests = 0, failures = 0, errors = 0, skipped = 0;
  std::string attributes() const {
    return attribute("tests", tests) + attribute("failures", failures) + attribute("errors", errors) +
           attribute("skipped", skipped);
  }
  void add(const Counts& other) {
    tests += other.tests;
    failures += other.failures;
    errors += other.errors;
    skipped += other.skipped;
  }
};

class Suite {
 public:
  explicit Suite(const CheckResult& result) : result_(result) {
    for (const Finding& finding : result.findings) by_question_[question(finding)].push_back(&finding);
    const bool began = result.start.has_value();
    write("reads", began);
    for (std::size_t i = 1; i <= result.total_steps; ++i) {
      const StepResult* step = i <= result.steps.size() ? &result.steps[i - 1] : nullptr;
      write(step_name(i), step != nullptr && !step->skipped);
    }
    const bool whole = began && result.steps.size() == result.total_steps && result.counts.count("limit-reached") == 0 &&
                       (result.outcome == Outcome::verified || result.outcome == Outcome::refuted);
    write("pieces are disjoint", whole);
    write(in_dimension(result.dimension, "volume"), result.start && result.goal);
    if (result.dimension == 3)
      write("Dehn invariant",
            result.start && result.start->dehn && result.goal && result.goal->dehn && !result.dissection.empty());
    write("goal is filled", whole);
    // Whatever has a question of its own, such as a report that could not be written.
    while (!by_question_.empty()) write(std::string(by_question_.begin()->first), true);
    if (counts.failures + counts.errors == 0 && result.outcome != Outcome::verified) {
      Finding fault;
      fault.code = "tool-fault";
      fault.message = std::string("the run ended as ") + outcome_word(result.outcome);
      write_finding("run", fault);
    }
  }

  std::string text() const {
    std::string properties;
    const auto add = [&](const char* name, const std::string& value) {
      if (!value.empty()) properties += "      <property" + attribute("name", name) + attribute("value", value) + "/>\n";
    };
    add("against", against_line(result_));
    add("shapes", shapes_text(result_));
    if (!properties.empty()) properties = "    <properties>\n" + properties + "    </properties>\n";
    return "  <testsuite" + attribute("name", plan_and_case(result_)) + counts.attributes() + " time=\"0\">\n" + properties +
           cases_ + "  </testsuite>\n";
  }

  Counts counts;

 private:
  std::string step_name(std::size_t index) const {
    std::string name = "step " + std::to_string(index);
    if (index <= result_.steps.size()) {
      const StepResult& step = result_.steps[index - 1];
      name += ": " + step.kind;
      if (!step.title.empty()) name += ", " + step.title;
    }
    return name;
  }

  std::string question(const Finding& finding) const {
    static const std::map<std::string, std::string> of_code = {{"overlap", "pieces are disjoint"},
                                                               {"missing", "goal is filled"},
                                                               {"excess", "goal is filled"},
                                                               {"straddles", "goal is filled"},
                                                               {"volume-differs", "volume"},
                                                               {"volume-changed", "volume"},
                                                               {"dehn-differs", "Dehn invariant"},
                                                               {"dehn-changed", "Dehn invariant"},
                                                               {"report-not-written", "reports are written"}};
    const auto found = of_code.find(finding.code);
    if (found != of_code.end()) return in_dimension(result_.dimension, found->second);
    const auto step = static_cast<std::size_t>(std::max(finding.step, 0));
    // A run that comes to its end after all steps does so while it looks at the goal.
    if (step > 0 && step == result_.total_steps && !kind_of(finding).of_plan && result_.steps.size() == result_.total_steps)
      return "goal is filled";
    return step == 0 || step > result_.total_steps ? "reads" : step_name(step);
  }

  void open(const std::string& name) {
    ++counts.tests;
    cases_ += "    <testcase" + attribute("classname", result_.plan) + attribute("name", case_prefix(result_) + name) +
              " time=\"0\"";
  }

  void write_finding(const std::string& name, const Finding& finding) {
    const bool failure = kind_of(finding).of_plan;
    const char* element = failure ? "failure" : "error";
    ++(failure ? counts.failures : counts.errors);
    open(name);
    cases_ += std::string(">\n      <") + element + attribute("type", finding.code) +
              attribute("message", message_of(finding)) + ">" + in_markup(finding_paragraphs(result_, finding)) + "</" +
              element + ">\n    </testcase>\n";
  }

  void write(const std::string& name, bool reached) {
    const auto found = by_question_.find(name);
    if (found == by_question_.end()) {
      open(name);
      counts.skipped += reached ? 0 : 1;
      cases_ += reached ? "/>\n" : ">\n      <skipped/>\n    </testcase>\n";
      return;
    }
    const std::vector<const Finding*> findings = std::move(found->second);
    by_question_.erase(found);
    for (std::size_t i = 0; i < findings.size(); ++i) {
      write_finding(i == 0 ? name : name + " (" + std::to_string(i + 1) + ")", *findings[i]);
    }
  }

  const CheckResult& result_;
  std::map<std::string, std::vector<const Finding*>> by_question_;
  std::string cases_;
};

}  // namespace

std::string junit_report(const std::vector<CheckResult>& results) {
  std::string suites;
  Counts all;
  for (const CheckResult& result : results) {
    const Suite suite(result);
    suites += suite.text();
    all.add(suite.counts);
  }
  return "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<testsuites name=\"cutproof\"" + all.attributes() + " time=\"0\">\n" +
         suites + "</testsuites>\n";
}

}  // namespace cutproof
