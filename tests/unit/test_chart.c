/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_chart.c - pictures: whole files of the right kind or none, words kept as words, and nothing
 * of a profile's text run as a command. Stand-ins named gnuplot play the ways a child can fail. */
#include "report/picture/charts.h"
#include "report/picture/gnuplot.h"

#include <check.h>
#include <dirent.h>
#include <locale.h>
#include <math.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

Suite *chart_suite(void);

enum { ROOM = 1024 };

/* An empty folder of its own for each test, under tests/scratch of the build tree. */
static void scratch(char dir[ROOM])
{
    static const char *const steps[] = {"/tests", "/scratch", "/chart.XXXXXX"};
    const char *top = getenv("TOP_BUILDDIR");
    size_t length = strlen(top ? top : ".");
    ck_assert_uint_lt(length, ROOM / 2);
    memcpy(dir, top ? top : ".", length + 1);
    for (size_t i = 0; i < 3; i++) {
        memcpy(dir + length, steps[i], strlen(steps[i]) + 1);
        length += strlen(steps[i]);
        if (i < 2)
            mkdir(dir, 0777); /* may be there already */
    }
    ck_assert_msg(mkdtemp(dir) != NULL, "cannot make %s", dir);
}

static const char *in(const char *dir, const char *name)
{
    static char path[2 * ROOM];
    snprintf(path, sizeof path, "%s/%s", dir, name);
    return path;
}

static int files_in(const char *dir)
{
    int n = 0;
    DIR *d = opendir(dir);
    ck_assert_ptr_nonnull(d);
    for (struct dirent *e = readdir(d); e; e = readdir(d))
        n += e->d_name[0] != '.';
    closedir(d);
    return n;
}

static void write_file(const char *path, const char *text, mode_t mode)
{
    FILE *f = fopen(path, "wb");
    ck_assert_ptr_nonnull(f);
    fputs(text, f);
    ck_assert_int_eq(fclose(f), 0);
    ck_assert_int_eq(chmod(path, mode), 0);
}

/* The whole file; free it. A NUL is put after it. */
static char *read_file(const char *path, size_t *size)
{
    FILE *f = fopen(path, "rb");
    ck_assert_msg(f != NULL, "no file %s", path);
    char *text = calloc(1, 4 << 20);
    ck_assert_ptr_nonnull(text);
    *size = fread(text, 1, (4 << 20) - 1, f);
    fclose(f);
    return text;
}

/* Invented numbers in a plausible order; nothing here is checked against the model. */
static void invent(struct hobble_answer *a, struct hobble_trace_point t[HOBBLE_TRACE_POINTS])
{
    *a = (struct hobble_answer){.verdict = HOBBLE_GO,
                                .advised_speed = 80 / 3.6,
                                .advised_distance = 55.95e3,
                                .cap = 80e3,
                                .rule_distance = 80e3,
                                .example = true,
                                .load = 4523,
                                .load_share = 0.75,
                                .ambient = 298.15,
                                .run_unseen = 16e3,
                                .limit = 453.15,
                                .to = (double)NAN};
    ck_assert_int_eq(hobble_marking_parse("205/55 RF16 91V", &a->marking, NULL), HOBBLE_OK);
    for (int i = 0; i < HOBBLE_TRACE_POINTS; i++) {
        const double s = i / (HOBBLE_TRACE_POINTS - 1.0);
        t[i] = (struct hobble_trace_point){.distance = 100e3 * s,
                                           .time = 4500 * s,
                                           .wall5 = 370 + 5 * s,
                                           .wall50 = 395 + 6 * s,
                                           .wall95 = 420 + 9 * s,
                                           .life5 = 0.1 * s,
                                           .life50 = 0.05 + s / 2,
                                           .life95 = fmin(1.0, s),
                                           .alive = 1 - 0.2 * s};
    }
}

static enum hobble_status draw_named(const char *path, const char *name, bool us)
{
    struct hobble_answer a;
    struct hobble_trace_point t[HOBBLE_TRACE_POINTS];
    hobble_case *c = hobble_case_new();
    ck_assert_ptr_nonnull(c);
    invent(&a, t);
    if (name) {
        a.example = false;
        a.example_load = true;
        a.to = 70e3;
        const int row = hobble_param_find("tyre_name");
        ck_assert_int_eq(hobble_case_set_text(c, row, name, "test", NULL), HOBBLE_OK);
    }
    const enum hobble_status status = hb_chart_range(path, c, &a, t, us);
    hobble_case_free(c);
    return status;
}

