// SPDX-License-Identifier: GPL-3.0-or-later
// What a plan's text defines, before anything is evaluated: its sections and its names.
#pragma once

#include "plan/document.hpp"
#include "plan/expression.hpp"
#include "plan/words.hpp"

#include <deque>
#include <initializer_list>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <unordered_map>
#include <vector>

namespace cutproof {

class Meshes;

/// The four spaces of names.
enum class NameSpace { value, plane, motion, solid };

/// A name that a plan gives to something, perhaps with arguments.
struct Definition {
  std::size_t key_begin, key_end;
  const Node* value;
  std::vector<std::string> arguments;
};

/// What the loops of a plan and its definitions with arguments may cost while it is read.
struct RepetitionLimits {
  std::size_t max_passes = 100000;  ///< of all loops together
  std::size_t max_evaluations() const { return 10 * max_passes; }
};

/// Thrown after an error was recorded in the document, to leave what depends on it.
struct Recorded {};

class PlanIndex {
 public:
  /// Records errors about sections, keys and names; throws Recorded when the document is no mapping at all.
  /// `version_around`: of the plan that this one is written in, which then does not say it itself.
  explicit PlanIndex(Document& document, const RepetitionLimits& limits = {}, Meshes* meshes = nullptr,
                     std::optional<int> version_around = {}, int dimension_around = 3);

  Document& document() { return document_; }
  /// Null where no file can be read.
  Meshes* meshes() const { return meshes_; }
  /// Of the language that the plan is written in; the newest where the plan does not say.
  int version() const { return version_; }
  /// 3, or 2 for a plan in the plane.
  int dimension() const { return dimension_; }
  bool is_flat() const { return dimension_ == 2; }
  /// A section such as `steps`; null when there is none.
  const Node* section(std::string_view key) const { return document_.root().find(key); }

  /// True iff a section can be missing because of an error that was told already.
  bool is_missing_for_a_reason(const std::string& section) const;

  using Names = std::map<std::string, Definition>;
  const Names& names(NameSpace space) const { return names_[static_cast<int>(space)]; }
  std::string nearest(NameSpace space, const std::string& name) const;
  /// True iff an unknown name may have been lost to an error that was told already: its section is broken, or its definition
  /// (`2a: 5`, `long-side: 3`) was refused.
  bool is_lost(NameSpace space, const std::string& name) const;
  /// True iff the name stands under `points`: a vector, whatever else its expression could be.
  bool is_point(const std::string& name) const { return points_.count(name) != 0; }
  /// True iff an index or an argument cannot have this name: a definition, a parameter or a function has it.
  bool is_taken(const std::string& name) const;
  /// The names under `parameters`, in order.
  const std::vector<std::string>& parameters() const { return parameters_; }
  /// Gives a parameter another value than the plan's own.
  void set_parameter(const std::string& name, Node value);
  /// Where the values of the case stand that is chosen; empty when none is.
  const std::optional<std::pair<std::size_t, std::size_t>>& case_place() const { return case_place_; }
  void set_case_place(std::size_t begin, std::size_t end) { case_place_.emplace(begin, end); }
  // Texts as trees, parsed once.
  const Expression& parsed(const std::string& text);
  const Equation& parsed_equation(const std::string& text);
  const Condition& parsed_condition(const std::string& text);
  const Range& parsed_range(const std::string& text);
  const Reference& parsed_reference(const std::string& text);
  const WrittenName& parsed_name(const std::string& text);

  // What loops and definitions have cost since the last restart; throw LimitReached (`max-passes`).
  void restart_counting() { passes_ = rounds_ = evaluations_ = 0; }
  /// `rounds`: of a loop with others inside it, whose passes are counted there.
  void count_passes(std::size_t passes) { count(passes_, passes, limits_.max_passes, "pass of loops", "passes of loops"); }
  void count_rounds(std::size_t rounds) {
    count(rounds_, rounds, limits_.max_evaluations(), "round of outer loops", "rounds of outer loops");
  }
  void count_evaluation() {
    count(evaluations_, 1, limits_.max_evaluations(), "evaluation of a definition with arguments",
          "evaluations of definitions with arguments");
  }

