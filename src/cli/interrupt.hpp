// SPDX-License-Identifier: GPL-3.0-or-later
// Ctrl-C and a polite request to end: noted, never acted on by the handler itself, so that reports are written all the same.
#pragma once

namespace cutproof {

/// From here on SIGINT, SIGTERM and SIGHUP are only noted, and writing to a closed pipe is an error instead of a death.
void note_interrupts();
/// True once one of them came.
bool interrupted();
/// Becomes readable when one comes; for `poll`.
int interrupt_descriptor();
/// In a child process: signals meant for the whole group are the parent's to handle.
void leave_interrupts_to_parent();

}  // namespace cutproof
