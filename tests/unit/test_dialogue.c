/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_dialogue.c - the questions of hobble condition under random answers, its choices, and that
 * what it calls decided stays so. The behaviour is the project's own (docs/condition.md). */
#include "bench.h"
#include "cli/condition.h"
#include "input/profile.h"
#include "random_case.h"

#include <glob.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

Suite *dialogue_suite(void);

START_TEST(choices_are_read)
{
    static const char zone[] = "unknown|none|tread|shoulder|sidewall|bead";
    static const struct {
        const char *words, *text;
        int place;
    } rows[] = {
        {zone, "0", 0},          {zone, "5", 5},
        {zone, "6", -1},         {zone, "01", 1},
        {zone, "-1", -1},        {zone, "99999999999999999999", -1},
        {zone, "no", 1},         {zone, "s", HB_MANY_CHOICES},
        {zone, "SH", 3},         {zone, "side wall", -1},
        {zone, "Don't know", 0}, {zone, "don\xe2\x80\x99t kn", 0},
        {zone, "un", 0},         {zone, "", -1},
        {zone, "beads", -1},     {"unknown|refused|none|in_writing", "In-Writing", 3},
        {"no|yes", "0", -1},     {"no|yes", "1", 0},
        {"no|yes", "y", 1},      {"no|yes", "don't know", -1},
        {"go|go on", "go", 0},   {"go|go on", "g", HB_MANY_CHOICES},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        ck_assert_msg(hb_choice_read(rows[i].words, rows[i].text) == rows[i].place,
                      "'%s' of %s is read as %d", rows[i].text, rows[i].words,
                      hb_choice_read(rows[i].words, rows[i].text));
}
END_TEST

/* ---- decided ------------------------------------------------------------------------------ */

static bool may_be_asked(const struct hobble_param *p)
{
    static const char *const others[] = {"marking",  "construction", "ran_flat",
                                         "repaired", "load_share",   "ambient"};
    for (size_t i = 0; i < sizeof others / sizeof *others; i++)
        if (strcmp(others[i], p->key) == 0)
            return true;
    return p->group == HOBBLE_BENCH && strcmp(p->key, "inspection_date") != 0;
}

/* Any value of a row, or none where it contradicts the rest. */
static void state(struct random_source *source, hobble_case *c, int row)
{
    static const char *const codes[] = {"2622", "1017", "0100", "529", "1024"};
    static const char *const markings[] = {"205/55 RF16 91V", "155/65 RF14 75T", "205/55 R16 91V"};
    const struct hobble_param *p = &hobble_param_table(NULL)[row];
    struct hobble_condition_answer a;
    hobble_case *trial = hobble_case_clone(c);
    char word[32];
    if (p->kind == HOBBLE_NUMBER) {
        const double value = random_between(source, p->min, p->min + 100.0);
        hobble_case_set_number(trial, row, p->unit == HOBBLE_UNIT_WHOLE ? (int)value % 3 : value,
                               "test", NULL);
    } else if (p->kind == HOBBLE_WORD) {
        hobble_param_word_at(p, 1 + random_below(source, 3), word, sizeof word);
        hobble_case_set_word(trial, row, word, "test", NULL);
    } else {
        hobble_case_set_text(trial, row,
                             strcmp(p->key, "marking") == 0 ? markings[random_below(source, 3)]
                                                            : codes[random_below(source, 5)],
                             "test", NULL);
    }
    if (hobble_condition_judge(trial, 1, &a, NULL) == HOBBLE_OK)
        hobble_case_assign(c, trial);
    hobble_case_free(trial);
}

/* A tyre of which a part is known, some of it by what a trip says. */
static hobble_case *partly_known(struct random_source *source)
{
    static const char *const passing[][2] = {{"leak", "5000"},  {"leak", "300"}, {"hole", "1"},
                                             {"people", "5"},   {"age", "10.4"}, {"run", "20"},
                                             {"pressure", "0"}, {"unseen", "1"}, {"rest", "600"}};
    size_t rows;
    const struct hobble_param *table = hobble_param_table(&rows);
    hobble_case *c = bench_make(random_below(source, 3) ? "self" : "plain", "members=20");
    const int left_out = 1 + random_below(source, 5);
    for (int i = 0; i < (int)rows; i++)
        if (may_be_asked(&table[i]) && random_below(source, 10) < left_out)
            hobble_case_forget(c, i);
    if (random_below(source, 2))
        hobble_case_forget(c, hobble_param_find("date_code"));
    if (random_below(source, 2))
        bench_set(c, "lowest_pressure", "150");
    for (int i = random_below(source, 3); i > 0; i--) {
        const char *const *fact = passing[random_below(source, sizeof passing / sizeof *passing)];
        bench_set(c, fact[0], fact[1]);
    }
    for (int i = random_below(source, 3); i > 0; i--) {
        const int row = random_below(source, (int)rows);
        if (may_be_asked(&table[row]))
            state(source, c, row);
    }
    return c;
}

/* Once decided, whatever else is stated leaves it scrap by a rule. */
START_TEST(decided_stays_decided)
{
    struct random_source source = {20260505};
    size_t rows;
    const struct hobble_param *table = hobble_param_table(&rows);
    int decided = 0, open = 0, stated = 0;
    const int wanted = random_count("HB_CONDITION_CASES", 150) * 4;
    while (decided < wanted) {
        struct hobble_condition_answer a = {.decided = false};
        hobble_case *c = partly_known(&source);
        if (hobble_condition_judge(c, 1, &a, NULL) == HOBBLE_OK) {
            decided += a.decided;
            open += !a.decided && a.basis == HOBBLE_BY_RULE && a.verdict == HOBBLE_SCRAP;
            NEED(!a.decided || (a.verdict == HOBBLE_SCRAP && a.basis == HOBBLE_BY_RULE),
                 "decided without a rule");
            NEED((a.matters_most >= 0) <= (a.basis == HOBBLE_BY_UNKNOWN), "matters by a rule");
        }
        for (int i = 0; a.decided && i < (int)rows; i++) {
            struct hobble_condition_answer then;
            if (!may_be_asked(&table[i]) || hobble_case_given(c, i))
                continue;
            state(&source, c, i);
            stated += hobble_case_given(c, i);
            bench_judge(c, &then);
            NEED(then.verdict == HOBBLE_SCRAP && then.basis == HOBBLE_BY_RULE,
                 "%s undoes what %s had decided", table[i].key, a.rule[0].id);
        }
        hobble_case_free(c);
    }
    ck_assert_int_gt(open, wanted / 10);
    ck_assert_int_gt(stated, wanted);
}
END_TEST

/* Scrap by a rule that a later fact does undo, and so not decided: each shows why it is not. */
START_TEST(what_passes_is_not_decided)
{
    static const char *const rows[][3] = {
        {"low_distance=3;low_speed=-;leak=100000", "low_speed", "50"},
        {"date_code=-;age=10.4", "date_code", "3614"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct hobble_condition_answer before, after;
        hobble_case *c = bench_make("self", rows[i][0]);
        bench_set(c, "members", "100");
        bench_judge(c, &before);
        bench_set(c, rows[i][1], rows[i][2]);
        bench_judge(c, &after);
        NEED(before.verdict == HOBBLE_SCRAP && before.basis == HOBBLE_BY_RULE, "%s: no rule",
             rows[i][0]);
        NEED(after.verdict == HOBBLE_DISMOUNT_AND_INSPECT, "%s: still %s", rows[i][0],
             after.rule[0].id);
        NEED(!before.decided, "%s: called decided", rows[i][0]);
        hobble_case_free(c);
    }
}
END_TEST

/* A way of millimetres is no drive that a model can be run over; the verdict is the one of the
 * rules. Source: arithmetic, the least part of a history is a centimetre. */
START_TEST(millimetres_are_no_drive)
{
    static const double way[] = {0.001, 4.0, 9.9, 10.1}; /* mm */
    for (size_t i = 0; i < sizeof way / sizeof *way; i++) {
        struct hobble_condition_answer judged;
        char set[BENCH_TEXT];
        snprintf(set, sizeof set, "members=100;low_speed=2;lowest_pressure=150;low_distance=%.9f",
                 way[i] / 1e6);
        hobble_case *c = bench_make("self", set);
        bench_judge(c, &judged);
        NEED(judged.drive.run == (way[i] > 10.0), "%g mm: %s", way[i],
             judged.drive.why_not ? judged.drive.why_not : "driven");
        hobble_case_free(c);
    }
}
END_TEST

/* ---- random answers ----------------------------------------------------------------------- */

enum { ANSWERS_SIZE = 4096, FILES_MOST = 40 };

/* Puts down a plausible answer, or any bytes; returns how many. */
static size_t answer(struct random_source *source, char *to)
{
    static const char *const plausible[] = {
        "205/55 RF16 91V", "self",    "yes", "no",   "1",    "2",          "0",    "",
        "150 kPa",         "2.1 bar", "5km", "80",   "2024", "don't know", "back", "?",
        "tread",           "new",     "go",  "none", "AB 1", "../ab.1",    "4 mm", "75%"};
    size_t n = 0;
    if (random_below(source, 5)) {
        const char *word = plausible[random_below(source, sizeof plausible / sizeof *plausible)];
        n = strlen(word);
        memcpy(to, word, n);
    } else {
        for (size_t bytes = (size_t)random_below(source, 30); n < bytes; n++)
            to[n] = (char)random_below(source, 256);
    }
    to[n++] = '\n';
    return n;
}

/* A name, of which there are few, then answers; the last may lack its end. */
static size_t answers(struct random_source *source, char to[ANSWERS_SIZE])
{
    static const char *const names[] = {"AB 1\n", "ab/1\n", "\xc3\x84 2\n", "\n", "7\n1\n"};
    const char *name = names[random_below(source, 5)];
    size_t n = strlen(name);
    memcpy(to, name, n);
    for (int i = random_below(source, 60); i > 0; i--)
        n += answer(source, to + n);
    return n - (size_t)random_below(source, 2);
}

/* What the cases of this folder hold. */
struct kept {
    char path[HB_KEPT_PATH], *bytes;
    size_t size;
};
struct folder {
    struct kept file[FILES_MOST];
    size_t count;
};

static char *contents(const char *path, size_t *size)
{
    FILE *f = fopen(path, "rb");
    NEED(f, "%s is gone", path);
    char *bytes = malloc(1 << 16);
    *size = fread(bytes, 1, 1 << 16, f);
    fclose(f);
    return bytes;
}

static void look_around(struct folder *folder)
{
    glob_t found;
    folder->count = 0;
    if (glob("case-*.cfg", 0, NULL, &found) == 0)
        for (size_t i = 0; i < found.gl_pathc && i < FILES_MOST; i++) {
            struct kept *k = &folder->file[folder->count++];
            snprintf(k->path, sizeof k->path, "%s", found.gl_pathv[i]);
            k->bytes = contents(k->path, &k->size);
        }
    globfree(&found);
}

/* Every case that was there still is, and only the one that was gone on with has changed. */
static void none_lost(struct folder *before, const char *path)
{
    for (size_t i = 0; i < before->count; i++) {
        struct kept *k = &before->file[i];
        size_t size;
        char *bytes = contents(k->path, &size);
        NEED((path && strcmp(path, k->path) == 0) ||
                 (size == k->size && memcmp(bytes, k->bytes, size) == 0),
             "%s was changed", k->path);
        free(bytes);
        free(k->bytes);
        if (before->count > FILES_MOST / 2)
            unlink(k->path);
    }
}

/* The file says what the dialogue ended with. */
static void kept_whole(const char *path, const hobble_case *c)
{
    size_t rows;
    const struct hobble_param *p = hobble_param_table(&rows);
    hobble_case *back = hobble_case_new();
    NEED(hb_profile_read_kind(path, HOBBLE_BENCH, back, NULL, NULL) == HOBBLE_OK,
         "%s cannot be read", path);
    for (int i = 0; i < (int)rows; i++) {
        if (p[i].group == HOBBLE_STUDY)
            continue;
        const double a = hobble_case_number(c, i), b = hobble_case_number(back, i);
        NEED(hobble_case_given(c, i) == hobble_case_given(back, i), "%s", p[i].key);
        NEED(!(a < b) && !(a > b), "%s", p[i].key);
        NEED(strcmp(hobble_case_text(c, i), hobble_case_text(back, i)) == 0, "%s", p[i].key);
    }
    hobble_case_free(back);
}

/* One dialogue; whether it came to a file, and whether it ended by itself. */
static void talk(char *text, size_t size, int *files, int *ended)
{
    static struct hobble_faults faults;
    struct hb_asking a = {.in = fmemopen(text, size, "rb"),
                          .out = fopen("said", "wb"),
                          .c = bench_make("self", "members=20"),
                          .threads = 1,
                          .today = "2026-03-31"};
    size_t rows;
    const struct hobble_param *p = hobble_param_table(&rows);
    static struct folder before;
    NEED(a.in && a.out, "no streams");
    for (int i = 0; i < (int)rows; i++) /* nothing but the number of members is known */
        if (p[i].group != HOBBLE_STUDY)
            hobble_case_forget(a.c, i);
    bench_set(a.c, "members", "20");
    memset(&faults, 0, sizeof faults);
    look_around(&before);
    enum hobble_status status = hb_kept_choose(&a, &faults);
    NEED(status == HOBBLE_OK, "choosing: %s", hobble_status_text(status));
    NEED(a.path || a.left, "no file, and not left");
    if (a.path && !a.left)
        status = hb_condition_ask(&a, &faults);
    NEED(status == HOBBLE_OK, "asking: %s", hobble_status_text(status));
    if (a.path)
        kept_whole(a.path, a.c);
    *files += a.path != NULL;
    *ended += a.answer.decided && !a.left;
    fclose(a.in);
    fclose(a.out);
    none_lost(&before, a.path);
    hb_asking_end(&a);
    hobble_case_free(a.c);
}

START_TEST(random_answers_lose_nothing)
{
    struct random_source source = {20260606};
    static char text[ANSWERS_SIZE];
    char folder[BENCH_TEXT], home[BENCH_TEXT];
    int files = 0, ended = 0;
    const int wanted = random_count("HB_DIALOGUES", 300);
    const char *top = getenv("TOP_BUILDDIR");
    ck_assert(getcwd(home, sizeof home) != NULL);
    snprintf(folder, sizeof folder, "%s/tests/scratch", top ? top : ".");
    mkdir(folder, 0777); /* may be there */
    snprintf(folder, sizeof folder, "%s/tests/scratch/dialogue.XXXXXX", top ? top : ".");
    ck_assert(mkdtemp(folder) != NULL && chdir(folder) == 0);
    for (int i = 0; i < wanted; i++)
        talk(text, answers(&source, text), &files, &ended);
    ck_assert_int_gt(files, wanted / 2);
    ck_assert_int_gt(ended, wanted / 20);
    ck_assert_int_eq(chdir(home), 0);
}
END_TEST

Suite *dialogue_suite(void)
{
    Suite *suite = suite_create("dialogue");
    TCase *tests = tcase_create("dialogue");

    tcase_add_checked_fixture(tests, bench_setup, bench_teardown);
    tcase_set_timeout(tests, 600);
    tcase_add_test(tests, choices_are_read);
    tcase_add_test(tests, decided_stays_decided);
    tcase_add_test(tests, what_passes_is_not_decided);
    tcase_add_test(tests, millimetres_are_no_drive);
    tcase_add_test(tests, random_answers_lose_nothing);
    suite_add_tcase(suite, tests);
    return suite;
}
