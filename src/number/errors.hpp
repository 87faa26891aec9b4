// SPDX-License-Identifier: GPL-3.0-or-later
// The three ways in which exact work can end early: the input asks for something without meaning, a limit was reached,
// or the tool itself is broken. They never mix: each leads to an outcome of its own.
#pragma once

#include <stdexcept>
#include <string>
#include <utility>

namespace cutproof {

/// The input asks for something that has no meaning (a division by zero, a flat solid, ...): outcome `invalid`.
/// `hint` says what to write instead; it may be empty.
class InvalidInput : public std::runtime_error {
 public:
  explicit InvalidInput(const std::string& message, std::string hint = "")
      : std::runtime_error(message), hint_(std::move(hint)) {}
  const std::string& hint() const { return hint_; }

 private:
  std::string hint_;
};

/// A limit was reached (degree of the field, bits of a number, ...): outcome `stopped`. `limit` names it.
class LimitReached : public std::runtime_error {
 public:
  LimitReached(std::string limit, const std::string& message, std::string hint = "")
      : std::runtime_error(message), limit_(std::move(limit)), hint_(std::move(hint)) {}
  const std::string& limit() const { return limit_; }
  const std::string& hint() const { return hint_; }

 private:
  std::string limit_, hint_;
};

/// An invariant of the tool itself does not hold: outcome `failed`. Never caused by input alone.
class ToolFault : public std::logic_error {
 public:
  using std::logic_error::logic_error;
};

}  // namespace cutproof
