// SPDX-License-Identifier: GPL-3.0-or-later
// Every combination of what can be found: failed beats invalid beats refuted beats stopped, and verified is what is left.
#include "verify/check.hpp"

#include <catch2/catch.hpp>

#include <string>
#include <vector>

using namespace cutproof;

TEST_CASE("the outcome of every combination of findings, complete or not") {
  // Strongest first. A run that is not complete and says nothing about why is a fault.
  const std::vector<std::pair<std::vector<std::string>, Outcome>> kinds = {
      {{"volume-changed", "dehn-changed", "engines-differ", "tool-fault", "report-not-written"}, Outcome::failed},
      {{"invalid-input"}, Outcome::invalid},
      {{"plane-misses", "mirrored", "overlap", "join-apart", "nothing-selected", "no-fit", "ambiguous", "lemma-fails",
        "straddles", "expectation-failed", "missing", "excess", "volume-differs", "dehn-differs"},
       Outcome::refuted},
      {{"limit-reached"}, Outcome::stopped}};
  for (const bool complete : {false, true})
    for (unsigned present = 0; present < 16; ++present)
      for (const bool reversed : {false, true})
        for (std::size_t choice = 0; choice < 10; ++choice) {
          CheckResult result;
          Outcome expected = complete ? Outcome::verified : Outcome::failed;
          for (std::size_t kind = kinds.size(); kind-- > 0;) {
            if ((present >> kind & 1u) == 0) continue;
            const auto& [codes, outcome] = kinds[kind];
            Finding finding;
            finding.code = codes[choice % codes.size()];
            result.findings.insert(reversed ? result.findings.begin() : result.findings.end(), finding);
            expected = outcome;
          }
          CAPTURE(complete, present, reversed, choice);
          CHECK(judge(result, complete) == expected);
        }
}

TEST_CASE("words and exit codes of the outcomes") {
  const std::vector<std::pair<std::string, Outcome>> in_order = {{"verified", Outcome::verified},
                                                                 {"refuted", Outcome::refuted},
                                                                 {"invalid", Outcome::invalid},
                                                                 {"stopped", Outcome::stopped},
                                                                 {"failed", Outcome::failed}};
  for (int code = 0; code < 5; ++code) {
    CHECK(outcome_word(in_order[code].second) == in_order[code].first);
    CHECK(exit_code(in_order[code].second) == code);
  }
}
