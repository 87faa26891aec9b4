// SPDX-License-Identifier: GPL-3.0-or-later
// The parent's side: one loop that starts children, reads their pipes, and holds clock and interrupts.
#include "cli/supervisor.hpp"

#include "cli/child.hpp"
#include "cli/interrupt.hpp"
#include "number/errors.hpp"

#include <fcntl.h>
#include <poll.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <csignal>
#include <cstdio>
#include <cstring>
#include <list>
#include <vector>

namespace cutproof {
namespace {

using Clock = std::chrono::steady_clock;

struct Child {
  std::size_t task = 0;
  pid_t process = -1;
  int pipe = -1;
  Clock::time_point deadline = Clock::time_point::max();
  std::string unread;  // the beginning of a line
  std::string result;
  std::size_t told = 0;  // bytes of lines before the result
  bool has_result = false, out_of_memory = false, closed = false, told_too_much = false;
  std::optional<ChildEnd::Kind> killed_for;

  void kill_for(ChildEnd::Kind reason) {
    if (!killed_for) {
      killed_for = reason;
      kill(process, SIGKILL);
    }
  }
};

Child start(std::size_t task, const Supervisor::Work& work, const SupervisorLimits& limits) {
  int ends[2];
  if (pipe2(ends, O_CLOEXEC) != 0) throw ToolFault(std::string("no pipe: ") + std::strerror(errno));
  std::fflush(nullptr);
  const pid_t parent = getpid();
  Child child;
  child.task = task;
  child.process = fork();
  if (child.process == 0) {
    close(ends[0]);
    run_child(ends[1], parent, task, work, limits);
  }
  const int error = errno;
  close(ends[1]);
  if (child.process < 0) {
    close(ends[0]);
    throw ToolFault(std::string("no child process: ") + std::strerror(error));
  }
  child.pipe = ends[0];
  fcntl(child.pipe, F_SETFL, O_NONBLOCK);
  if (limits.time) child.deadline = Clock::now() + *limits.time;
  return child;
}

// Until nothing is there to be read, or more was told than may be.
void read_lines(Child* child, const std::function<void(std::size_t, std::string_view)>& on_line, std::size_t most_told) {
  char buffer[65536];
  for (;;) {
    const ssize_t count = read(child->pipe, buffer, sizeof buffer);
    if (count < 0 && errno == EINTR) continue;
    if (count < 0 && errno == EAGAIN) return;
    if (count <= 0) {
      child->closed = true;
      return;
    }
    if (child->told_too_much) continue;
    std::string_view rest(buffer, static_cast<std::size_t>(count));
    for (std::size_t end; (end = rest.find('\n')) != std::string_view::npos; rest.remove_prefix(end + 1)) {
      child->unread += rest.substr(0, end);
      const std::string_view line = child->unread;
      if (!line.empty() && line[0] == progress_mark) {
        child->told += line.size();
        on_line(child->task, line.substr(1));
      }
      if (!line.empty() && line[0] == memory_mark) child->out_of_memory = true;
      if (!line.empty() && line[0] == result_mark) {
        child->result = line.substr(1);
        child->has_result = true;
      }
      child->unread.clear();
    }
    child->unread += rest;
    if (std::max(child->told, child->unread.size()) > most_told) {
      child->told_too_much = true;
      child->kill_for(ChildEnd::Kind::too_much_told);
      child->unread.clear();
      child->unread.shrink_to_fit();
    }
  }
}

ChildEnd end_of(Child* child) {
  close(child->pipe);
  int status = 0;
  while (waitpid(child->process, &status, 0) < 0 && errno == EINTR) continue;
  ChildEnd end;
  if (child->has_result && WIFEXITED(status) && WEXITSTATUS(status) == 0) {
    end.kind = ChildEnd::Kind::finished;
    end.result = std::move(child->result);
  } else if (child->killed_for) {
    end.kind = *child->killed_for;
  } else if (child->out_of_memory) {
    end.kind = ChildEnd::Kind::memory_limit;
  } else if (WIFSIGNALED(status)) {
    const char* name = sigabbrev_np(WTERMSIG(status));
    end.how = std::string("signal ") + (name != nullptr ? name : std::to_string(WTERMSIG(status)));
  } else {
    end.how = "exit code " + std::to_string(WEXITSTATUS(status));
  }
  return end;
}

int wait_time(const std::list<Child>& children) {
  Clock::time_point next = Clock::now() + std::chrono::milliseconds(100);
  for (const Child& child : children) {
    if (!child.killed_for) next = std::min(next, child.deadline);
  }
  const auto wait = std::chrono::ceil<std::chrono::milliseconds>(next - Clock::now());
  return static_cast<int>(std::clamp<long long>(wait.count(), 0, 100));
}

}  // namespace

std::size_t SupervisorLimits::most_told() const {
  constexpr std::size_t most = 64u << 20;  // what takes longer to write than a second or two
  return memory ? std::min(*memory / 10, most) : most;
}

void Supervisor::run(std::size_t count, const Work& work) {
  std::list<Child> children;
  std::size_t next = 0;
  while (next < count || !children.empty()) {
    while (next < count && interrupted()) {
      ChildEnd end;
      end.kind = ChildEnd::Kind::interrupted;
      end.started = false;
      on_end(next++, end);
    }
    while (next < count && children.size() < static_cast<std::size_t>(std::max(limits_.jobs, 1))) {
      try {
        children.push_back(start(next, work, limits_));
      } catch (const ToolFault& fault) {
        ChildEnd end;
        end.how = fault.what();
        on_end(next, end);
      }
      ++next;
    }
    std::vector<pollfd> descriptors;
    for (const Child& child : children) descriptors.push_back({child.pipe, POLLIN, 0});
    if (!interrupted()) descriptors.push_back({interrupt_descriptor(), POLLIN, 0});
    poll(descriptors.data(), descriptors.size(), wait_time(children));

    for (auto child = children.begin(); child != children.end();) {
      read_lines(&*child, on_line, limits_.most_told());
      if (child->closed) {
        const ChildEnd end = end_of(&*child);
        on_end(child->task, end);
        child = children.erase(child);
        continue;
      }
      if (interrupted()) child->kill_for(ChildEnd::Kind::interrupted);
      if (Clock::now() >= child->deadline) child->kill_for(ChildEnd::Kind::time_limit);
      ++child;
    }
    if (on_tick) on_tick();
  }
}

}  // namespace cutproof
