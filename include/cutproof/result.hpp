// SPDX-License-Identifier: GPL-3.0-or-later
// What a check, a measurement or a comparison found, as plain data: every report is written from this and nothing else.
// Exact numbers are texts in the plan language's own expression syntax.
#pragma once

#include "cutproof/certificate.hpp"
#include "cutproof/engine.hpp"
#include "cutproof/exact.hpp"
#include "cutproof/geometry.hpp"
#include "cutproof/pictures.hpp"
#include "cutproof/scene.hpp"

#include <array>
#include <cstddef>
#include <initializer_list>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace cutproof {

/// Names of pieces, in order: the first hundred, and how many there are. That is all that any report tells of a long list.
struct NameList {
  static constexpr std::size_t most = 100;
  NameList() = default;
  NameList(std::initializer_list<std::string> names) : NameList(std::vector<std::string>(names)) {}
  NameList(const std::vector<std::string>& names) {
    for (const std::string& name : names) push_back(name);
  }
  std::vector<std::string> first;
  std::size_t count = 0;

  void push_back(const std::string& name) {
    if (count++ < most) first.push_back(name);
  }
  /// Of all, also of those that are not kept.
  std::size_t size() const { return count; }
  bool empty() const { return count == 0; }
};

/// How a run ended. Only `verified` means that every statement was decided exactly and holds.
enum class Outcome { verified, refuted, invalid, stopped, failed };

/// The word that stands in every report, and the process's exit code (0 to 4): the only two ways an outcome is shown.
const char* outcome_word(Outcome outcome);
int exit_code(Outcome outcome);

/// The indices of the loops around something in a plan, and what each stands for in this pass; outermost first.
using LoopPass = std::vector<std::pair<std::string, std::string>>;

/// A step of the plan that put a piece where it lies: its last motion, else the cut (or join, or split) that made it, else
/// the start. Line and column are those of the motion, the cut's plane, or the step.
struct Suspect {
  std::string piece;
  int step = 0;  ///< 0: the start
  int line = 0, column = 0;
  std::string excerpt = {};  ///< of a finding's first: that line of the plan
  int caret_length = 0;      ///< how many code points from `column` on it is about
  std::string path = {};     ///< of a plan that was given as data: where in it (cutproof/plan.hpp)
};

/// An edge that an angle audit objects to.
struct AuditedEdge {
  ExactPoint from, to;
  std::string angle, degrees;
};

/// How many edges are to have an angle, exactly, although it is not allowed.
struct AngleException {
  std::string angle;  ///< exact, as all angles here
  long count = 0;
};

/// An angle that too many or too few edges have.
struct AngleFault {
  std::string angle;
  std::size_t found = 0;
  std::optional<long> expected = {};  ///< where it is an exception
};

/// What the dihedral angles of a solid were to be, and what stands against it.
struct AuditResult {
  bool passed = false;
  std::vector<std::string> allowed;
  std::vector<AngleException> exceptions;
  std::vector<AngleFault> faults;
  std::vector<AuditedEdge> edges;
};

/// A value that a finding states: one of these is there.
struct FindingFact {
  std::optional<Value> number;
  std::optional<ExactPoint> point;
  std::optional<std::size_t> count;
  std::vector<std::string> names;  ///< of pieces or goals
  std::string text;                ///< what is no number: a Dehn invariant, dihedral angles
};

/// A proper motion as a turn about a line and a shift along it (M. Chasles 1830). A translation is no turn; its line passes
/// through the origin.
struct ScrewResult {
  ExactPoint point, direction;  ///< of the line: its point nearest to the origin
  std::string degrees;          ///< decimal, from 0 to 180, right-handed about the direction
  std::string of_pi;            ///< `1/2` when the turn is that multiple of pi; empty when it is no rational multiple
  std::string along;            ///< decimal: how far, in the sense of the direction
};

/// One motion of a `move` step, and the pieces that it moved.
struct MotionResult {
  std::vector<std::string> pieces;
  int line = 0, column = 0;
  std::string words;  ///< `turned 180 deg about the line through (1, 0, 0) along (0, 0, 1)`, `shifted by ...`, `stays`
  bool proper = true;
  std::array<ExactPoint, 3> rows;    ///< of the matrix
  ExactPoint shift;                  ///< a point p goes to matrix * p + shift
  std::optional<ScrewResult> screw;  ///< of proper motions
};

/// A point of what is moved, and where it goes.
struct CornerImage {
  ExactPoint from, to;
};