static enum hobble_status draw(const char *path)
{
    return draw_named(path, NULL, false);
}

static bool begins(const char *text, size_t size, const char *head, size_t length)
{
    return size >= length && memcmp(text, head, length) == 0;
}

/* Signatures: PNG (2nd edition), 5.2 and 11.2.5; ISO 32000-1, 7.5.2 and 7.5.5; XML 1.0, 2.8. */
START_TEST(kinds)
{
    static const struct {
        const char *name, *head;
        size_t length;
    } rows[] = {{"a.svg", "<?xml", 5},
                {"a.png", "\x89PNG\r\n\x1A\n", 8},
                {"a.PNG", "\x89PNG\r\n\x1A\n", 8},
                {"a b 'c' \"d\" $(e) `f`.pdf", "%PDF-", 5}};
    char dir[ROOM];
    size_t size;
    scratch(dir);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ck_assert_int_eq(draw(in(dir, rows[i].name)), HOBBLE_OK);
        char *text = read_file(in(dir, rows[i].name), &size);
        ck_assert(begins(text, size, rows[i].head, rows[i].length));
        ck_assert_uint_gt(size, 5000);
        free(text);
    }
    ck_assert_int_eq(files_in(dir), sizeof rows / sizeof rows[0]);
}
END_TEST

/* Words: product.md's first line of an answer on built-in values; the rest is layout. */
START_TEST(words_stay_words)
{
    static const char *const si[] = {
        "EXAMPLE, not your tyre",  "GO: at most 55 km, at most 80 km/h",
        "advised: 55 km",          "the rule\u2019s 80 km, with 16 km driven before",
        "wall limit, 180 \u00B0C", "distance from now, km",
        "25 \u00B0C outside"};
    /* 80 km/h and 55.95 km in miles of 1609.344 m (NIST SP 811, appendix B), rounded down; 180 C is
     * 356 F. */
    static const char *const us[] = {"GO: at most 34 mi, at most 49 mph",
                                     "wall limit, 356 \u00B0F",
                                     "distance from now, mi",
                                     "destination: 43 mi",
                                     "EXAMPLE, not your load",
                                     "Marsh Reed"};
    char dir[ROOM];
    size_t size;
    scratch(dir);
    ck_assert_int_eq(draw(in(dir, "si.svg")), HOBBLE_OK);
    char *text = read_file(in(dir, "si.svg"), &size);
    for (size_t i = 0; i < sizeof si / sizeof si[0]; i++)
        ck_assert_msg(strstr(text, si[i]) != NULL, "'%s' is not in the picture", si[i]);
    free(text);
    ck_assert_int_eq(draw_named(in(dir, "us.svg"), "Marsh Reed", true), HOBBLE_OK);
    text = read_file(in(dir, "us.svg"), &size);
    for (size_t i = 0; i < sizeof us / sizeof us[0]; i++)
        ck_assert_msg(strstr(text, us[i]) != NULL, "'%s' is not in the picture", us[i]);
    ck_assert_ptr_null(strstr(text, "not your tyre"));
    free(text);
}
END_TEST

START_TEST(endings)
{
    static const char *const bad[] = {"a",   "a.jpg", "a.svgz", "a.svg ",
                                      "svg", ".png",  "a.pdf/", ""};
    char dir[ROOM];
    scratch(dir);
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        ck_assert(!hb_gnuplot_draws(bad[i]));
        ck_assert_int_eq(draw(bad[i]), HOBBLE_E_SYNTAX);
    }
    ck_assert(hb_gnuplot_draws("a.Svg"));
    struct hb_gnuplot g;
    ck_assert_int_eq(hb_gnuplot_open(&g, "a.svg", 99, 500), HOBBLE_E_RANGE);
    ck_assert_int_eq(hb_gnuplot_open(&g, "a.svg", 500, 4001), HOBBLE_E_RANGE);
    ck_assert_int_eq(draw(in(dir, "none/a.svg")), HOBBLE_E_WRITE);
    ck_assert_int_eq(files_in(dir), 0);
}
END_TEST

/* Root may write anywhere, so the test steps down to an unused user for the while. */
START_TEST(read_only_folder)
{
    char dir[ROOM];
    scratch(dir);
    ck_assert_int_eq(chmod(dir, 0555), 0);
    const bool root = geteuid() == 0;
    ck_assert(!root || seteuid(65534) == 0);
    const enum hobble_status status = draw(in(dir, "a.svg"));
    ck_assert(!root || seteuid(0) == 0);
    ck_assert_int_eq(status, HOBBLE_E_WRITE);
    ck_assert_int_eq(files_in(dir), 0);
    ck_assert_int_eq(chmod(dir, 0755), 0);
}
END_TEST

