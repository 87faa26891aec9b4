// SPDX-License-Identifier: GPL-3.0-or-later
#include "plan/frame.hpp"

#include "number/print.hpp"

#include <algorithm>

namespace cutproof {

namespace {

constexpr std::size_t longest = 60;

std::string shortened(std::string text) {
  if (text.size() <= longest) return text;
  std::size_t end = longest - 3;
  while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0) == 0x80) --end;
  return text.substr(0, end) + "...";
}

void write(const Node& node, std::string& text) {
  if (text.size() > longest) return;
  if (!node.is_sequence() && !node.is_mapping()) {
    text += node.text;
    return;
  }
  text += node.is_sequence() ? "[" : "{ ";
  for (std::size_t i = 0; i < node.entries.size(); ++i) {
    if (i > 0) text += ", ";
    if (node.is_mapping()) text += node.entries[i].key + ": ";
    write(node.entries[i].value, text);
  }
  text += node.is_sequence() ? "]" : " }";
}

struct ShowValue {
  int dimension;
  std::string operator()(const Number& number) const { return to_exact(number); }
  std::string operator()(const Vector3& v) const {
    return "[" + to_exact(v.x) + ", " + to_exact(v.y) + (dimension == 2 ? "" : ", " + to_exact(v.z)) + "]";
  }
  std::string operator()(const Angle& angle) const {
    return angle.is_rational_multiple_of_pi() ? to_exact(Number(180) * angle.pi_multiple) + " deg" : "an angle";
  }
};

}  // namespace

const Frame* bound(const FramePointer& frame, const std::string& name) {
  for (const Frame* each = frame.get(); each != nullptr; each = each->around.get())
    if (each->name == name) return each;
  return nullptr;
}

std::string written(const Node& node) {
  std::string text;
  write(node, text);
  return shortened(std::move(text));
}

std::string shown(const ExactValue& value, int dimension) {
  return shortened(std::visit(ShowValue{dimension}, value));
}

std::string shown(const Frame& frame) {
  if (frame.small) return std::to_string(*frame.small);
  if (frame.value) return shown(*frame.value);
  // An index of a loop around may stand for the entry's own text.
  const Node& entry = *frame.entry;
  const Frame* other = entry.is_scalar() ? bound(entry.frame, entry.text) : nullptr;
  return other != nullptr ? shown(*other) : written(entry);
}

std::shared_ptr<const Pass> pass_of(const FramePointer& frame) {
  if (frame == nullptr) return nullptr;
  if (frame->pass != nullptr) return frame->pass;
  const std::shared_ptr<const Pass> before = pass_of(frame->is_use ? frame->used_from : frame->around);
  if (!frame->is_index) return frame->pass = before;
  auto pass = before == nullptr ? std::make_shared<Pass>() : std::make_shared<Pass>(*before);
  pass->emplace_back(frame->name, shown(*frame));
  return frame->pass = pass;
}

std::string pass_words(const Pass& pass) {
  std::string text;
  for (const auto& [name, value] : pass) text += (text.empty() ? "in the pass with " : ", ") + name + " = " + value;
  return text;
}

std::optional<std::size_t> used_at(const FramePointer& frame) {
  for (const Frame* each = frame.get(); each != nullptr; each = each->around.get()) {
    if (!each->is_use) continue;
    const std::optional<std::size_t> outer = used_at(each->used_from);
    return outer ? outer : each->used_at;
  }
  return std::nullopt;
}

std::string arguments_text(const FramePointer& frame) {
  std::string text;
  for (const Frame* each = frame.get(); each != nullptr; each = each->around.get())
    if (!each->is_index) text = each->name + " = " + shown(*each) + (text.empty() ? "" : ", " + text);
  return text;
}

}  // namespace cutproof