/// One of several motions that would do.
struct MotionCandidate {
  std::string words;  ///< told from the first: `half a turn about the face's middle (1/2, 1/2, 0)`
  MotionResult motion;
  std::vector<CornerImage> corners;  ///< `corners` that would choose it
};

/// Something that is wrong with the plan (or, for `invalid-input`, `limit-reached` and faults, with its text or the run).
struct Finding {
  std::string code;  ///< `overlap`, `missing`, ...; see docs/findings.md
  int step = 0;      ///< 1 for the first step; 0: before it; number of steps: at the goal
  std::string file;  ///< which one, where a comparison read several; else empty
  int line = 0, column = 0;
  std::vector<std::string> pieces;
  std::string statement = {};                     ///< what is stated, where its code has several statements
  std::map<std::string, FindingFact> facts = {};  ///< what else is stated, by name: `expected`, `goals`, ...
  /// In words, where it is about the plan's text or about the run. Empty where it is about the dissection: `message_of`
  /// (cutproof/report.hpp) makes a sentence of what is stated.
  std::string message;
  std::string hint;  ///< what to write instead, in words; may be empty
  std::optional<Value> volume;
  std::optional<ExactBox> box;
  std::vector<ExactPoint> corners;
  std::vector<Suspect> suspects;         ///< where its pieces got their places, likeliest first; at most 100
  std::optional<std::size_t> region;     ///< index into the geometry's and the scene's `regions`, where these were asked for
  std::optional<Value> missing, excess;  ///< of a failing `filled`
  std::optional<AuditResult> audit;      ///< of failing `angles`
  std::vector<MotionCandidate> candidates;        ///< of `ambiguous`: at most 100, those of least turn first
  std::vector<std::vector<std::string>> classes;  ///< of a failing `shapes`: the pieces of each shape
  std::string excerpt;                            ///< the offending line of the plan, for errors in its text
  int caret_length = 0;                           ///< how many code points from `column` on are at fault; 0: no caret
  std::string path;                               ///< of a plan that was given as data: where in it (cutproof/plan.hpp)
  LoopPass pass = {};                             ///< empty outside of loops; the message names it, too
  /// Of a fault in a definition with arguments: where it is used; 0 elsewhere.
  int used_line = 0, used_column = 0;
  int dimension = 3;  ///< of the plan: in 2 the sentence speaks of lines, edges and areas, and points have no z
};

/// One pivot of a Dehn invariant: coefficient (x) angle.
struct DehnTerm {
  Value coefficient;
  std::string cosine;   ///< exact
  std::string degrees;  ///< decimal
  std::string angle;    ///< for people: `arccos(1/3)`
};

struct DehnValue {
  bool zero = true;
  std::vector<DehnTerm> terms;
  std::string text;                            ///< for people: `12*sqrt(2) (x) arccos(1/3)`, or `0`
  std::optional<DehnCertificate> certificate;  ///< what proves it; none where it was dropped
  std::size_t distinct_angles = 0;             ///< left for the search for relations, after equal ones were merged
};

struct VolumeAndDehn {
  Value volume;
  std::optional<DehnValue> dehn;
};

/// A plane that a `cut` step cut by: the points p with normal . p = offset.
struct PlaneResult {
  ExactPoint normal;
  std::string offset;  ///< exact
  int line = 0, column = 0;
};

struct StepResult {
  int index = 0;
  std::string kind, title, note;
  int line = 0;
  LoopPass pass = {};      ///< empty outside of loops
  std::string lemma = {};  ///< of a `use`: what the plan calls it
  bool skipped = false;
  std::size_t pieces_before = 0, pieces_after = 0;
  NameList removed, added, moved;
  std::vector<MotionResult> motions;  ///< where they were asked for
  std::vector<PlaneResult> planes;    ///< the same
  Value volume;                       ///< total on the bench after the step
  std::optional<bool> dehn_ok;        ///< the total Dehn invariant is still that of the start
};

/// Where a solid lies.
struct ExtentResult {
  ExactBox box;  ///< the smallest around it
  ExactPoint centroid;
};

struct PieceResult {
  std::string name;
  std::size_t parts = 0;
  Value volume;
  std::optional<std::size_t> shape = {};    ///< index into `CheckResult::shapes`, where these were asked for
  std::optional<ExtentResult> extent = {};  ///< where it was asked for
};

/// Pieces at the end that proper motions carry onto each other, exactly.
struct ShapeResult {
  Value volume;
  std::vector<std::string> pieces;
  std::optional<std::size_t> mirror_of;  ///< index of an earlier shape of which this is the mirror image
  bool chiral = false;                   ///< no motion carries it onto its mirror image
};

