/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_words.c - the small parts that every report is put together from: lines of a screen, faults,
 * how many tyres to ask for, a text that is written whole or not at all. */
#include "hobble.h"
#include "random_case.h"
#include "report/describe/few.h"
#include "report/describe/screen.h"
#include "report/describe/words.h"
#include "report/out.h"

#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

Suite *words_suite(void);

/* ---- lines of a screen ----------------------------------------------------------------------- */

/* East Asian wide characters take two columns: Unicode Standard Annex #11. What may be wide counts
 * as wide, so that a line is never too long. */
START_TEST(counted)
{
    static const struct {
        const char *text;
        int columns;
    } rows[] = {{"", 0},  {"tyre", 4}, {"25 °C", 5}, {"Ångström", 8},
                {"ࠀ", 1}, {"轮胎", 4}, {"a轮b", 4},  {"\xe0\xa0\x80\xe1\x80\x80", 3}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        ck_assert_int_eq(hb_screen_columns(rows[i].text), rows[i].columns);
}
END_TEST

enum { TEXT_MOST = 340 };

/* Words of all lengths, some longer than a line, some of wide characters. */
static void random_text(struct random_source *source, char text[TEXT_MOST])
{
    size_t used = 0;
    while (used < TEXT_MOST - 64) {
        const bool wide = random_below(source, 8) == 0;
        const int longest = random_below(source, 12) == 0 ? 60 : 11;
        for (int left = 1 + random_below(source, longest); left > 0; left -= wide ? 3 : 1) {
            memcpy(text + used, wide ? "轮" : "x", wide ? 3 : 1);
            used += wide ? 3 : 1;
        }
        text[used++] = ' ';
    }
    text[used - 1] = '\0';
}

/* Columns of what begins a line and did not fit the one before: a word, or the next character of
 * one that is longer than a line. */
static int beginning(const char *text, bool within)
{
    char word[TEXT_MOST];
    snprintf(word, sizeof word, "%.*s", (int)strcspn(text, " "), text);
    return within ? ((unsigned char)*text > 0xe0 ? 2 : 1) : 1 + hb_screen_columns(word);
}

/* No line is wider than the screen, nothing is lost, and a line is not ended before it need be. */
START_TEST(wrapped)
{
    struct random_source source = {20261127};
    for (int i = 0; i < 400; i++) {
        struct hb_screen s = {.width = HB_SCREEN_NARROWEST + random_below(&source, 41)};
        char text[TEXT_MOST];
        random_text(&source, text);
        hb_screen_add(&s, text);
        ck_assert_int_eq(hb_screen_needs(&s, text), s.count);
        const char *left = text;
        for (int k = 0; k < s.count; k++) {
            const char *line = s.line[k];
            ck_assert_int_le(hb_screen_columns(line), s.width);
            if (k > 0) {
                ck_assert_int_eq((int)strspn(line, " "), 2);
                ck_assert_int_gt(
                    hb_screen_columns(s.line[k - 1]) + beginning(left, left[-1] != ' '), s.width);
                line += 2;
            }
            ck_assert_int_eq(strncmp(left, line, strlen(line)), 0);
            left += strlen(line);
            left += strspn(left, " ");
        }
        ck_assert_str_eq(left, "");
    }
}
END_TEST

/* A line that is cut shows as much as fits with its three dots, and is whole where it fits. */
START_TEST(cut)
{
    struct random_source source = {20261127};
    for (int i = 0; i < 400; i++) {
        struct hb_screen s = {.width = HB_SCREEN_NARROWEST + random_below(&source, 41)};
        char text[TEXT_MOST];
        random_text(&source, text);
        for (size_t end = (size_t)s.width - 3; end < (size_t)s.width + 3; end++)
            if (text[end] == ' ')
                text[end] = '\0'; /* about as long as the line */
        hb_screen_add_cut(&s, text);
        ck_assert_int_eq(s.count, 1);
        const char *line = s.line[0];
        if (hb_screen_columns(text) <= s.width) {
            ck_assert_str_eq(line, text);
            continue;
        }
        const size_t kept = strlen(line) - 3;
        ck_assert_str_eq(line + kept, "...");
        ck_assert_int_eq(strncmp(line, text, kept), 0);
        ck_assert_int_le(hb_screen_columns(line), s.width);
        const int next = (unsigned char)text[kept] > 0xe0 ? 2 : 1;
        ck_assert_int_gt(hb_screen_columns(line) + next, s.width);
    }
}
END_TEST

/* Lines beyond the room are counted as not there, and what is appended fits line and room. */
START_TEST(room)
{
    struct hb_screen s = {.width = 40};
    for (int i = 0; i < HB_SCREEN_ROOM + 3; i++)
        i % 2 == 0 ? hb_screen_add(&s, "a") : hb_screen_add_cut(&s, "b");
    ck_assert_int_eq(s.count, HB_SCREEN_ROOM);
    char text[41] = "123456789 123456789 123456789 123456789";
    ck_assert(!hb_screen_append(&s, text, sizeof text, "12"));
    ck_assert_int_eq((int)strlen(text), 39);
    ck_assert(!hb_screen_append(&s, text, 40, "1"));
    ck_assert(hb_screen_append(&s, text, 41, "1"));
    ck_assert_str_eq(text, "123456789 123456789 123456789 1234567891");
    char roomy[80] = "123456789 123456789 123456789 123456789 ";
    ck_assert(!hb_screen_append(&s, roomy, sizeof roomy, "1"));
}
END_TEST

/* ---- sentences ------------------------------------------------------------------------------- */

/* Every word once, in its order; no line beyond 78 columns unless one word is. */
START_TEST(indented)
{
    struct random_source source = {20261127};
    for (int i = 0; i < 200; i++) {
        char text[TEXT_MOST], *out = NULL, *words = text, *lines;
        size_t size;
        random_text(&source, text);
        for (char *p = text; *p; p++)
            *p = *p == ' ' ? ' ' : 'x'; /* it counts bytes */
        const int indent = random_below(&source, 7);
        const bool dash = indent == 5; /* as wide as the indent */
        FILE *f = open_memstream(&out, &size);
        hb_print_wrapped(f, dash ? "    -" : "", indent, text);
        fclose(f);
        int before = 0;
        for (char *line = strtok_r(out, "\n", &lines); line; line = strtok_r(NULL, "\n", &lines)) {
            int columns = (int)strlen(line);
            ck_assert(columns <= 78 || !strchr(line + indent, ' '));
            ck_assert(before == 0 || before + 1 + (int)strcspn(line + indent, " ") > 78);
            if (line != out || !dash)
                ck_assert_int_eq((int)strspn(line, " "), indent);
            before = columns;
            line += indent;
            ck_assert_int_eq(strncmp(words, line, strlen(line)), 0);
            words += strlen(line);
            words += *words == ' ';
        }
        ck_assert_str_eq(words, "");
        free(out);
    }
}
END_TEST

/* Layout of an error, its parts there or not: DEVELOPERS.md, what, where, given, allowed. */
START_TEST(faults)
{
    static const struct {
        struct hobble_fault fault;
        const char *text;
    } rows[] = {
        {{.status = HOBBLE_E_WRITE}, "hobble: cannot be written\n"},
        {{.status = HOBBLE_E_WRITE, .file = "a.cfg"}, "hobble: a.cfg: cannot be written\n"},
        {{.status = HOBBLE_E_WRITE, .file = "a.cfg", .line = 3},
         "hobble: a.cfg:3: cannot be written\n"},
        {{.status = HOBBLE_E_WRITE, .line = 3}, "hobble: 3: cannot be written\n"},
        {{.status = HOBBLE_E_WRITE, .key = "age"}, "hobble: age: cannot be written\n"},
        {{.status = HOBBLE_E_WRITE, .file = "a.cfg", .line = 3, .key = "age"},
         "hobble: a.cfg:3: age: cannot be written\n"},
        {{.status = HOBBLE_E_WRITE, .file = "--ran-flat", .key = "ran_flat"},
         "hobble: --ran-flat: cannot be written\n"},
        {{.status = HOBBLE_E_WRITE, .file = "--load", .key = "load_share"},
         "hobble: --load: load_share: cannot be written\n"},
        {{.status = HOBBLE_E_WRITE, .file = "--load-share", .key = "load"},
         "hobble: --load-share: load: cannot be written\n"},
        {{.status = HOBBLE_E_WRITE, .file = "--set", .key = "age"},
         "hobble: --set: age: cannot be written\n"},
        {{.status = HOBBLE_E_WRITE, .file = "age", .key = "age"},
         "hobble: age: age: cannot be written\n"},
        {{.status = HOBBLE_E_WRITE, .given = "x", .column = 1, .allowed = "y", .meant = "z"},
         "hobble: cannot be written; given 'x', character 1; allowed: y; did you mean z?\n"},
        {{.status = HOBBLE_E_WRITE, .allowed = "y"}, "hobble: cannot be written; allowed: y\n"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        static struct hobble_faults all;
        char *out = NULL;
        size_t size;
        memset(&all, 0, sizeof all);
        hobble_faults_add(&all, &rows[i].fault);
        FILE *f = open_memstream(&out, &size);
        hb_print_faults(f, &all);
        fclose(f);
        ck_assert_str_eq(out, rows[i].text);
        free(out);
    }
}
END_TEST

/* Those that were kept are all told, and of the others how many. */
START_TEST(many_faults)
{
    static struct hobble_faults all;
    const struct hobble_fault one = {.status = HOBBLE_E_WRITE};
    for (int n = 1; n <= HOBBLE_FAULTS_KEPT + 2; n++) {
        char *out = NULL, more[40] = "";
        size_t size;
        int lines = 0;
        hobble_faults_add(&all, &one);
        FILE *f = open_memstream(&out, &size);
        hb_print_faults(f, &all);
        fclose(f);
        for (const char *p = out; *p; p++)
            lines += *p == '\n';
        if (n > HOBBLE_FAULTS_KEPT)
            snprintf(more, sizeof more, "and %d more\n", n - HOBBLE_FAULTS_KEPT);
        ck_assert_int_eq(lines, n > HOBBLE_FAULTS_KEPT ? HOBBLE_FAULTS_KEPT + 1 : n);
        ck_assert((strstr(out, " more\n") != NULL) == (n > HOBBLE_FAULTS_KEPT));
        ck_assert(strstr(out, more));
        free(out);
    }
}
END_TEST

/* ---- how many tyres, and a text that is whole -------------------------------------------------
 */

/* With as many as are named, the share that counted before gives enough, with at least the step of
 * fifty to spare and no more than two of them: another sample's share is another. Common practice,
 * no source. Where none counted, a half is taken. */
START_TEST(enough)
{
    for (int members = 1; members < 1200; members += 7)
        for (int some = 0; some <= members; some += 3) {
            const int named = hb_few_members(members, some);
            const double share = some > 0 ? (double)some / members : 0.5;
            const double spare = named - HOBBLE_TYRES_ENOUGH / share;
            ck_assert_int_eq(named % 50, 0);
            ck_assert_msg(spare > 50.0 - 1e-6 && spare < 100.0, "%d of %d: %d", some, members,
                          named);
        }
}
END_TEST

/* A text that could not be gathered whole is not written: what the stream took, it could not keep,
 * and says so at once or when it is closed. */
START_TEST(not_whole)
{
    char name[] = "words-XXXXXX";
    const int fd = mkstemp(name);
    ck_assert_int_ge(fd, 0);
    close(fd);
    unlink(name);
    for (int at_once = 0; at_once < 2; at_once++) {
        struct hb_out out = {.stream = fopen("/dev/full", "w"), .text = strdup("half"), .size = 4};
        ck_assert(out.stream && out.text);
        if (at_once)
            setvbuf(out.stream, NULL, _IONBF, 0);
        fputs("half", out.stream);
        ck_assert((ferror(out.stream) != 0) == at_once);
        ck_assert_int_eq(hb_out_close(&out, name), HOBBLE_E_MEMORY);
        ck_assert_int_ne(access(name, F_OK), 0);
        ck_assert(!out.stream && !out.text);
    }
}
END_TEST

Suite *words_suite(void)
{
    Suite *suite = suite_create("words");
    TCase *all = tcase_create("words");
    tcase_add_test(all, counted);
    tcase_add_test(all, wrapped);
    tcase_add_test(all, cut);
    tcase_add_test(all, room);
    tcase_add_test(all, indented);
    tcase_add_test(all, faults);
    tcase_add_test(all, many_faults);
    tcase_add_test(all, enough);
    tcase_add_test(all, not_whole);
    suite_add_tcase(suite, all);
    return suite;
}
