// SPDX-License-Identifier: GPL-3.0-or-later
// The one file that knows yaml-cpp.
#include "plan/yaml_events.hpp"

#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/yaml.h>

#include <istream>
#include <streambuf>

namespace cutproof {

namespace {

class MemoryBuffer : public std::streambuf {
 public:
  explicit MemoryBuffer(std::string_view text) {
    char* begin = const_cast<char*>(text.data());  // it is only read
    setg(begin, begin, begin + text.size());
  }
};

class Collector : public YAML::EventHandler {
 public:
  Collector(std::size_t skipped, const SourceText& source, const DocumentLimits& limits, std::vector<YamlEvent>& list)
      : skipped_(skipped), source_(source), limits_(limits), list_(list) {}

  void OnDocumentStart(const YAML::Mark&) override {}
  void OnDocumentEnd() override {}
  void OnNull(const YAML::Mark& mark, YAML::anchor_t) override { add(YamlEvent::Kind::null, mark); }
  void OnAlias(const YAML::Mark& mark, YAML::anchor_t) override { add(YamlEvent::Kind::alias, mark); }
  void OnScalar(const YAML::Mark& mark, const std::string&, YAML::anchor_t, const std::string& value) override {
    add(YamlEvent::Kind::scalar, mark).text = value;
  }
  void OnSequenceStart(const YAML::Mark& mark, const std::string&, YAML::anchor_t,
                       YAML::EmitterStyle::value style) override {
    begin(YamlEvent::Kind::sequence, mark, style);
  }
  void OnSequenceEnd() override { end(); }
  void OnMapStart(const YAML::Mark& mark, const std::string&, YAML::anchor_t, YAML::EmitterStyle::value style) override {
    begin(YamlEvent::Kind::mapping, mark, style);
  }
  void OnMapEnd() override { end(); }

 private:
  std::size_t position(const YAML::Mark& mark) const { return skipped_ + static_cast<std::size_t>(mark.pos); }

  YamlEvent& add(YamlEvent::Kind kind, const YAML::Mark& mark) {
    const std::size_t at = position(mark);
    if (++nodes_ > limits_.max_nodes)
      throw PlanLimit("nodes",
                      source_.diagnostic(at, at, "the plan holds more than " + std::to_string(limits_.max_nodes) + " values",
                                         "a plan is a short text; cut this one into several"));
    list_.emplace_back();
    list_.back().kind = kind;
    list_.back().position = at;
    return list_.back();
  }
  void begin(YamlEvent::Kind kind, const YAML::Mark& mark, YAML::EmitterStyle::value style) {
    const std::size_t at = position(mark);
    if (++depth_ > limits_.max_nesting)
      throw PlanLimit(
          "nesting",
          source_.diagnostic(at, at + 1, "the plan is nested deeper than " + std::to_string(limits_.max_nesting) + " levels",
                             "name the inner solids in `solids` and the inner values in `let`"));
    add(kind, mark).in_brackets = style != YAML::EmitterStyle::Block;
  }
  void end() {
    --depth_;
    YamlEvent event;
    event.position = list_.back().position;
    list_.push_back(std::move(event));
  }

  std::size_t skipped_;
  const SourceText& source_;
  const DocumentLimits& limits_;
  std::vector<YamlEvent>& list_;
  std::size_t nodes_ = 0;
  int depth_ = 0;
};

}  // namespace

YamlEvents yaml_events(std::string_view text, const SourceText& source, const DocumentLimits& limits) {
  const std::size_t skipped = text.substr(0, 3) == "\xEF\xBB\xBF" ? 3 : 0;
  YamlEvents events;
  Collector collector(skipped, source, limits, events.list);
  MemoryBuffer buffer(text.substr(skipped));
  std::istream stream(&buffer);
  try {
    // One document only: a loop over them never ends on some texts.
    YAML::Parser(stream).HandleNextDocument(collector);
  } catch (const YAML::Exception& error) {
    events.gave_up = true;
    events.end = events.complaint = skipped + static_cast<std::size_t>(std::max(error.mark.pos, 0));
    const auto begins = [&](const char* message) { return error.msg.rfind(message, 0) == 0; };
    events.bad_escape = begins(YAML::ErrorMsg::INVALID_ESCAPE) || begins(YAML::ErrorMsg::INVALID_HEX) ||
                        begins(YAML::ErrorMsg::INVALID_UNICODE);
  }
  return events;
}

}  // namespace cutproof