/// A file that a plan takes a solid's surface from; once for each way in which it was snapped.
struct MeshResult {
  std::string file;  ///< the path of the plan's folder as it was given, and the file's own
  std::string sha256;
  bool snapped = false;
  std::size_t changed = 0;  ///< coordinates that `snap` changed
  Value largest;            ///< by how much at most; only when snapped
};

/// A remark on the plan's text: a decimal that looks like a rounded root. It has no part in the verdict.
struct NoteResult {
  int line = 0, column = 0;
  std::string message;
};

/// Of the pieces at the end: the shortest true edge and the least volume, each with the first piece that has it.
struct SmallestResult {
  Value edge;
  std::string edge_of;
  Value volume;
  std::string volume_of;
};

/// A part of a plan's text and what to write instead. Lines and columns count from 1, columns in code points; the end is
/// behind the last character.
struct MendEdit {
  int line = 0, column = 0, end_line = 0, end_column = 0;
  std::string text;
};

/// Whole lines of the plan before and after.
struct MendLines {
  int line = 0;  ///< the first
  std::vector<std::string> before, after;
};

/// A change of the plan's text that was tried: the changed plan is verified.
struct Mend {
  std::string kind;                   ///< by what was at fault: `motion`, `halves`, `mirror`, ... (docs/reports.md)
  std::string words;                  ///< what is changed, a sentence
  std::vector<MendEdit> edits;        ///< in the order of the text; they do not touch each other
  std::vector<MendLines> lines;       ///< the same by whole lines, for people
  std::vector<std::size_t> findings;  ///< indices of the findings that it mends
  bool changes_sides = false;         ///< it changes the start or the goal
};

/// A value before and now; absent where it was not known.
struct ValueChange {
  std::optional<Value> before, now;
};

/// Names, or identities of findings, that only the older of two reports has, that only the newer one has, and that have
/// both but are not the same.
struct NameChanges {
  std::vector<std::string> gone, added, changed;
  bool any() const { return !gone.empty() || !added.empty() || !changed.empty(); }
};

/// A step by its number: of steps that are gone that in the older report, else that in the newer one.
struct StepLabel {
  int index = 0;
  std::string kind, title;
};

/// What differs from an older report of the same plan; what does not is absent or empty.
struct AgainstResult {
  bool known = true;                   ///< false: the older report does not have this plan, and nothing else is told
  std::string old_plan, old_digest;    ///< where it had another path, or another text
  std::optional<Outcome> old_outcome;  ///< where it is another one
  std::optional<ValueChange> start_volume, goal_volume;
  std::optional<std::array<std::string, 2>> start_dehn, goal_dehn;  ///< texts before and now; empty: not known
  NameChanges pieces;
  std::vector<StepLabel> steps_gone, steps_added, steps_changed;
  std::vector<std::string> findings_gone, findings_added, findings_same;  ///< identities; all empty where all are the same
  std::optional<std::array<std::string, 2>> shapes;                       ///< in words, before and now
  /// False when the results are the same, whatever was done to the text.
  bool any() const;
};

/// What else a check is to find out. Whatever is not asked for costs nothing, and nothing of it changes a verdict.
struct DetailWish {
  bool motions = false;           ///< `StepResult::motions` and `planes`
  std::size_t shapes_up_to = 0;   ///< `CheckResult::shapes` and `smallest`, when there are no more pieces than this
  std::size_t extents_up_to = 0;  ///< `PieceResult::extent` of the pieces at the end, with the same condition
  bool scene = false;             ///< `CheckResult::scene`
  bool mends = false;             ///< for who runs checks: whether `add_mends` (cutproof/mend.hpp) is to be called
  /// Asks for what either asks for.
  void add(const DetailWish& other) {
    motions = motions || other.motions;
    scene = scene || other.scene;
    mends = mends || other.mends;
    if (shapes_up_to < other.shapes_up_to) shapes_up_to = other.shapes_up_to;
    if (extents_up_to < other.extents_up_to) extents_up_to = other.extents_up_to;
  }
};

/// A plan that uses a lemma, and how often.
struct LemmaUser {
  std::optional<std::size_t> lemma;  ///< index into `CheckResult::lemmas`; none: the plan itself
  int step = 0;                      ///< its first step that does
  std::size_t uses = 0;              ///< how many of its steps do
};

