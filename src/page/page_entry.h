/* SPDX-License-Identifier: GPL-3.0-or-later */
/* page_entry.h - what the parts of the page's module share. wasm32 only. */
#ifndef HB_PAGE_PAGE_ENTRY_H
#define HB_PAGE_PAGE_ENTRY_H

#include "advice/ensemble.h"

/* Declares and begins a function that the page's script can call. */
#define HB_PAGE_EXPORT(type, name, ...)                                                            \
    __attribute__((export_name(#name))) type name(__VA_ARGS__);                                    \
    type name(__VA_ARGS__)

enum { HB_PAGE_MEMBERS_MAX = 2000 };

/* What stands after the last question. answer: NULL when there is none. */
struct hb_page_view {
    const struct hobble_answer *answer;
    const struct hb_settings *settings;
    const struct hb_question *question;
    const struct hb_ensemble *ensemble;
    const struct hobble_faults *faults;
    char *text; /* to and from the script */
    size_t text_size;
    bool us;
    bool quick; /* a partial answer: only the drives that the advice rests on */
    bool asked; /* the range as asked is there */
};
struct hb_page_view hb_page_look(void);

#endif
