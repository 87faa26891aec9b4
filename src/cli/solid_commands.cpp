// SPDX-License-Identifier: GPL-3.0-or-later
// `cutproof measure` and `cutproof compare`: a child process for each file that is measured, and one for a comparison.
#include "cli/commands.hpp"
#include "cli/supervised.hpp"
#include "cutproof/solids.hpp"

namespace cutproof {

namespace {

std::vector<SolidReference> references_of(const std::vector<std::string>& inputs) {
  std::vector<SolidReference> references;
  for (const std::string& input : inputs) references.push_back(solid_reference(input));
  return references;
}

Answer answer_for(const Finding& finding) {
  return finding.code == "limit-reached" ? Answer::stopped : Answer::failed;
}

}  // namespace

std::vector<MeasureResult> run_measure(const Arguments& arguments) {
  const std::vector<std::string> inputs = chosen_inputs(arguments);
  std::optional<AngleAuditText> audit;
  if (arguments.angles) audit = AngleAuditText{*arguments.angles, arguments.except.value_or("")};
  std::vector<std::vector<MeasureResult>> results(inputs.size());
  SupervisedRun run(arguments, inputs, "measuring");
  run.run(
      [&](std::size_t task, const Supervisor::Send&) {
        return to_wire(measure_solids(solid_reference(inputs[task]), audit, arguments.settings));
      },
      [&](std::size_t task, const ChildEnd& end, const RunState& state) {
        const SolidReference reference = solid_reference(inputs[task]);
        if (end.kind == ChildEnd::Kind::finished) {
          from_wire(end.result, &results[task]);
        } else {
          MeasureResult result;
          result.place = reference.place ? plan_place_text(*reference.place) : "";
          result.solid = reference.name.value_or("");
          result.findings.push_back(finding_for(end, arguments.limits, state));
          result.answer = answer_for(result.findings.back());
          results[task] = {result};
        }
        for (MeasureResult& result : results[task]) result.file = reference.file;  // byte for byte
      });
  std::vector<MeasureResult> all;
  for (std::vector<MeasureResult>& each : results) all.insert(all.end(), each.begin(), each.end());
  return all;
}

CompareResult run_compare(const Arguments& arguments) {
  CompareResult result;
  SupervisedRun run(arguments, {"comparison"}, "comparing");
  run.run(
      [&](std::size_t, const Supervisor::Send&) {
        return to_wire(compare_files(references_of(arguments.inputs), references_of(arguments.with), arguments.settings,
                                     arguments.demand));
      },
      [&](std::size_t, const ChildEnd& end, const RunState& state) {
        if (end.kind == ChildEnd::Kind::finished) {
          from_wire(end.result, &result);
        } else {
          result.findings.push_back(finding_for(end, arguments.limits, state));
          result.answer = answer_for(result.findings.back());
        }
      });
  return result;
}

}  // namespace cutproof
