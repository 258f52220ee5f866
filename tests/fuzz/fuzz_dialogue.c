/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fuzz_dialogue.c - any bytes as the answers to hobble condition: it ends, and the file that the
 * case is kept in, if it came to one, says what the dialogue ended with. */
#include "cli/condition.h"
#include "fuzz.h"
#include "input/profile.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static void need(bool held)
{
    if (!held)
        abort();
}

static char folder[] = "dialogue.XXXXXX";

static void leave(void)
{
    if (chdir("..") == 0)
        rmdir(folder);
}

/* A folder of its own, gone into once. */
static void settle(void)
{
    static bool there;
    if (!there)
        need(mkdtemp(folder) != NULL && chdir(folder) == 0 && atexit(leave) == 0);
    there = true;
}

static void check_kept(const struct hb_asking *a)
{
    size_t rows;
    const struct hobble_param *p = hobble_param_table(&rows);
    hobble_case *back = hobble_case_new();
    need(back && hb_profile_read_kind(a->path, HOBBLE_BENCH, back, NULL, NULL) == HOBBLE_OK);
    for (int i = 0; i < (int)rows; i++) {
        const double was = hobble_case_number(a->c, i), is = hobble_case_number(back, i);
        need(p[i].group == HOBBLE_STUDY ||
             hobble_case_given(a->c, i) == hobble_case_given(back, i));
        need(p[i].group == HOBBLE_STUDY || (!(was < is) && !(was > is)));
        need(strcmp(hobble_case_text(a->c, i), hobble_case_text(back, i)) == 0);
    }
    hobble_case_free(back);
    unlink(a->path);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static struct hobble_faults faults;
    uint8_t *text = malloc(size + 1);
    need(text != NULL);
    memcpy(text, size > 0 ? data : (const uint8_t *)"", size);
    text[size] = '\n';
    settle();
    struct hb_asking a = {.in = fmemopen(text, size + 1, "rb"),
                          .out = fopen("/dev/null", "wb"),
                          .c = hobble_case_new(),
                          .threads = 1,
                          .today = "2026-03-31"};
    memset(&faults, 0, sizeof faults);
    need(a.in && a.out && a.c);
    hobble_case_set_number(a.c, hobble_param_find("members"), 20, "fuzz", NULL);
    need(hb_kept_choose(&a, &faults) == HOBBLE_OK && (a.path || a.left));
    if (a.path && !a.left)
        need(hb_condition_ask(&a, &faults) == HOBBLE_OK);
    if (a.path)
        check_kept(&a);
    fclose(a.in);
    fclose(a.out);
    hb_asking_end(&a);
    hobble_case_free(a.c);
    free(text);
    return 0;
}
