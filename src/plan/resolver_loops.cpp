// SPDX-License-Identifier: GPL-3.0-or-later
// Repetition is over when a plan has been read: a loop is written out, entry by entry, into a tree whose nodes know what
// their indices stand for. Nobody else knows of loops.
#include "plan/resolver.hpp"

#include "number/flint.hpp"
#include "number/print.hpp"
#include "plan/fold.hpp"

#include <algorithm>

namespace cutproof {

namespace {

/// Keys of mappings from names of pieces, or of corners: their entries may be loops, and indices may stand in the names.
bool maps_names(const std::string& key) {
  static const char* const keys[] = {"start", "goal", "move",   "into",    "take", "volume",
                                     "area",  "dehn", "points", "corners", "added"};
  return std::find(std::begin(keys), std::end(keys), key) != std::end(keys);
}

bool is_loop_key(const std::string& key) {
  return key == "for" || key == "when" || key == "each";
}

}  // namespace

bool Resolver::is_loop(const Node& node) const {
  return index_.version() >= 2 && node.is_mapping() &&
         std::any_of(node.entries.begin(), node.entries.end(),
                     [](const Node::Entry& entry) { return is_loop_key(entry.key); });
}

// --- writing out ----------------------------------------------------------------------------------------------------------

Node Resolver::written_out(const Node& node, const FramePointer& frame, bool keys_are_names) {
  Node result;
  result.kind = node.kind;
  result.quoted = node.quoted;
  result.damaged = node.damaged;
  result.text = node.text;
  result.begin = node.begin;
  result.end = node.end;
  result.origins = node.origins;
  result.frame = frame;
  result.entries.reserve(node.entries.size());
  if (node.is_sequence())
    for (const Node::Entry& entry : node.entries) write_out_entry(entry.value, frame, result);
  if (!node.is_mapping()) return result;
  if (is_loop(node) && (!keys_are_names || node.find("each") != nullptr))
    index_.fail(result, "a loop cannot stand here",
                keys_are_names
                    ? "write a list, `[{ for: { k: 0 to 3 }, each: ... }]`, or `NAME: { for: ..., each: ... }` with k "
                      "in the name"
                    : "a loop is an entry of a list: `[{ for: { k: 0 to 3 }, each: ... }]`");
  for (const Node::Entry& entry : node.entries) {
    if (keys_are_names && is_loop(entry.value) && entry.value.find("each") != nullptr) {
      index_.allow_keys(entry.value, "a loop", {"for", "when", "each"});
      result.repeats = true;
      for_each_pass(entry.value, frame, [&](const FramePointer& pass) {
        result.entries.push_back({entry.key, entry.key_begin, entry.key_end, written_out(*entry.value.find("each"), pass)});
      });
      continue;
    }
    result.entries.push_back(
        {entry.key, entry.key_begin, entry.key_end, written_out(entry.value, frame, maps_names(entry.key))});
  }
  return result;
}

void Resolver::write_out_entry(const Node& value, const FramePointer& frame, Node& list) {
  if (!is_loop(value)) {
    list.entries.push_back({"", value.begin, value.begin, written_out(value, frame)});
    return;
  }
  if (value.find("each") == nullptr) {
    if (value.damaged) throw Recorded{};
    Node placed = value;
    placed.frame = frame;
    index_.fail(placed, "this loop does not say what its entries are", "write `{ for: { k: 0 to 3 }, each: ENTRY }`");
  }
  index_.allow_keys(value, "a loop", {"for", "when", "each"});
  list.repeats = true;
  for_each_pass(value, frame, [&](const FramePointer& pass) { write_out_entry(*value.find("each"), pass, list); });
}

// --- passes ---------------------------------------------------------------------------------------------------------------

void Resolver::for_each_pass(const Node& loop, const FramePointer& frame, const InPass& work) {
  passes(loop, frame, &work);
}

/// Without work the passes are only counted.
void Resolver::passes(const Node& loop, const FramePointer& frame, const InPass* work) {
  const Node* ranges = loop.find("for");
  if (ranges == nullptr) {
    if (loop.find("when") == nullptr) {
      Node placed = loop;
      placed.frame = frame;
      index_.fail(placed, "this loop has no range and no condition", "write `for: { k: 0 to 3 }`, or `when: CONDITION`");
    }
    return keep(loop, frame, work);
  }
  if (ranges->is_broken()) throw Recorded{};
  if (ranges->is_sequence()) return passes_of_rows(loop, frame, work);
  index_.mapping(*ranges, "`for`", "as in `for: { k: 0 to 3 }`, or a list of rows: `for: [{ k: 0, P: A }, { k: 1, P: B }]`");
  for (const Node::Entry& entry : ranges->entries) check_index(entry, frame);
  passes_of_level(loop, 0, frame, work);
}

void Resolver::keep(const Node& loop, const FramePointer& frame, const InPass* work) {
  if (work == nullptr) return;
  const Node* condition = loop.find("when");
  if (condition == nullptr || holds(*condition, frame)) (*work)(frame);
}

void Resolver::check_index(const Node::Entry& entry, const FramePointer& frame) {
  const auto refuse = [&](const std::string& message, const std::string& hint) {
    index_.report(entry.key_begin, entry.key_end, message, hint, frame);
    throw Recorded{};
  };
  if (!is_identifier(entry.key))
    refuse(quoted_text(entry.key) + " cannot be an index", "a name is an ASCII letter or `_`, then letters, digits and `_`");
  if (is_reserved_name(entry.key) || entry.key == "all")
    refuse("`" + entry.key + "` has a meaning of its own and cannot be an index", "choose another name");
  if (index_.is_taken(entry.key))
    refuse("the index `" + entry.key + "` has the name of something that the plan defines",
           "choose another name for the index");
  if (const Frame* other = bound(frame, entry.key))
    refuse("`" + entry.key + "` is the name of " +
               (other->is_index ? "an index of a loop" : "an argument of the definition") + " around this one",
           "choose another name for the index");
}

namespace {

bool mentions(const Expression& expression, const std::string& name) {
  bool found = false;
  look_through(expression,
               [&](const Expression& at) { found = found || (at.kind == Expression::Kind::name && at.text == name); });
  return found;
}

/// How many numbers there are from `first` to `last` by `step`, which is not 0.
std::size_t length_of(long first, long last, long step) {
  if (step > 0 ? last < first : first < last) return 0;
  const unsigned long distance = step > 0 ? static_cast<unsigned long>(last) - static_cast<unsigned long>(first)
                                          : static_cast<unsigned long>(first) - static_cast<unsigned long>(last);
  const unsigned long stride = step > 0 ? static_cast<unsigned long>(step) : 0UL - static_cast<unsigned long>(step);
  const unsigned long steps = distance / stride;
  return steps == static_cast<unsigned long>(-1) ? steps : steps + 1;
}

}  // namespace

void Resolver::passes_of_level(const Node& loop, std::size_t level, const FramePointer& frame, const InPass* work) {
  const Node& ranges = *loop.find("for");
  const Node::Entry& entry = ranges.entries[level];
  const bool is_last = level + 1 == ranges.entries.size();
  const auto count = [&](std::size_t length) {
    placed(entry.value, [&] { is_last ? index_.count_passes(length) : index_.count_rounds(length); });
  };
  const auto go_on = [&](const FramePointer& pass) {
    if (is_last) return keep(loop, pass, work);
    passes_of_level(loop, level + 1, pass, work);
  };
  if (entry.value.is_broken()) throw Recorded{};
  if (entry.value.is_sequence()) {
    index_.sequence(entry.value, "the list of what `" + entry.key + "` stands for", "write its entries: `[A, B]`");
    const Node list = written_out(entry.value, frame);
    count(list.entries.size());
    if (is_last && work == nullptr) return;
    for (const Node::Entry& each : list.entries) {
      const auto pass = std::make_shared<Frame>();
      pass->around = frame;
      pass->name = entry.key;
      pass->entry = std::make_shared<const Node>(each.value);
      go_on(pass);
    }
    return;
  }
  Node written = entry.value;
  written.frame = frame;
  if (!entry.value.is_scalar() || !is_range(entry.value.text))
    index_.fail(written, "a range or a list is wanted here", "write `0 to 3`, `0 to 6 by 2`, or entries: `[A, B]`");
  long first = 0, last = 0, step = 1;
  in_text(written, frame, [&] {
    const Range& range = index_.parsed_range(written.text);
    for (std::size_t later = level; later < ranges.entries.size(); ++later)
      for (const ExpressionPointer& bound : {range.first, range.last, range.step})
        if (bound != nullptr && mentions(*bound, ranges.entries[later].key))
          throw ExpressionError("`" + ranges.entries[later].key + "` is used before it stands for anything",
                                "an index may be used in the ranges behind its own", bound->offset, bound->length);
    const auto whole = [&](const Expression& bound) {
      if (const std::optional<long> small = small_integer(bound)) return *small;
      const Rational value = integer(bound);
      if (fmpz_bits(value.numerator()) > 60) index_.count_passes(static_cast<std::size_t>(-1));
      return static_cast<long>(fmpz_get_si(value.numerator()));
    };
    first = whole(*range.first);
    last = whole(*range.last);
    if (range.step != nullptr) step = whole(*range.step);
    if (step == 0)
      throw ExpressionError("a range by 0 has no end", "write a whole number that is not 0", range.step->offset,
                            range.step->length);
  });
  const std::size_t length = length_of(first, last, step);
  count(length);
  if (is_last && work == nullptr) return;
  for (std::size_t i = 0; i < length; ++i) {
    const auto pass = std::make_shared<Frame>();
    pass->around = frame;
    pass->name = entry.key;
    pass->small = first + static_cast<long>(i) * step;
    pass->value = Number(*pass->small);
    go_on(pass);
  }
}

void Resolver::passes_of_rows(const Node& loop, const FramePointer& frame, const InPass* work) {
  const Node& rows_node = *loop.find("for");
  index_.sequence(rows_node, "the list of rows", "write rows: `for: [{ k: 0, P: A }, { k: 1, P: B }]`");
  const Node rows = written_out(rows_node, frame);
  placed(rows_node, [&] { index_.count_passes(rows.entries.size()); });
  const auto keys_of = [](const Node& row) {
    std::vector<std::string> keys;
    for (const Node::Entry& entry : row.entries) keys.push_back(entry.key);
    std::sort(keys.begin(), keys.end());
    return keys;
  };
  bool is_first = true;
  for (const Node::Entry& row : rows.entries) {
    index_.mapping(row.value, "a row", "as in `{ k: 0, P: A }`: what each index stands for");
    const Node& first = rows.entries.front().value;
    if (keys_of(row.value) != keys_of(first))
      index_.fail(row.value, "this row does not have the indices of the first one", "every row gives a value to each index");
    FramePointer pass = frame;
    for (const Node::Entry& entry : first.entries) {  // in the order of the first row
      if (is_first) check_index(entry, frame);
      const Node& value = *row.value.find(entry.key);
      if (value.is_broken()) throw Recorded{};
      const auto next = std::make_shared<Frame>();
      next->around = pass;
      next->name = entry.key;
      next->entry = std::make_shared<const Node>(value);
      pass = next;
    }
    is_first = false;
    keep(loop, pass, work);
  }
}

void Resolver::count_passes(const Node& node, const FramePointer& frame, bool keys_are_names) {
  if (!node.is_sequence() && !node.is_mapping()) return;
  const auto inside = [&](const FramePointer& pass) {
    for (const Node::Entry& entry : node.entries)
      if (keys_are_names || (entry.key != "for" && entry.key != "when"))
        count_passes(entry.value, pass, maps_names(entry.key));
  };
  if (!is_loop(node) || (keys_are_names && node.find("each") == nullptr) ||
      (node.find("for") == nullptr && node.find("when") == nullptr))
    return inside(frame);
  const std::function<bool(const Node&)> has_loops = [&](const Node& part) {
    return std::any_of(part.entries.begin(), part.entries.end(), [&](const Node::Entry& entry) {
      return entry.key != "for" && entry.key != "when" && (is_loop(entry.value) || has_loops(entry.value));
    });
  };
  const InPass work = inside;
  try {
    passes(node, frame, has_loops(node) ? &work : nullptr);
  } catch (const Recorded&) {
    if (has_stopped()) throw;  // errors are told when the loop is written out
  }
}

std::string Resolver::exact_text_aside(const Node& node) {
  std::string text;
  aside(tower_, [&](Scope& scope, FieldTower&) {
    const ExactValue value = dynamic_cast<Resolver&>(scope).any_value(node);
    if (const auto* number = std::get_if<Number>(&value)) text = to_exact(*number);
    if (const auto* vector = std::get_if<Vector3>(&value)) text = to_exact(*vector, index_.dimension());
    if (const auto* angle = std::get_if<Angle>(&value)) text = to_exact(*angle);
  });
  return text;
}

void Resolver::refuse_names(const Node& node) {
  if (node.is_sequence())
    for (const Node::Entry& entry : node.entries) refuse_names(entry.value);
  if (!node.is_scalar()) return;
  const auto check = [&](const Expression& at) {
    const bool is_call = at.kind == Expression::Kind::call, is_name = at.kind == Expression::Kind::name;
    if ((is_call && !is_function_name(at.text)) ||
        (is_name && !is_reserved_name(at.text) && bound(node.frame, at.text) == nullptr))
      throw ExpressionError("the values of a case use no names of the plan, such as `" + at.text + "`",
                            "write the number itself, or an expression of numbers", at.offset, at.length);
  };
  in_text(node, node.frame, [&] { look_through(index_.parsed(node.text), check); });
}

// --- conditions and numbers -----------------------------------------------------------------------------------------------

bool Resolver::holds(const Node& node, const FramePointer& frame) {
  if (node.is_sequence()) {
    index_.sequence(node, "a list of conditions", "as in `[n >= 4, mod(n; 2) = 0]`");
    const Node list = written_out(node, frame);
    return std::all_of(list.entries.begin(), list.entries.end(),
                       [&](const Node::Entry& entry) { return holds(entry.value, entry.value.frame); });
  }
  if (!node.is_scalar()) index_.fail(node, "a condition is wanted here", "as in `k < n`, or several in a list");
  return in_text(node, frame, [&] {
    const Condition& condition = index_.parsed_condition(node.text);
    return evaluate_condition(condition, *this, tower_);
  });
}

std::optional<long> Resolver::small_integer(const Expression& expression) const {
  using Kind = Expression::Kind;
  using Small = std::optional<long>;
  return fold<Small>(expression, [this](const Expression& at, const Operands<Small>& operands) -> FoldStep<Small> {
    if (!operands.empty() && !operands.back()) return std::nullopt;
    switch (at.kind) {
      case Kind::number:
        if (at.text.size() > 9 || at.text.find_first_not_of("0123456789") != std::string::npos) return std::nullopt;
        return std::stol(at.text);
      case Kind::name: {
        const Frame* frame = bound(frame_, at.text);
        return frame == nullptr ? std::nullopt : frame->small;
      }
      case Kind::negate:
      case Kind::add:
      case Kind::subtract:
      case Kind::multiply: {
        if (operands.size() < at.operands.size()) return next_operand(at, operands);
        const long left = at.kind == Kind::negate ? 0 : *operands[0], right = *operands.back();
        long result = 0;
        const bool overflows = at.kind == Kind::add        ? __builtin_add_overflow(left, right, &result)
                               : at.kind == Kind::multiply ? __builtin_mul_overflow(left, right, &result)
                                                           : __builtin_sub_overflow(left, right, &result);
        return overflows ? std::nullopt : Small(result);
      }
      default:
        return std::nullopt;
    }
  });
}

Rational Resolver::integer(const Expression& expression) {
  Rational result;
  aside(tower_, [&](Scope& scope, FieldTower& tower) {
    const Number number = evaluate_number(expression, scope, tower);
    if (!number.is_integer())
      throw ExpressionError("a whole number is wanted here, and this is " + to_exact(number),
                            "`floor` and `ceil` make whole numbers", expression.offset, expression.length);
    number.get_rational(result);
  });
  return result;
}

// --- names ------------------------------------------------------------------------------------------------------

std::string Resolver::reference_text(const Node& node) {
  if (index_.version() < 2) return node.text;
  if (const Frame* frame = bound(node.frame, node.text)) return shown(*frame);
  if (node.text.find('(') == std::string::npos) return node.text;
  return in_text(node, node.frame, [&] {
    const Reference& reference = index_.parsed_reference(node.text);
    std::string text = reference.name;
    for (std::size_t i = 0; i < reference.arguments.size(); ++i)
      text += (i == 0 ? "(" : ", ") + shown(evaluate(*reference.arguments[i], *this, tower_), index_.dimension());
    return text + ")";
  });
}

std::string Resolver::piece_text(const Node& node) {
  if (index_.version() < 2 || node.text.find('(') == std::string::npos) return node.text;
  return in_text(node, node.frame, [&] {
    std::string text;
    for (const WrittenName::Part& part : index_.parsed_name(node.text).parts) {
      text += part.text;
      for (std::size_t i = 0; i < part.values.size(); ++i) {
        if (i > 0) text += '.';
        const Expression& value = *part.values[i];
        // An index that stands for a single name gives this name.
        const Frame* frame = value.kind == Expression::Kind::name ? bound(frame_, value.text) : nullptr;
        while (frame != nullptr && frame->entry != nullptr && frame->entry->is_scalar()) {
          const Frame* next = bound(frame->entry->frame, frame->entry->text);
          if (next == nullptr) break;
          frame = next;
        }
        if (frame != nullptr && frame->entry != nullptr && frame->entry->is_scalar() && is_wide_name(frame->entry->text)) {
          text += frame->entry->text;
        } else {
          const std::optional<long> small = small_integer(value);
          text += small ? std::to_string(*small) : to_exact(Number(integer(value), Field::rational()));
        }
      }
    }
    return text;
  });
}

}  // namespace cutproof
