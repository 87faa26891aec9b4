// SPDX-License-Identifier: GPL-3.0-or-later
// A plan after reading: every name resolved, every number exact, every solid described. What `verify` executes.
#pragma once

#include "number/angle.hpp"
#include "number/number.hpp"
#include "solid/description.hpp"
#include "solid/geometry.hpp"

#include <memory>
#include <optional>
#include <string>
#include <tuple>
#include <utility>
#include <variant>
#include <vector>

namespace cutproof {

class FieldTower;

/// The indices of the loops around a place and what they stand for, outermost first.
using Pass = std::vector<std::pair<std::string, std::string>>;

/// A place in the plan's text; lines and columns count from 1 (columns in Unicode code points).
struct TextPlace {
  int line = 0;
  int column = 0;
  std::shared_ptr<const Pass> pass = {};  ///< null outside of loops
};

struct PlaceSelection;

/// Which pieces a step takes: each entry is a name, a pattern with `*`, `all`, or says where the pieces lie.
struct SelectorEntry {
  std::string text;  ///< of a selection by place: its words, for messages
  TextPlace place;
  std::shared_ptr<const PlaceSelection> by_place = {};  ///< null for names and patterns
  /// True for `all`, patterns and selections by place: pieces that are taken this way may be missed by a plane.
  bool is_pattern() const { return by_place != nullptr || text == "all" || text.find('*') != std::string::npos; }
};
using Selector = std::vector<SelectorEntry>;

/// A selection by place: the pieces for which all that is asked holds when the step begins.
struct PlaceSelection {
  std::optional<Plane> above, below;            ///< no point on the other side than the normal's; none on the normal's
  std::optional<Vector3> holding;               ///< in their interior
  SolidPointer inside;                          ///< that they lie in; null when not asked for
  std::optional<Selector> touching, from, but;  ///< sharing area with one of these; only of these; none of these
};

struct PlacedName {
  std::string name;
  TextPlace place;
};

/// `slab.*` in `into`: the new pieces of a step are `slab.1`, `slab.2`, ... in the order of their smallest corners.
struct Numbering {
  std::string stem;  ///< what stands before the star
  TextPlace place;
  /// True iff the star could make this name: the stem and a number from 1 on.
  bool makes(const std::string& name) const;
};

struct CutStep {
  Selector pieces;
  std::vector<Plane> planes;
  std::vector<TextPlace> plane_places;
  bool has_names = false;
  PlacedName positive, negative;       ///< the names in `into`, when has_names
  std::optional<Numbering> numbering;  ///< never together with has_names
};

/// A motion that is found when the step begins: `lay` or `onto`.
struct MotionSearch {
  SolidPointer onto;                                 ///< what the moved pieces come to be; null for `lay`
  std::optional<Plane> face;                         ///< of `lay`: where the moved pieces have the face that is laid
  SelectorEntry against;                             ///< the piece that it is laid against,
  std::optional<Plane> against_face;                 ///< and where this has its face
  std::vector<std::pair<Vector3, Vector3>> corners;  ///< where points must go
  TextPlace place;
};
using MotionPart = std::variant<Motion, MotionSearch>;

struct MoveEntry {
  Selector pieces;
  Motion motion;  ///< without meaning when there are parts
  TextPlace motion_place;
  std::vector<MotionPart> parts = {};  ///< run left to right, when some of them must be found; else empty
};
struct MoveStep {
  std::vector<MoveEntry> entries;
};

struct JoinStep {
  Selector pieces;
  PlacedName result;
};

struct SplitStep {
  Selector pieces;
  std::vector<PlacedName> names;       ///< empty without `into`; only for a selection of one piece
  std::optional<Numbering> numbering;  ///< never together with names
};

/// An audit of the dihedral angles of a piece's true edges.
struct AngleAudit {
  SelectorEntry piece;
  std::vector<Angle> allowed;
  std::vector<std::pair<Angle, long>> exceptions;  ///< exactly so many edges of this angle
  TextPlace place;
};

/// A condition that `holds` demands; it speaks of the plan's values alone, so it was decided when the plan was read.
struct DecidedCondition {
  std::string text;
  bool holds;
  TextPlace place;
};

struct ExpectStep {
  std::optional<long> piece_count;
  TextPlace piece_count_place;
  std::vector<std::tuple<SelectorEntry, Number, TextPlace>> volumes;
  std::optional<Selector> connected;
  TextPlace connected_place;
  SolidPointer filled;  ///< null when not asked for
  Selector filled_by;   ///< empty: all pieces
  TextPlace filled_place;
  std::vector<AngleAudit> angles;
  std::vector<std::pair<SelectorEntry, TextPlace>> dehn_zero;  ///< pieces whose Dehn invariant must be 0
  std::optional<Selector> congruent;                           ///< to each other, or to a solid
  SolidPointer congruent_to;                                   ///< null: to each other
  TextPlace congruent_place;
  std::optional<long> shape_count;  ///< of classes of congruent pieces
  Selector shapes_of;               ///< empty: all pieces
  TextPlace shapes_place;
  std::vector<DecidedCondition> conditions;
};

struct Lemma;

/// The pieces become what a lemma makes of them (plan/lemmas.hpp); backwards: what it makes them of.
struct UseStep {
  std::shared_ptr<const Lemma> lemma;
  PlacedName name;  ///< as the plan calls the lemma, where the step names it
  bool backwards = false;
  struct Taken {
    std::size_t index;  ///< of the solid in the lemma's start (backwards: among its goals)
    SelectorEntry piece;
  };
  std::vector<Taken> taken;  ///< one for each of these solids
  struct Made {
    PlacedName name;
    SolidPointer solid;  ///< one of the lemma's goals (backwards: of its start) in this plan's field
  };
  std::vector<Made> made;       ///< in the lemma's order
  std::optional<MoveEntry> by;  ///< what carries them from where they lie in the lemma; its pieces have no meaning
};

struct Step {
  std::variant<CutStep, MoveStep, JoinStep, SplitStep, ExpectStep, UseStep> action;
  std::string title, note;
  std::vector<std::string> groups;  ///< titles of the groups of steps that begin with this one, outermost first
  TextPlace place;                  ///< of the step's kind: the key `cut`, `move`, ...
  const char* kind() const;
};

struct NamedSolid {
  std::string name;
  SolidPointer solid;
  TextPlace place;
};

/// What is added to both sides: it stands on the bench beside the start, and its place must be filled beside the goal.
struct AddedSolid {
  NamedSolid named;
  std::optional<MoveEntry> by;  ///< what carries it to that place; absent: it is where it stands. Its pieces have no meaning
};

/// A named solid that start, goal and steps do not use, and that may turn out to be empty once it is built.
struct UnusedSolid {
  std::shared_ptr<FieldTower> tower;  ///< of its numbers, which are not in the plan's field
  NamedSolid named;
  std::shared_ptr<const std::vector<NamedSolid>> definitions;  ///< of the solids that it may be made of
};

/// A remark on the plan's text, which changes nothing.
struct PlanNote {
  TextPlace place;
  std::string message;
};

/// All numbers are elements of `field` (or of a field below it), but for those of unused solids.
struct ExactPlan {
  std::shared_ptr<FieldTower> tower;  ///< keeps the fields alive
  const Field* field = nullptr;
  std::string title, source, note;
  bool allow_mirror = false;
  int dimension = 3;  ///< 2: everything is thickened upright by 1, and motions are those of the plane
  std::vector<NamedSolid> start;
  std::vector<Step> steps;
  std::vector<NamedSolid> goals;
  std::vector<AddedSolid> added;
  TextPlace start_place, goal_place;
  TextPlace goal_size_place;  ///< what makes the goal as large as it is: of a box its size
  std::vector<UnusedSolid> unused;
  std::vector<NamedSolid> definitions;  ///< the solids that were used by their names, and where each is defined
  std::vector<PlanNote> notes;
};

}  // namespace cutproof