/// A plan that this one, or one of its lemmas, uses as a lemma, with one set of values for its parameters. It was checked
/// once, by itself.
struct LemmaResult {
  std::string name;                                             ///< as the plan calls it that used it first
  std::string file;                                             ///< empty: it is written in the plan
  std::string plan_sha256;                                      ///< of the file that it stands in
  std::vector<std::pair<std::string, std::string>> parameters;  ///< names and exact values
  Outcome outcome = Outcome::failed;
  std::size_t uses = 0;  ///< of all users together
  std::vector<LemmaUser> used_by;
  std::vector<Finding> findings;
};

/// Why a dissection of the start into the goal exists, or does not (M. Dehn, J.-P. Sydler).
enum class DissectionReason { undecided, volumes_differ, invariants_differ, both_agree };

struct FieldResult {
  int degree = 1;
  std::vector<std::string> generators;
  std::string minimal_polynomial;  ///< in x
  int root_index = 0;              ///< which of its real roots the generator is, in increasing order from 0
};

struct CheckResult {
  std::string plan;  ///< path as given
  std::string plan_sha256;
  std::string title, source;
  std::string note = {};
  int dimension = 3;  ///< 2: of the plane; volumes are areas, points have no z, and nothing is said of Dehn invariants
  std::size_t case_number = 0;  ///< which of the plan's `cases`, from 1; 0: it has none, or they are left out
  std::size_t case_count = 0;   ///< how many `cases` the plan has
  std::vector<std::pair<std::string, std::string>> parameters = {};  ///< names and exact values, in the order of the plan
  Outcome outcome = Outcome::failed;
  /// The plan adds the same to start and goal: what it proves is not that one becomes the other, but that they are
  /// equicomplementary.
  bool equicomplement = false;
  std::optional<EngineChoice> engine;  ///< none before the run is prepared
  std::optional<FieldResult> field;
  std::optional<VolumeAndDehn> start, goal;
  std::optional<DehnValue> dehn_difference;  ///< goal minus start; its certificate proves whether the two agree
  std::string dissection;                    ///< `exists`, `does not exist`, or empty when not decided
  DissectionReason dissection_reason = DissectionReason::undecided;
  std::vector<StepResult> steps;
  std::size_t total_steps = 0;
  std::vector<PieceResult> pieces;
  std::vector<ShapeResult> shapes;  ///< where asked for: by volume, largest first, then by first piece
  std::optional<SmallestResult> smallest;
  std::optional<AgainstResult> against;  ///< where it was held against an older report
  std::vector<LemmaResult> lemmas;       ///< those that lemmas use among them, each before its users
  std::vector<Finding> findings, consequences;
  std::vector<MeshResult> meshes;             ///< in the order in which they were read; also of a plan that is wrong
  std::vector<NoteResult> notes;              ///< in the order of the text
  std::vector<Mend> mends;                    ///< where they were looked for (cutproof/mend.hpp): simplest first
  std::size_t mends_tried = 0;                ///< how many changed plans were checked
  std::string mends_ended_early;              ///< why the search for mends did not come to its end; empty when it did
  std::map<std::string, std::size_t> counts;  ///< true numbers of findings, also of those beyond the first 100 of a code
  std::size_t bench_checks = 0;               ///< how many pairs of pieces were decided to be disjoint
  std::optional<CheckGeometry> geometry;      ///< when any was asked for and the run began
  std::optional<Scene> scene;                 ///< when it was asked for and the run began
  std::optional<PictureSet> pictures;         ///< when they were asked for and the run began
};

/// How a measurement or a comparison ended: `no` is an angle audit that fails, or a dissection that does not exist. These
/// never verify a plan, so they are no outcomes; their exit codes (0 to 4) have the same meaning.
enum class Answer { yes, no, invalid, stopped, failed };
inline int exit_code(Answer answer) {
  return static_cast<int>(answer);
}

/// Edges of a solid that have the same length and the same dihedral angle.
struct EdgeKind {
  std::size_t count = 0;
  Value length;
  std::string cosine;   ///< exact
  std::string degrees;  ///< decimal
  std::string angle;    ///< for people: `45 deg`, `acos(1/3)`
  std::string of_pi;    ///< `1/4` when the angle is that multiple of pi; empty when it is no rational multiple
  bool reflex = false;
};

/// A corner of a figure of the plane. One at which it touches itself stands once for each angle.
struct CornerResult {
  ExactPoint point;
  std::string cosine;   ///< exact; of the angle inside the figure
  std::string degrees;  ///< decimal
  std::string angle;    ///< for people: `45 deg`, `acos(1/3)`
  std::string of_pi;    ///< as in EdgeKind
  bool reflex = false;
};

