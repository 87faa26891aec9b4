// SPDX-License-Identifier: GPL-3.0-or-later
// The child's side of the supervisor: its limits, and the lines that it sends.
#pragma once

#include "cli/supervisor.hpp"

#include <sys/types.h>

namespace cutproof {

/// First bytes of the lines in the pipe.
constexpr char progress_mark = 'P', result_mark = 'R', memory_mark = 'M';

/// Does the task in this process, which a fork has just made, and ends it.
[[noreturn]] void run_child(int pipe, pid_t parent, std::size_t task, const Supervisor::Work& work,
                            const SupervisorLimits& limits);

}  // namespace cutproof