/* Draws over a file that is there, with PATH holding only the folder dir/bin. */
static void draw_and_lose(const char *dir, const char *name, enum hobble_status expected)
{
    char bin[ROOM + 8];
    size_t size;
    write_file(in(dir, name), "old", 0644);
    const int before = files_in(dir);
    char *path = getenv("PATH") ? strdup(getenv("PATH")) : NULL;
    snprintf(bin, sizeof bin, "%s/bin", dir);
    setenv("PATH", bin, 1);
    const enum hobble_status status = draw(in(dir, name));
    setenv("PATH", path ? path : "", 1);
    free(path);
    ck_assert_int_eq(status, expected);
    char *text = read_file(in(dir, name), &size);
    ck_assert_str_eq(text, "old");
    free(text);
    ck_assert_int_eq(files_in(dir), before);
}

START_TEST(no_gnuplot)
{
    char dir[ROOM];
    scratch(dir);
    ck_assert_int_eq(mkdir(in(dir, "bin"), 0777), 0);
    draw_and_lose(dir, "a.svg", HOBBLE_E_NO_INPUT);
    write_file(in(dir, "bin/gnuplot"), "#!/bin/sh\nexit 0\n", 0644); /* not executable */
    draw_and_lose(dir, "a.png", HOBBLE_E_NO_INPUT);
    write_file(in(dir, "bin/gnuplot"), "#!/no/such/interpreter\n", 0755);
    draw_and_lose(dir, "a.pdf", HOBBLE_E_NO_INPUT);
}
END_TEST

/* Ways to fail: an exit status, a signal, nothing written, the wrong kind, half a file, a head
 * without an end. Each child reads nothing of its input, which must not end us by SIGPIPE. */
START_TEST(old_file_is_kept)
{
    static const char *const ways[] = {
        "exit 1",
        "kill -9 $$",
        "exit 0",
        "printf '%%PDF-1.5 and so on, much longer than the smallest file there can be %%%%EOF'",
        "printf '<?xml version=\"1.0\"?>\\n<svg> much longer than the smallest file </sv'",
        "printf '<?xml version=\"1.0\"?>\\n<svg> much longer than the smallest </svg> file'",
        "printf 'x<?xml version=\"1.0\"?>\\n<svg> much longer than the smallest file </svg>'",
        "printf '<?xml version=\"1.0\"?>\\n<svg> much longer than the smallest </svg>'; exit 2",
    };
    char dir[ROOM], script[512];
    scratch(dir);
    ck_assert_int_eq(mkdir(in(dir, "bin"), 0777), 0);
    for (size_t i = 0; i < sizeof ways / sizeof ways[0]; i++) {
        snprintf(script, sizeof script, "#!/bin/sh\n%s\n", ways[i]);
        write_file(in(dir, "bin/gnuplot"), script, 0755);
        draw_and_lose(dir, "a.svg", HOBBLE_E_WRITE);
    }
}
END_TEST

/* A stand-in that reads its commands and writes a whole file is believed. */
START_TEST(stand_in_can_succeed)
{
    char dir[ROOM], bin[ROOM + 8];
    size_t size;
    scratch(dir);
    ck_assert_int_eq(mkdir(in(dir, "bin"), 0777), 0);
    write_file(
        in(dir, "bin/gnuplot"),
        "#!/bin/sh\nwhile read -r line; do :; done\n"
        "printf '<?xml version=\"1.0\"?>\\n<svg> much longer than the smallest </svg>\\n\\n'\n",
        0755);
    snprintf(bin, sizeof bin, "%s/bin", dir);
    setenv("PATH", bin, 1);
    ck_assert_int_eq(draw(in(dir, "a.svg")), HOBBLE_OK);
    free(read_file(in(dir, "a.svg"), &size));
    ck_assert_uint_gt(size, 60);
}
END_TEST

