# SPDX-License-Identifier: GPL-3.0-or-later
# What pages hold as it is. The assembler puts it into the program, which takes files of any size at once.
enable_language(ASM)
set(page_folder ${CMAKE_CURRENT_SOURCE_DIR}/report/page)
set(page_assets ${page_folder}/page.css)

target_sources(cutproof_report PRIVATE report/page/assets.S)
set_source_files_properties(report/page/assets.S PROPERTIES
  OBJECT_DEPENDS "${page_assets}" INCLUDE_DIRECTORIES "${page_folder}")
