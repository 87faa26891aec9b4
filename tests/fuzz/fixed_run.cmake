# SPDX-License-Identifier: GPL-3.0-or-later
# A fuzzer's short run: fixed seed, fixed number of inputs, an empty corpus beside the seed folders.
file(REMOVE_RECURSE ${CORPUS})
file(MAKE_DIRECTORY ${CORPUS})
execute_process(COMMAND ${PROGRAM} -seed=1 -entropic=0 -max_len=6000 -runs=${RUNS} -timeout=60 -rss_limit_mb=3000
  -dict=${DICTIONARY} -print_final_stats=1 ${CORPUS} ${SEEDS} COMMAND_ERROR_IS_FATAL ANY)
