# SPDX-License-Identifier: GPL-3.0-or-later
# What pages hold as it is: their style, and the view in space, bundled from our modules and three.js. Both are put into the
# program by the assembler, which takes files of any size at once.
enable_language(ASM)
set(page_folder ${CMAKE_CURRENT_SOURCE_DIR}/report/page)
set(viewer_folder ${CMAKE_CURRENT_BINARY_DIR}/viewer)
set(page_assets ${page_folder}/page.css)

if(CUTPROOF_VIEWER)
  find_program(ESBUILD_PROGRAM esbuild)
  find_file(THREE_MODULE three/build/three.module.js PATHS /usr/share/nodejs)
  if(NOT ESBUILD_PROGRAM OR NOT THREE_MODULE)
    message(FATAL_ERROR "The view in pages is built with esbuild and three.js (on Debian: apt-get install esbuild "
      "libjs-three). Without them configure with -DCUTPROOF_VIEWER=OFF; pages then have no view in space.")
  endif()
  cmake_path(GET THREE_MODULE PARENT_PATH node_folder)
  cmake_path(APPEND node_folder ../.. OUTPUT_VARIABLE node_folder)
  cmake_path(NORMAL_PATH node_folder)
  file(GLOB viewer_modules CONFIGURE_DEPENDS ${page_folder}/viewer/*.js)
  add_custom_command(OUTPUT ${viewer_folder}/viewer.js
    COMMAND ${CMAKE_COMMAND} -E env NODE_PATH=${node_folder} ${ESBUILD_PROGRAM} ${page_folder}/viewer/main.js --bundle --minify
      --target=es2022 --format=iife --legal-comments=none --charset=ascii --log-level=warning
      --outfile=${viewer_folder}/viewer.js
    DEPENDS ${viewer_modules} ${THREE_MODULE} VERBATIM COMMENT "Bundling the view in space")
  list(APPEND page_assets ${viewer_folder}/viewer.js ${page_folder}/viewer/licence.txt)
endif()

target_sources(cutproof_report PRIVATE report/page/assets.S)
set_source_files_properties(report/page/assets.S PROPERTIES
  OBJECT_DEPENDS "${page_assets}" INCLUDE_DIRECTORIES "${page_folder};${viewer_folder}")
target_compile_definitions(cutproof_report PRIVATE CUTPROOF_VIEWER=$<BOOL:${CUTPROOF_VIEWER}>)