  // Errors, underlined where they stand.
  [[noreturn]] void fail(const Node& node, const std::string& message, const std::string& hint = "");
  [[noreturn]] void fail_key(const Node::Entry& entry, const std::string& message, const std::string& hint = "");
  /// Told once for each place and message, however many passes meet it; the first one is named.
  void report(std::size_t begin, std::size_t end, const std::string& message, const std::string& hint = "",
              const FramePointer& frame = nullptr);
  /// An error that was found in a plan that is written in this one; told once.
  void adopt(const Diagnostic& diagnostic);
  /// An error that has no place in the text.
  void report_nowhere(const std::string& message, const std::string& hint);
  /// A diagnostic that names the pass of the loops around it, and where the definition around it is used.
  Diagnostic diagnostic(std::size_t begin, std::size_t end, const std::string& message, const std::string& hint,
                        const FramePointer& frame) const;

  /// The node as a mapping or sequence that is not empty; fails with what is wanted instead.
  const Node& mapping(const Node& node, const std::string& what, const std::string& example);
  const Node& sequence(const Node& node, const std::string& what, const std::string& example);
  /// The same, but a list whose loops left nothing of it is fine.
  const Node& sequence_of_passes(const Node& node, const std::string& what, const std::string& example);
  /// Those words of a list that the plan's version and dimension have; `place` as for `version_of_word`.
  std::vector<std::string> words_of(const std::string& place, const std::vector<std::string>& words) const;
  /// Fails where a key is a word of a newer version than the plan's.
  void refuse_newer(const std::string& place, const Node::Entry& entry);
  /// Fails where keys are not in the list, or newer than the plan's version, with the nearest one as a hint for each; `what`
  /// has these keys.
  void allow_keys(const Node& mapping, const std::string& what, const std::vector<std::string>& keys);
  /// Fails where any of the keys is missing, and names all that are.
  void require(const Node& mapping, const std::vector<std::string>& keys, const std::string& what);
  /// The value of a key that must be there.
  const Node& required(const Node& mapping, const std::string& key, const std::string& what);
  /// A word: text of a scalar that is not an expression.
  std::string word(const Node& node, const std::string& what);

 private:
  void collect(std::string_view section, NameSpace space);
  /// The name and the arguments of `P(i, j)`; false, and told, where there is something wrong with it.
  bool read_head(const Node::Entry& entry, std::string* name, std::vector<std::string>* arguments);
  void check_arguments();
  static void count(std::size_t& counter, std::size_t more, std::size_t limit, const char* one, const char* many);
  /// Tells of a key that is newer than the plan's version; false when it is not.
  bool is_newer(const std::string& place, const Node::Entry& entry);
  /// Tells of a key that is newer or not among the known ones; false when it is.
  bool is_foreign_key(const Node::Entry& entry, const std::string& what, const std::vector<std::string>& known);
  Document& document_;
  /// Tells of a key that only plans of the other dimension have; false when both have it.
  bool is_of_other_dimension(const Node::Entry& entry);
  void read_dimension();
  int version_ = newest_version;
  int dimension_ = 3;
  Names names_[4];
  bool lost_[4] = {};
  std::string refused_[4];  // keys, one a line
  std::set<std::string> points_, misspelt_;
  std::vector<std::string> parameters_;
  std::deque<Node> set_values_;
  std::optional<std::pair<std::size_t, std::size_t>> case_place_;
  RepetitionLimits limits_;
  Meshes* meshes_;
  std::size_t passes_ = 0, rounds_ = 0, evaluations_ = 0;
  std::unordered_map<std::string, ExpressionPointer> parsed_;
  std::unordered_map<std::string, Equation> equations_;
  std::unordered_map<std::string, Condition> conditions_;
  std::unordered_map<std::string, Range> ranges_;
  std::unordered_map<std::string, Reference> references_;
  std::unordered_map<std::string, WrittenName> written_names_;
  std::set<std::pair<std::size_t, std::string>> reported_;
  std::set<std::size_t> reported_in_passes_;
  std::set<std::string> adopted_;
};

/// An ASCII letter or `_`, then letters, digits, `_`, `-`, `.`: a name of a plane, motion, solid, goal or piece, but for
/// `all`.
bool is_wide_name(std::string_view name);
/// The keys that say which kind of solid, or step, a mapping describes: those of every version (`words_of` has the plan's).
const std::vector<std::string>& solid_kinds();
const std::vector<std::string>& step_kinds();
/// The keys of a motion, those of motions that are found among them.
const std::vector<std::string>& motion_kinds();
/// True for the keys of motions that are found on the bench: `lay`, `against`, `onto`, `corners`.
bool is_searching(const std::string& motion_key);

}  // namespace cutproof
