// SPDX-License-Identifier: GPL-3.0-or-later
// The memory limit is the kernel's RLIMIT_DATA: an allocation beyond it fails at once, so the peak is exact. C++, GMP and
// FLINT would each die of that in a way of their own; all three are led to the same function, which tells the parent why.
#include "cli/child.hpp"

#include "cli/interrupt.hpp"
#include "number/flint.hpp"

#include <gmp.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <csignal>
#include <cstdlib>
#include <exception>
#include <new>

namespace cutproof {
namespace {

int pipe_to_parent = -1;

void write_all(std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t written = write(pipe_to_parent, bytes.data(), bytes.size());
    if (written < 0 && errno == EINTR) continue;
    if (written <= 0) _exit(1);  // no parent reads any more
    bytes.remove_prefix(static_cast<std::size_t>(written));
  }
}

void write_line(char mark, std::string_view line) {
  write_all({&mark, 1});
  write_all(line);
  write_all("\n");
}

[[noreturn]] void out_of_memory() {
  static constexpr char note[] = {'\n', memory_mark, '\n'};
  write_all(std::string_view(note, sizeof note));
  _exit(1);
}

void* checked(void* memory) {
  if (memory == nullptr) out_of_memory();
  return memory;
}
void* allocate(std::size_t size) {
  return checked(std::malloc(std::max<std::size_t>(size, 1)));
}
void* allocate_zeros(std::size_t count, std::size_t size) {
  return checked(std::calloc(std::max<std::size_t>(count, 1), std::max<std::size_t>(size, 1)));
}
void* reallocate(void* old, std::size_t size) {
  return checked(std::realloc(old, std::max<std::size_t>(size, 1)));
}
void* reallocate_known(void* old, std::size_t, std::size_t size) {
  return reallocate(old, size);
}
void release(void* memory) {
  std::free(memory);
}
void release_known(void* memory, std::size_t) {
  std::free(memory);
}

void limit_resource(decltype(RLIMIT_DATA) resource, rlim_t bytes) {
  rlimit limit = {};
  if (getrlimit(resource, &limit) != 0) return;
  limit.rlim_cur = limit.rlim_max == RLIM_INFINITY ? bytes : std::min(bytes, limit.rlim_max);
  setrlimit(resource, &limit);
}

void hold_limits(const SupervisorLimits& limits) {
  // Room for deep recursion, well inside the gap that the kernel leaves below a main thread's stack.
  rlim_t stack = 64u << 20;
  if (limits.memory) {
    stack = std::clamp<rlim_t>(*limits.memory / 10, 4u << 20, stack);
    limit_resource(RLIMIT_DATA, *limits.memory);
    std::set_new_handler(out_of_memory);
    mp_set_memory_functions(allocate, reallocate_known, release_known);
    __flint_set_memory_functions(allocate, allocate_zeros, reallocate, release);
  }
  limit_resource(RLIMIT_STACK, stack);
}

}  // namespace

void run_child(int pipe, pid_t parent, std::size_t task, const Supervisor::Work& work, const SupervisorLimits& limits) {
  pipe_to_parent = pipe;
  leave_interrupts_to_parent();
  prctl(PR_SET_PDEATHSIG, SIGKILL);
  if (getppid() != parent) _exit(1);
  hold_limits(limits);
  try {
    write_line(result_mark, work(task, [](std::string_view line) { write_line(progress_mark, line); }));
  } catch (const std::bad_alloc&) {
    out_of_memory();
  }
  _exit(0);  // no destructors: nothing may go wrong after the result was sent
}

}  // namespace cutproof
