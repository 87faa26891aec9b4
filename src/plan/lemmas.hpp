// SPDX-License-Identifier: GPL-3.0-or-later
// Plans that other plans use: where they stand, and what they are for each set of values of their parameters.
//
// Which lemmas and values there are is known before anything is carried out. The texts are gone through once, outermost
// first, to count them; then each lemma is read once for each set of values, in a field of its own.
#pragma once

#include "plan/plan_index.hpp"
#include "plan/read_plan.hpp"

#include <deque>
#include <map>
#include <memory>
#include <string>
#include <utility>
#include <vector>

namespace cutproof {

/// A plan with one set of values for its parameters, as others use it.
struct Lemma {
  std::string name;                                         ///< as the plan calls it that uses it first
  std::string file, sha256;                                 ///< empty where it is written in the plan that is checked
  std::vector<std::pair<std::string, std::string>> values;  ///< of all its parameters, exact
  ExactPlan plan;
};

/// Names of parameters and expressions, without names, for their values.
using GivenValues = std::vector<std::pair<std::string, std::string>>;

/// The text of a plan, a file or written in another, as a tree.
struct LemmaText {
  std::string name, file, sha256;      ///< empty: of the plan that is checked
  std::string written;                 ///< the path of the file as a plan writes it
  std::shared_ptr<Meshes> meshes;      ///< that it may name, and all other files; null: none
  const Document* document = nullptr;  ///< of the file that it stands in
  const Node* root = nullptr;
  const LemmaText* around = nullptr;  ///< the plan that it is written in
  /// Of the plan around it.
  std::optional<int> version_around() const;
  int dimension_around() const;
  /// Unless it says so itself: whether the plan around it allows mirror images.
  bool allows_mirror() const;
  /// The names of the lemmas that can be used here.
  std::vector<std::string> known_names() const;
  std::vector<std::string> parameters() const;
};

class LemmaLibrary {
 public:
  /// The limits hold for every plan.
  explicit LemmaLibrary(const ReadLimits& limits);
  ~LemmaLibrary();

  /// The plan that is checked; its document must outlive the library.
  LemmaText& top(const Document& document);
  /// What a name means in a plan; null when it names no lemma there. Throws InvalidInput, where a file is refused.
  LemmaText* find(const LemmaText& from, const std::string& name);
  /// Records an error where a lemma reaches itself; throws LimitReached where lemmas are nested too deeply, or are used with
  /// too many sets of values.
  void check(LemmaText& top, PlanIndex& index, const ParameterChoice& choice);
  /// Whether a step of the plan, or of a plan that is written in it, uses this name of a lemma.
  static bool is_used(const LemmaText& text, const std::string& name);
  /// The lemma with these values, read once. Throws InvalidPlan and PlanLimit like `read_plan`, and InvalidInput where its
  /// `where` forbids the values.
  std::shared_ptr<const Lemma> read(LemmaText& text, const GivenValues& given);

 private:
  class Walk;
  struct Outcome;
  LemmaText& add(LemmaText text);
  /// A lemma that was read with these values, compared exactly; null when there is none.
  std::shared_ptr<const Lemma> known_with(const LemmaText& text, const GivenValues& values, int dimension);

  const ReadLimits& limits_;
  std::deque<LemmaText> texts_;
  std::deque<Document> documents_;
  std::map<std::string, LemmaText*> by_file_;
  std::map<const Node*, LemmaText*> by_root_;
  std::map<std::pair<const LemmaText*, std::string>, std::unique_ptr<Outcome>> read_;
  std::map<std::pair<const LemmaText*, std::string>, std::shared_ptr<const Lemma>> by_values_;
  std::map<const LemmaText*, std::multimap<double, std::shared_ptr<const Lemma>>> by_size_;
};

/// Reads the tree of a plan that may use lemmas of the library.
ExactPlan read_tree(Document& document, LemmaText& text, LemmaLibrary& library, const ReadLimits& limits,
                    ParameterValues* parameters);

}  // namespace cutproof
