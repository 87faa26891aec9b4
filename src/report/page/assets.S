// SPDX-License-Identifier: GPL-3.0-or-later
// Files as they are, between two names each. CUTPROOF_VIEWER says whether the view was built.
        .section .rodata, "a"

        .globl cutproof_page_style, cutproof_page_style_end
cutproof_page_style:
        .incbin "page.css"
cutproof_page_style_end:

#if CUTPROOF_VIEWER
        .globl cutproof_viewer_script, cutproof_viewer_script_end
cutproof_viewer_script:
        .incbin "viewer.js"
cutproof_viewer_script_end:

        .globl cutproof_viewer_licence, cutproof_viewer_licence_end
cutproof_viewer_licence:
        .incbin "viewer/licence.txt"
cutproof_viewer_licence_end:
#endif

// Without this section linkers make the program's stack executable.
        .section .note.GNU-stack, "", %progbits
