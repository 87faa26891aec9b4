// SPDX-License-Identifier: GPL-3.0-or-later
// Files as they are, between two names each.
        .section .rodata, "a"

        .globl cutproof_page_style, cutproof_page_style_end
cutproof_page_style:
        .incbin "page.css"
cutproof_page_style_end:

// Without this section linkers make the program's stack executable.
        .section .note.GNU-stack, "", %progbits