/* More commands than a socket holds, to a child that ends at once. */
START_TEST(child_that_does_not_listen)
{
    static const double row[] = {1.0, 2.0, 3.0, 4.0};
    struct hb_gnuplot g;
    char dir[ROOM], bin[ROOM + 8], path[ROOM + 8];
    scratch(dir);
    ck_assert_int_eq(mkdir(in(dir, "bin"), 0777), 0);
    write_file(in(dir, "bin/gnuplot"), "#!/bin/sh\nexit 0\n", 0755);
    snprintf(bin, sizeof bin, "%s/bin", dir);
    snprintf(path, sizeof path, "%s/a.svg", dir);
    setenv("PATH", bin, 1);
    signal(SIGPIPE, SIG_DFL);
    ck_assert_int_eq(hb_gnuplot_open(&g, path, 500, 400), HOBBLE_OK);
    hb_gnuplot_block_begin(&g, "many");
    for (int i = 0; i < 200000; i++)
        hb_gnuplot_row(&g, row, 4);
    hb_gnuplot_block_end(&g);
    ck_assert_int_eq(hb_gnuplot_close(&g), HOBBLE_E_WRITE);
    ck_assert_int_eq(files_in(dir), 1);
}
END_TEST

/* As on a full disk: writes fail after 3000 bytes, and gnuplot itself still ends with 0. */
START_TEST(full_disk)
{
    static const char *const names[] = {"a.svg", "a.png", "a.pdf"};
    struct rlimit limit;
    char dir[ROOM];
    size_t size;
    scratch(dir);
    ck_assert_int_eq(getrlimit(RLIMIT_FSIZE, &limit), 0);
    limit.rlim_cur = 3000;
    signal(SIGXFSZ, SIG_IGN);
    for (size_t i = 0; i < 3; i++) {
        write_file(in(dir, names[i]), "old", 0644);
        ck_assert_int_eq(setrlimit(RLIMIT_FSIZE, &limit), 0);
        const enum hobble_status status = draw(in(dir, names[i]));
        const rlim_t kept = limit.rlim_cur;
        limit.rlim_cur = limit.rlim_max;
        ck_assert_int_eq(setrlimit(RLIMIT_FSIZE, &limit), 0);
        limit.rlim_cur = kept;
        ck_assert_int_eq(status, HOBBLE_E_WRITE);
        char *text = read_file(in(dir, names[i]), &size);
        ck_assert_str_eq(text, "old");
        free(text);
    }
    ck_assert_int_eq(files_in(dir), 3);
}
END_TEST

/* Ways out of a string or a line, by gnuplot's manual: "Strings", "Backquotes", "Macros", "system"
 * and "!"; and by the shell's. Each would make a file. */
START_TEST(hostile_names)
{
    static const char *const forms[] = {
        "`touch %s`",
        "$(touch %s)",
        "'; system('touch %s'); x='",
        "\"; system(\"touch %s\"); \"",
        "''`touch %s`",
        "\\'`touch %s`",
        "; !touch %s",
        "@x`touch %s`",
        "{/Bold `touch %s`}",
        "%%`touch %s`",
        "| touch %s",
    };
    char dir[ROOM], name[HOBBLE_FAULT_TEXT];
    scratch(dir);
    ck_assert_int_eq(chdir(dir), 0);
    for (size_t i = 0; i < sizeof forms / sizeof forms[0]; i++) {
        snprintf(name, sizeof name, forms[i], "made");
        ck_assert_int_eq(draw_named("a.svg", name, false), HOBBLE_OK);
        ck_assert_msg(access("made", F_OK) != 0, "'%s' was run", name);
    }
    ck_assert_int_eq(files_in("."), 1);
}
END_TEST

/* Any text is one quoted string in one line, without what could end it or be run. */
START_TEST(quoting)
{
    static const char hostile[] = "\n!touch made\nEOD\n'\"`touch made`\\\r\t\x01 \xFF \u2028";
    struct hb_gnuplot g;
    char text[400];
    ck_assert_int_eq(hb_gnuplot_open(&g, "a.svg", 500, 400), HOBBLE_OK);
    ck_assert_int_eq(fflush(g.script), 0);
    const size_t before = g.size;
    hb_gnuplot_quote(&g, hostile);
    fflush(g.script);
    const char *quoted = g.text + before;
    const size_t length = strlen(quoted);
    ck_assert_uint_gt(length, 40);
    ck_assert(quoted[0] == '\'' && quoted[length - 1] == '\'');
    for (size_t i = 1; i + 1 < length; i++)
        ck_assert_msg((unsigned char)quoted[i] >= ' ' && !strchr("'\"`\\", quoted[i]),
                      "byte %zu of %s", i, quoted);
    memset(text, '\'', sizeof text - 1);
    text[sizeof text - 1] = '\0';
    hb_gnuplot_quote(&g, text); /* grows threefold */
    hb_gnuplot_drop(&g);
}
END_TEST