struct MeasureResult {
  int dimension = 3;  ///< 2: a figure of the plane. Its area stands in `volume`, and beside `perimeter` and `corners`
                      ///< nothing from `faces` on is there
  std::string file;   ///< path as given
  std::string place;  ///< where in a plan: `start`, `goal`, `end`, the number of a step; empty for an entry of `solids`
  std::size_t case_number = 0;  ///< of a place in a plan with `cases`: 1, the case that was looked at; else 0
  std::size_t case_count = 0;   ///< how many `cases` that plan has
  std::vector<std::pair<std::string, std::string>> parameters = {};  ///< of a place: names and exact values
  std::string solid;  ///< its name there; empty where all that is there was to be listed
  std::string file_sha256;
  Answer answer = Answer::failed;
  bool listed = false;    ///< `pieces`, `field` and `total_steps` are there, and no other value
  bool measured = false;  ///< the values from `field` to `dehn` are all there
  std::vector<PieceResult> pieces;
  std::size_t total_steps = 0;  ///< of the plan
  std::optional<FieldResult> field;
  Value volume, area;
  Value perimeter;                    ///< of a figure
  std::vector<CornerResult> corners;  ///< of a figure, sorted
  std::optional<ExtentResult> extent;
  std::size_t faces = 0, edges = 0, vertices = 0, shells = 0;
  long genus = 0;
  std::vector<EdgeKind> edge_kinds;
  std::optional<DehnValue> dehn;
  std::optional<AuditResult> audit;  ///< when one was asked for
  std::vector<MeshResult> meshes;    ///< that the solid, or the plan, is made of
  std::vector<Finding> findings;     ///< `invalid-input`, `limit-reached` and faults
};

struct ComparedSolid {
  std::string file;
  std::string side;   ///< `start` or `goal`, where that side of a plan was named; else empty
  std::string solid;  ///< a name in `solids`, of a piece of the start, or of a goal
  Value volume;
};

/// How two sets of points lie to each other: the left and the right side of a comparison, each taken as one.
enum class Congruence {
  different,     ///< no motion and no reflection carries the one onto the other
  mirror_image,  ///< only a reflection does (with or without a motion)
  congruent,     ///< a motion does, and they are not the same
  same           ///< the same set of points
};
/// `different`, `mirror-image`, `congruent`, `same`.
const char* congruence_word(Congruence relation);
/// True iff sets of points that are so related are also `demand`: `same` are `congruent`, too; mirror images are not.
bool fulfils(Congruence relation, Congruence demand);

/// Values that the parameters of a plan have in one of its `cases`.
struct CaseValues {
  std::string file;
  std::vector<std::pair<std::string, std::string>> parameters;  ///< names and exact values
};

struct CompareResult {
  int dimension = 3;  ///< 2: figures of the plane; volumes are areas, and nothing is said of Dehn invariants
  std::vector<ComparedSolid> left, right;
  Answer answer = Answer::failed;
  bool compared = false;  ///< the values below are all there
  std::optional<FieldResult> field;
  Value left_volume, right_volume;
  std::optional<DehnValue> left_dehn, right_dehn;
  std::optional<DehnValue> dehn_difference;  ///< left minus right; its certificate proves `same_dehn` either way
  bool same_volume = false, same_dehn = false;
  std::string dissection;  ///< `exists` or `does not exist`
  DissectionReason reason = DissectionReason::undecided;
  bool of_one_plan = false;  ///< left is the start of a plan and right its goal
  Congruence relation = Congruence::different;
  std::optional<Congruence> demand;  ///< where one was made: `answer` then says whether `relation` fulfils it
  /// Where the volumes differ: the factor that the right side must be scaled by, as an expression, and what follows then.
  std::optional<Value> scale;
  std::optional<bool> exists_at_scale;
  std::vector<MeshResult> meshes;  ///< that the solids are made of
  std::vector<Finding> findings;
  /// Where a side of a plan with `cases` was compared: what came of each case, in order. Then `compared` is false here, the
  /// values that depend on it stand in the cases, and `answer` is that of the case with the highest exit code.
  std::vector<CompareResult> cases = {};
  std::size_t case_number = 0;               ///< of one of these: which it is, from 1
  std::vector<CaseValues> case_values = {};  ///< of one of these: for each plan with `cases`
};

}  // namespace cutproof
