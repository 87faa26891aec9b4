// SPDX-License-Identifier: GPL-3.0-or-later
// What yaml-cpp makes of a text, one event after the other. Nothing is judged here: it accepts much that no plan may hold.
#pragma once

#include "plan/document.hpp"

namespace cutproof {

struct YamlEvent {
  enum class Kind { scalar, null, alias, sequence, mapping, end };
  Kind kind = Kind::end;
  /// Of the first byte; of an anchor or tag that stands before the value; of what follows, where a null is no word.
  std::size_t position = 0;
  bool in_brackets = false;  ///< a collection in flow style
  std::string text;          ///< of a scalar
};

/// The events of the first document of a text. Where yaml-cpp gave up, they end early.
struct YamlEvents {
  std::vector<YamlEvent> list;
  bool gave_up = false;
  std::size_t complaint = 0;  ///< where yaml-cpp gave up
  std::size_t end = 0;        ///< up to where it was read; before the complaint where it was read once more
  bool bad_escape = false;    ///< whether an escape was its reason, which only it can tell
};

/// Throws PlanLimit (`nesting`, `nodes`) with the place in the source. A byte order mark may begin the text.
YamlEvents yaml_events(std::string_view text, const SourceText& source, const DocumentLimits& limits);

}  // namespace cutproof
