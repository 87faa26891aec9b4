// SPDX-License-Identifier: GPL-3.0-or-later
// One enumeration decides the word that is printed and the code that the process ends with.
#include "cutproof/result.hpp"
#include "verify/check.hpp"

#include <set>

namespace cutproof {

const char* outcome_word(Outcome outcome) {
  switch (outcome) {
    case Outcome::verified:
      return "verified";
    case Outcome::refuted:
      return "refuted";
    case Outcome::invalid:
      return "invalid";
    case Outcome::stopped:
      return "stopped";
    case Outcome::failed:
      return "failed";
  }
  return "failed";
}

int exit_code(Outcome outcome) {
  switch (outcome) {
    case Outcome::verified:
      return 0;
    case Outcome::refuted:
      return 1;
    case Outcome::invalid:
      return 2;
    case Outcome::stopped:
      return 3;
    case Outcome::failed:
      return 4;
  }
  return 4;
}

Outcome judge(const CheckResult& result, bool complete) {
  static const std::set<std::string> faults = {"volume-changed", "dehn-changed", "engines-differ", "tool-fault",
                                               "report-not-written"};
  bool failed = false, invalid = false, refuted = false, stopped = false;
  for (const Finding& finding : result.findings) {
    if (faults.count(finding.code) != 0) {
      failed = true;
    } else if (finding.code == "invalid-input") {
      invalid = true;
    } else if (finding.code == "limit-reached") {
      stopped = true;
    } else {
      refuted = true;
    }
  }
  if (failed) return Outcome::failed;
  if (invalid) return Outcome::invalid;
  if (refuted) return Outcome::refuted;
  if (stopped) return Outcome::stopped;
  // A lemma that does not hold is a finding already: this is a second lock on the same door.
  for (const LemmaResult& lemma : result.lemmas) complete = complete && lemma.outcome == Outcome::verified;
  return complete ? Outcome::verified : Outcome::failed;
}

const char* congruence_word(Congruence relation) {
  static const char* const words[] = {"different", "mirror-image", "congruent", "same"};
  return words[static_cast<int>(relation)];
}

bool fulfils(Congruence relation, Congruence demand) {
  if (demand == Congruence::congruent) return relation == Congruence::congruent || relation == Congruence::same;
  return relation == demand;
}

}  // namespace cutproof
