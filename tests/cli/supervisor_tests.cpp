// SPDX-License-Identifier: GPL-3.0-or-later
// Every way in which a child can end is told apart, and limits hold whoever allocates.
#include "cli/supervisor.hpp"
#include "number/flint.hpp"

#include <catch2/catch.hpp>

#include <gmp.h>
#include <sys/resource.h>
#include <unistd.h>

#include <csignal>
#include <cstdlib>
#include <map>
#include <vector>

using namespace cutproof;

namespace {

struct Told {
  std::map<std::size_t, std::vector<std::string>> lines;
  std::map<std::size_t, ChildEnd> ends;
};

Told run(std::size_t count, const SupervisorLimits& limits, const Supervisor::Work& work) {
  Told told;
  Supervisor supervisor(limits);
  supervisor.on_line = [&](std::size_t task, std::string_view line) { told.lines[task].emplace_back(line); };
  supervisor.on_end = [&](std::size_t task, const ChildEnd& end) { told.ends[task] = end; };
  supervisor.run(count, work);
  return told;
}

ChildEnd end_of(const SupervisorLimits& limits, const std::function<void()>& work) {
  return run(1, limits,
             [&](std::size_t, const Supervisor::Send&) {
               work();
               return std::string("done");
             })
      .ends.at(0);
}

// The test program's own handlers must not see it.
[[noreturn]] void die_of(int number) {
  signal(number, SIG_DFL);
  kill(getpid(), number);
  for (;;) pause();
}

}  // namespace

TEST_CASE("lines arrive whole and in order, whatever their length, from several children at once") {
  for (const int jobs : {1, 3}) {
    SupervisorLimits limits;
    limits.jobs = jobs;
    const Told told = run(7, limits, [](std::size_t task, const Supervisor::Send& send) {
      for (int i = 0; i < 50; ++i) send(std::string(i * 997, 'a') + std::to_string(task));
      return std::string(300000, 'r') + std::to_string(task);
    });
    REQUIRE(told.ends.size() == 7);
    for (std::size_t task = 0; task < 7; ++task) {
      REQUIRE(told.lines.at(task).size() == 50);
      for (int i = 0; i < 50; ++i) CHECK(told.lines.at(task)[i] == std::string(i * 997, 'a') + std::to_string(task));
      CHECK(told.ends.at(task).kind == ChildEnd::Kind::finished);
      CHECK(told.ends.at(task).result == std::string(300000, 'r') + std::to_string(task));
    }
  }
}

TEST_CASE("a child that dies never counts as finished") {
  const SupervisorLimits none;
  CHECK(end_of(none, [] { die_of(SIGABRT); }).how == "signal ABRT");
  CHECK(end_of(none, [] { die_of(SIGKILL); }).how == "signal KILL");
  CHECK(end_of(none, [] { die_of(SIGFPE); }).how == "signal FPE");
  CHECK(end_of(none, [] { _exit(0); }).how == "exit code 0");
  CHECK(end_of(none, [] { _exit(3); }).how == "exit code 3");
  CHECK(end_of(none, [] { die_of(SIGSEGV); }).kind == ChildEnd::Kind::died);
  CHECK(end_of(none, [] {}).kind == ChildEnd::Kind::finished);
}

TEST_CASE("what was told before the death is kept") {
  const Told told = run(2, {}, [](std::size_t, const Supervisor::Send& send) -> std::string {
    send("one");
    send("two");
    die_of(SIGABRT);
  });
  CHECK(told.lines.at(1) == std::vector<std::string>{"one", "two"});
  CHECK(told.ends.at(1).kind == ChildEnd::Kind::died);
}

TEST_CASE("the time limit ends a child that never would") {
  SupervisorLimits limits;
  limits.time = std::chrono::milliseconds(200);
  CHECK(end_of(limits, [] {
          for (;;) pause();
        }).kind == ChildEnd::Kind::time_limit);
  CHECK(end_of(limits, [] { _exit(1); }).kind == ChildEnd::Kind::died);
}

#if !defined(__SANITIZE_ADDRESS__)  // memory limits would end sanitizers, which need the address space
TEST_CASE("a child that tells more than the parent could hold is stopped, and what came before is kept") {
  SupervisorLimits limits;
  CHECK(limits.most_told() == 64u << 20);
  limits.memory = 100u << 20;
  CHECK(limits.most_told() == 10u << 20);
  for (const bool in_one_line : {false, true}) {
    const Told told = run(1, limits, [&](std::size_t, const Supervisor::Send& send) -> std::string {
      const std::string megabyte(1 << 20, 'a');
      if (in_one_line) {
        return std::string(12 << 20, 'a');
      }
      for (;;) send(megabyte);
    });
    CHECK(told.ends.at(0).kind == ChildEnd::Kind::too_much_told);
    if (!in_one_line) CHECK(told.lines.at(0).size() >= 10);
  }
  const Told told = run(1, limits, [](std::size_t, const Supervisor::Send&) { return std::string(9 << 20, 'a'); });
  CHECK(told.ends.at(0).kind == ChildEnd::Kind::finished);
}

TEST_CASE("the memory limit is recognised whoever allocates, and the peak stays below it") {
  constexpr std::size_t limit = 200u << 20;
  SupervisorLimits limits;
  limits.memory = limit;
  const auto fill = [](void* memory, std::size_t size) {
    for (std::size_t i = 0; i < size; i += 1024) static_cast<volatile char*>(memory)[i] = 1;
  };
  CHECK(end_of(limits, [&] {
          for (;;) fill(new char[1 << 16], 1 << 16);
        }).kind == ChildEnd::Kind::memory_limit);
  CHECK(end_of(limits, [&] { fill(new char[2 * limit], 1); }).kind == ChildEnd::Kind::memory_limit);
  CHECK(end_of(limits, [] {
          mpz_t n;
          mpz_init_set_ui(n, 3);
          for (;;) mpz_mul(n, n, n);
        }).kind == ChildEnd::Kind::memory_limit);
  CHECK(end_of(limits, [&] {
          for (;;) fill(flint_malloc(1 << 16), 1 << 16);
        }).kind == ChildEnd::Kind::memory_limit);
  rusage usage = {};
  getrusage(RUSAGE_CHILDREN, &usage);
  CHECK(static_cast<std::size_t>(usage.ru_maxrss) * 1024 < limit + limit / 5);
  CHECK(end_of(limits, [&] { fill(new char[100 << 20], 100 << 20); }).kind == ChildEnd::Kind::finished);
}
#endif
