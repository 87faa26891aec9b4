// SPDX-License-Identifier: GPL-3.0-or-later
// The handler writes one byte into a pipe, so that a wait that begins just after the signal ends, too.
#include "cli/interrupt.hpp"

#include <fcntl.h>
#include <signal.h>
#include <unistd.h>

#include <cerrno>

namespace cutproof {
namespace {

int pipe_ends[2] = {-1, -1};
volatile sig_atomic_t signal_came = 0;

void note(int) {
  const int saved = errno;
  signal_came = 1;
  [[maybe_unused]] const ssize_t written = write(pipe_ends[1], "!", 1);
  errno = saved;
}

constexpr int polite_signals[] = {SIGINT, SIGTERM, SIGHUP};

}  // namespace

void note_interrupts() {
  if (pipe2(pipe_ends, O_CLOEXEC | O_NONBLOCK) != 0) return;  // no descriptor left: signals keep ending the process
  struct sigaction action = {};
  action.sa_handler = note;
  sigemptyset(&action.sa_mask);
  for (const int each : polite_signals) {
    struct sigaction old = {};
    sigaction(each, nullptr, &old);
    if (old.sa_handler != SIG_IGN || each == SIGINT) sigaction(each, &action, nullptr);  // `nohup` stays in force
  }
  signal(SIGPIPE, SIG_IGN);
}

bool interrupted() {
  return signal_came != 0;
}

int interrupt_descriptor() {
  return pipe_ends[0];
}

void leave_interrupts_to_parent() {
  for (const int each : polite_signals) signal(each, SIG_IGN);
}

}  // namespace cutproof