/* Start-up files and gnuplot's own variables have no say. */
START_TEST(no_start_up_files)
{
    char dir[ROOM], text[ROOM + 64];
    scratch(dir);
    snprintf(text, sizeof text, "system 'touch %s/made'\n", dir);
    write_file(in(dir, ".gnuplot"), text, 0644);
    write_file(in(dir, "gnuplotrc"), text, 0644);
    setenv("HOME", dir, 1);
    setenv("XDG_CONFIG_HOME", dir, 1);
    setenv("GNUPLOT_LIB", dir, 1);
    setenv("GNUTERM", "dumb", 1);
    ck_assert_int_eq(draw(in(dir, "a.png")), HOBBLE_OK);
    ck_assert_int_ne(access(in(dir, "made"), F_OK), 0);
}
END_TEST

/* A decimal comma in the caller's locale reaches neither commands nor data. */
START_TEST(decimal_comma)
{
    static const double row[] = {0.5, (double)NAN, (double)INFINITY, -1.25e-9};
    struct hb_gnuplot g;
    char dir[ROOM], command[2 * ROOM];
    scratch(dir);
    snprintf(command, sizeof command, "localedef -i de_DE -f UTF-8 '%s/de_DE.UTF-8' 2>&1", dir);
    setenv("LOCPATH", dir, 1);
    if (system(command) != 0 || !setlocale(LC_ALL, "de_DE.UTF-8")) {
        fprintf(stderr, "decimal_comma: no German locale can be made; not tested\n");
        return;
    }
    ck_assert_str_eq(localeconv()->decimal_point, ",");
    ck_assert_int_eq(hb_gnuplot_open(&g, "a.svg", 500, 400), HOBBLE_OK);
    ck_assert_int_eq(fflush(g.script), 0);
    const size_t before = g.size;
    hb_gnuplot_say(&g, "set x %.1f\n", 2.5);
    hb_gnuplot_row(&g, row, 4);
    ck_assert_int_eq(fflush(g.script), 0);
    ck_assert_str_eq(g.text + before, "set x 2.5\n0.5 NaN NaN -1.25e-09 \n");
    hb_gnuplot_drop(&g);
    ck_assert_int_eq(draw(in(dir, "a.svg")), HOBBLE_OK);
}
END_TEST

/* No range at all (the rim carries), and a picture shorter than its marks: still a whole file. */
START_TEST(nothing_to_draw)
{
    struct hobble_answer a;
    struct hobble_trace_point t[HOBBLE_TRACE_POINTS];
    char dir[ROOM];
    size_t size;
    scratch(dir);
    hobble_case *c = hobble_case_new();
    ck_assert_ptr_nonnull(c);
    invent(&a, t);
    a.rim_at_start = true;
    a.verdict = HOBBLE_STOP;
    a.advised_distance = 0.0;
    a.to = 5000e3;
    ck_assert_int_eq(hb_chart_range(in(dir, "a.svg"), c, &a, t, false), HOBBLE_OK);
    char *text = read_file(in(dir, "a.svg"), &size);
    ck_assert_ptr_nonnull(strstr(text, "STOP: do not drive on with this tyre"));
    ck_assert_ptr_nonnull(strstr(text, "the rim carries the load from the start"));
    ck_assert_ptr_null(strstr(text, "advised:"));
    ck_assert_ptr_null(strstr(text, "destination:"));
    ck_assert_ptr_null(strstr(text, "still carrying:"));
    free(text);
    hobble_case_free(c);
}
END_TEST

Suite *chart_suite(void)
{
    Suite *suite = suite_create("chart");
    TCase *files = tcase_create("files"), *hostile = tcase_create("hostile");
    tcase_set_timeout(files, 60);
    tcase_set_timeout(hostile, 60);
    tcase_add_test(files, kinds);
    tcase_add_test(files, words_stay_words);
    tcase_add_test(files, endings);
    tcase_add_test(files, read_only_folder);
    tcase_add_test(files, no_gnuplot);
    tcase_add_test(files, old_file_is_kept);
    tcase_add_test(files, stand_in_can_succeed);
    tcase_add_test(files, child_that_does_not_listen);
    tcase_add_test(files, full_disk);
    tcase_add_test(files, nothing_to_draw);
    tcase_add_test(hostile, hostile_names);
    tcase_add_test(hostile, quoting);
    tcase_add_test(hostile, no_start_up_files);
    tcase_add_test(hostile, decimal_comma);
    suite_add_tcase(suite, files);
    suite_add_tcase(suite, hostile);
    return suite;
}
