/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_policy_files.c - fleet files, weather files, incidents and parts: good, bad and hostile. */
#include "input/climate.h"
#include "input/fleet.h"
#include "input/incidents.h"
#include "report/parts.h"

#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

Suite *policy_files_suite(void);

#define SMALL TEST_DATA_DIR "/fleet/small.cfg"

static char *slurp(const char *path)
{
    FILE *f = fopen(path, "rb");
    char *text = calloc(1, 1 << 20);
    ck_assert(f && text);
    ck_assert_uint_gt(fread(text, 1, (1 << 20) - 1, f), 0);
    fclose(f);
    return text;
}

/* The text with the first from in it turned into to. */
static char *with(const char *text, const char *from, const char *to)
{
    const char *at = strstr(text, from);
    if (!at)
        ck_abort_msg("not in the file: %s", from);
    char *changed = calloc(1, strlen(text) + strlen(to) + 1);
    ck_assert_ptr_nonnull(changed);
    memcpy(changed, text, (size_t)(at - text));
    memcpy(changed + (at - text), to, strlen(to));
    memcpy(changed + (at - text) + strlen(to), at + strlen(from), strlen(at + strlen(from)));
    return changed;
}

/* ---- fleets ---------------------------------------------------------------------------------- */

START_TEST(reads_a_fleet)
{
    struct hobble_fleet *f = NULL;
    ck_assert_int_eq(hb_fleet_read(SMALL, &f, NULL), HOBBLE_OK);
    ck_assert_str_eq(f->name, "test fleet, invented");
    ck_assert_int_eq(f->vehicles, 2);
    ck_assert_int_eq(f->vehicle[0].count, 2);
    ck_assert_double_eq_tol(f->vehicle[1].year_km, 30000.0, 1e-9);
    ck_assert_double_eq_tol(f->season[1].tenth[334 - HOBBLE_FLEET_LEAST], 0.4, 1e-12);
    ck_assert_double_eq_tol(f->help.mean, 15000.0, 1e-9);
    ck_assert_double_eq_tol(f->number[hobble_fleet_find("accepted_chance")].value, 0.02, 1e-12);
    ck_assert_str_eq(f->number[hobble_fleet_find("accepted_chance")].origin, "small.cfg:6");
    ck_assert_str_eq(f->number[hobble_fleet_find("fuel_use")].origin, "built in");
    ck_assert(isnan(f->load[1].people) && f->load[1].seats >= 1.0);
    hobble_fleet_free(f);
}
END_TEST

static const struct {
    const char *from, *to;
    enum hobble_status status;
    const char *key;
} bad_fleet[] = {
    {"kind = \"fleet\"", "kind = \"tyre\"", HOBBLE_E_CONFLICT, "kind"},
    {"kind = \"fleet\";", "", HOBBLE_E_MISSING, "kind"},
    {"0.02;", "2;", HOBBLE_E_RANGE, "accepted_chance"},
    {"0.02;", "\"many\";", HOBBLE_E_SYNTAX, "accepted_chance"},
    {"0.02;", "0x02;", HOBBLE_E_TYPE, "accepted_chance"},
    {"0.02;", "true;", HOBBLE_E_TYPE, "accepted_chance"},
    {"0.02;", "1e999;", HOBBLE_E_RANGE, "accepted_chance"},
    {"0.02;", "{ value = 0.02; spread = 9; };", HOBBLE_E_RANGE, "accepted_chance"},
    {"0.02;", "{ value = 0.02; provenance = \"published\"; };", HOBBLE_E_MISSING,
     "accepted_chance"},
    {"0.02;", "{ value = 0.02; provenance = \"sworn\"; };", HOBBLE_E_SYNTAX, "accepted_chance"},
    {"0.02;", "{ spread = 0.1; };", HOBBLE_E_MISSING, "accepted_chance.value"},
    {"\"5 min\"", "\"5 km\"", HOBBLE_E_UNIT, "detection_delay"},
    {"accepted_chance", "accepted_chances", HOBBLE_E_UNKNOWN, "accepted_chances"},
    {"money = \"EUR\"", "accepted_chance = 0.1", HOBBLE_E_DUPLICATE, "accepted_chance"},
    {"money = \"EUR\"", "money = \"a very long currency\"", HOBBLE_E_SYNTAX, "money"},
    {"money = \"EUR\"", "share_nail = 0.9", HOBBLE_E_CONFLICT, "share_nail .. share_slow"},
    {"money = \"EUR\"", "@include \"/etc/passwd\"", HOBBLE_E_UNSUPPORTED, ""},
    {"count = 2", "count = 2.5", HOBBLE_E_TYPE, "vehicles.count"},
    {"count = 2", "count = 0", HOBBLE_E_RANGE, "vehicles.count"},
    {"count = 2; ", "", HOBBLE_E_MISSING, "vehicles.count"},
    {"count = 2", "count = 2; colour = 1", HOBBLE_E_UNKNOWN, "vehicles.colour"},
    {"estate.cfg", "no-such.cfg", HOBBLE_E_NO_INPUT, ""},
    {"touring-16.cfg", "../vehicle/estate.cfg", HOBBLE_E_CONFLICT, "kind"},
    {"age = \"2 years\"", "age = \"-2 years\"", HOBBLE_E_RANGE, "age"},
    {"age = \"2 years\"", "ambient = 20", HOBBLE_E_UNKNOWN, "ambient"},
    {"share = 0.75", "share = 0.7", HOBBLE_E_CONFLICT, "loads.share"},
    {"people = 1", "people = 1; seats = 0.5", HOBBLE_E_CONFLICT, "loads.people"},
    {"people = 1; ", "", HOBBLE_E_CONFLICT, "loads.people"},
    {"share = 0.4", "share = 0.5", HOBBLE_E_CONFLICT, "seasons.share"},
    {"ambient = \"-5 C\"", "ambient = \"-50 C\"", HOBBLE_E_RANGE, "seasons.ambient"},
    {"ambient = \"-5 C\"", "months = [1]", HOBBLE_E_CONFLICT, "seasons"},
    {"mean = \"15 km\";", "", HOBBLE_E_CONFLICT, "help"},
    {"mean = \"15 km\";", "mean = 0;", HOBBLE_E_RANGE, "help.mean"},
    {"mean = \"15 km\";", "file = \"no-such.csv\";", HOBBLE_E_NO_INPUT, ""},
    {"mean = \"15 km\";", "file = \"/dev/zero\";", HOBBLE_E_NO_INPUT, ""},
    {"mean = \"15 km\";", "table = ( { up_to = 5; share = 0.5; } );", HOBBLE_E_CONFLICT,
     "help.table.share"},
    {"help = { mean = \"15 km\"; };", "", HOBBLE_E_MISSING, "help"},
    {"help = {", "sites = (); help = {", HOBBLE_E_CONFLICT, "seasons"},
    {"vehicles = (", "vehicles = ( 7, ", HOBBLE_E_TYPE, "vehicles"},
    {"vehicles = (", "vehicles = \"all\"; others = (", HOBBLE_E_TYPE, "vehicles"},
};

START_TEST(refuses_bad_fleets)
{
    static struct hobble_faults faults;
    char *text = slurp(SMALL);
    for (size_t i = 0; i < sizeof bad_fleet / sizeof *bad_fleet; i++) {
        char *bad = with(text, bad_fleet[i].from, bad_fleet[i].to);
        struct hobble_fleet *f = NULL;
        bool found = false;
        faults.count = 0;
        const enum hobble_status status = hb_fleet_read_text(bad, strlen(bad), SMALL, &f, &faults);
        if (status == HOBBLE_OK || f)
            ck_abort_msg("taken: %s", bad_fleet[i].to);
        for (size_t k = 0; k < faults.count && k < HOBBLE_FAULTS_KEPT; k++) {
            const struct hobble_fault *fault = &faults.item[k];
            found = found || (fault->status == bad_fleet[i].status &&
                              (!*bad_fleet[i].key || strcmp(fault->key, bad_fleet[i].key) == 0));
            ck_assert_msg(fault->allowed[0] != '\0', "nothing allowed: %s", bad_fleet[i].to);
        }
        if (!found)
            ck_abort_msg("%s -> %s: %s %s", bad_fleet[i].from, bad_fleet[i].to, faults.item[0].key,
                         hobble_status_text(faults.item[0].status));
        free(bad);
    }
    free(text);
}
END_TEST

/* More people than seats is a fault of the whole, with its vehicle and load. */
START_TEST(refuses_impossible_loads)
{
    static struct hobble_faults faults;
    struct hobble_policy_condition *list = NULL;
    struct hobble_fleet *f = NULL;
    size_t count;
    char *text = slurp(SMALL), *bad = with(text, "people = 1", "people = 7");
    faults.count = 0;
    ck_assert_int_eq(hb_fleet_read_text(bad, strlen(bad), SMALL, &f, &faults), HOBBLE_OK);
    ck_assert_int_eq(hobble_policy_list(f, &list, &count, &faults), HOBBLE_E_CONFLICT);
    ck_assert_str_eq(faults.item[0].key, "people");
    ck_assert_str_eq(faults.item[0].given, "car, one");
    hobble_fleet_free(f);
    free(text);
    free(bad);
}
END_TEST

/* ---- weather --------------------------------------------------------------------------------- */

struct taken {
    long hours, month[13];
    double sum;
};

static void take(void *into, int month, int tenth)
{
    struct taken *t = into;
    t->hours++;
    t->month[month]++;
    t->sum += tenth;
}

/* A year in the form that the EnergyPlus documentation describes (Auxiliary Programs, EPW data
 * dictionary), at one temperature. */
static char *year(void)
{
    static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    char *text = calloc(1, 1 << 19);
    size_t used;
    ck_assert_ptr_nonnull(text);
    used = (size_t)snprintf(text, 1 << 19,
                            "LOCATION,Test,-,-,-,0,0,0,0,0\nDESIGN CONDITIONS,0\n"
                            "TYPICAL/EXTREME PERIODS,0\nGROUND TEMPERATURES,0\n"
                            "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0\nCOMMENTS 1,\nCOMMENTS 2,\n"
                            "DATA PERIODS,1,1,Data,Monday,1/1,12/31\n");
    for (int m = 0; m < 12; m++)
        for (int d = 1; d <= days[m]; d++)
            for (int h = 1; h <= 24; h++)
                used += (size_t)snprintf(text + used, (1 << 19) - used,
                                         "2001,%d,%d,%d,0,?,7.5,5\r\n", m + 1, d, h);
    return text;
}

static enum hobble_status read_year(const char *text, size_t size, struct taken *t,
                                    struct hobble_faults *faults)
{
    char place[HOBBLE_FAULT_TEXT];
    long hours;
    FILE *f = fmemopen((void *)(uintptr_t)text, size, "rb");
    ck_assert_ptr_nonnull(f);
    memset(t, 0, sizeof *t);
    faults->count = 0;
    const enum hobble_status status =
        hb_climate_read(f, "test.epw", take, t, place, &hours, faults);
    fclose(f);
    if (status == HOBBLE_OK)
        ck_assert_str_eq(place, "Test");
    return status;
}

START_TEST(reads_a_year)
{
    static struct hobble_faults faults;
    struct taken t;
    char *text = year();
    ck_assert_int_eq(read_year(text, strlen(text), &t, &faults), HOBBLE_OK);
    ck_assert_int_eq(t.hours, 8760);
    ck_assert_int_eq(t.month[2], 28 * 24);
    ck_assert_double_eq_tol(t.sum / (double)t.hours, 75.0, 1e-9);
    free(text);
}
END_TEST

static const struct {
    const char *from, *to;
    enum hobble_status status;
    int line;
} bad_year[] = {
    {"LOCATION", "PLACE", HOBBLE_E_SYNTAX, 1},
    {"DATA PERIODS", "PERIODS", HOBBLE_E_SYNTAX, 8},
    {"2001,1,1,2,0,?,7.5", "2001,1,1,2,0,?,99.9", HOBBLE_E_MISSING, 10},
    {"2001,1,1,2,0,?,7.5", "2001,1,1,2,0,?,70.1", HOBBLE_E_RANGE, 10},
    {"2001,1,1,2,0,?,7.5", "2001,1,1,2,0,?,nan", HOBBLE_E_RANGE, 10},
    {"2001,1,1,2,0,?,7.5", "2001,1,1,2,0,?,", HOBBLE_E_RANGE, 10},
    {"2001,1,1,2,0,?,7.5,5", "2001,1,1,2", HOBBLE_E_SYNTAX, 10},
    {"2001,1,1,2,", "2001,1,1,1,", HOBBLE_E_CONFLICT, 10}, /* twice */
    {"2001,1,1,3,", "2001,1,1,25,", HOBBLE_E_RANGE, 11},
    {"2001,13,", "2001,13,", HOBBLE_E_RANGE, 0},               /* replaced below */
    {"2001,12,31,24,0,?,7.5,5\r\n", "", HOBBLE_E_CONFLICT, 0}, /* an hour short */
};

START_TEST(refuses_bad_years)
{
    static struct hobble_faults faults;
    struct taken t;
    char *text = year();
    for (size_t i = 0; i < sizeof bad_year / sizeof *bad_year; i++) {
        const bool month = strcmp(bad_year[i].from, "2001,13,") == 0;
        char *bad = with(text, month ? "2001,1,1,1," : bad_year[i].from,
                         month ? "2001,13,1,1," : bad_year[i].to);
        const enum hobble_status status = read_year(bad, strlen(bad), &t, &faults);
        ck_assert_msg(status == bad_year[i].status, "%s: %s", bad_year[i].to,
                      hobble_status_text(status));
        ck_assert_str_eq(faults.item[0].file, "test.epw");
        if (bad_year[i].line > 0)
            ck_assert_int_eq(faults.item[0].line, bad_year[i].line);
        free(bad);
    }
    free(text);
}
END_TEST

/* Bytes that are no text, lines without end, nothing at all. */
START_TEST(refuses_hostile_years)
{
    static struct hobble_faults faults;
    struct taken t;
    char *text = year();
    text[30] = '\0';
    ck_assert_int_eq(read_year(text, 200, &t, &faults), HOBBLE_E_SYNTAX);
    memset(text, 'x', 100000);
    ck_assert_int_eq(read_year(text, 100000, &t, &faults), HOBBLE_E_TOO_LARGE);
    ck_assert_int_eq(read_year("\n", 1, &t, &faults), HOBBLE_E_SYNTAX);
    long hours;
    char place[HOBBLE_FAULT_TEXT];
    ck_assert_int_eq(hb_climate_file("/dev/zero", take, &t, place, &hours, &faults),
                     HOBBLE_E_NO_INPUT);
    ck_assert_int_eq(hb_climate_file("/no/such", take, &t, place, &hours, &faults),
                     HOBBLE_E_NO_INPUT);
    free(text);
}
END_TEST

/* ---- incidents ------------------------------------------------------------------------------- */

static const struct {
    const char *text;
    enum hobble_status status;
    int line; /* of the fault */
    double mean_km;
} incidents[] = {
    {"help_km\n10\n20\n", HOBBLE_OK, 0, 15.0},
    {"\xEF\xBB\xBFhelp_km,x\r\n10,a\r\n\r\n20,b", HOBBLE_OK, 0, 15.0}, /* mark, CR LF, blank line */
    {"x,\"help_km\"\n\"a,\n\"\"b\"\"\",0\nc,3.5\n", HOBBLE_OK, 0, 1.75}, /* RFC 4180 quotes */
    {"km\n10\n", HOBBLE_E_MISSING, 1, 0},
    {"help_km,help_km\n1,2\n", HOBBLE_E_DUPLICATE, 1, 0},
    {"help_km\n", HOBBLE_E_MISSING, 1, 0},
    {"", HOBBLE_E_MISSING, 0, 0},
    {"help_km,x\n1,2\n\"a\nb\",3\n", HOBBLE_E_RANGE, 4, 0},
    {"help_km\n-1\n", HOBBLE_E_RANGE, 2, 0},
    {"help_km\n1e9\n", HOBBLE_E_RANGE, 2, 0},
    {"help_km\n12 km\n", HOBBLE_E_RANGE, 2, 0},
    {"help_km\n1,5\n", HOBBLE_E_SYNTAX, 2, 0},
    {"help_km,x\n,5\n", HOBBLE_E_MISSING, 2, 0},
    {"help_km\n\"1\n", HOBBLE_E_SYNTAX, 2, 0},
    {"help_km\n1\"2\n", HOBBLE_E_SYNTAX, 2, 0},
};

START_TEST(reads_incidents)
{
    static struct hobble_faults faults;
    static struct hobble_help help;
    for (size_t i = 0; i < sizeof incidents / sizeof *incidents; i++) {
        const char *text = incidents[i].text;
        faults.count = 0;
        help.mean = -1.0;
        const enum hobble_status status =
            hb_incidents_read_text(text, strlen(text), "i.csv", "help_km", &help, &faults);
        ck_assert_msg(status == incidents[i].status, "%s: %s", text, hobble_status_text(status));
        if (status == HOBBLE_OK)
            ck_assert_double_eq_tol(help.mean, incidents[i].mean_km * 1e3, 1e-9);
        else
            ck_assert(help.mean < 0.0 && faults.item[0].line == incidents[i].line);
    }
    ck_assert_int_eq(
        hb_incidents_read_text("help_km\n1\0\n", 11, "i.csv", "help_km", &help, &faults),
        HOBBLE_E_SYNTAX);
}
END_TEST

/* ---- parts ----------------------------------------------------------------------------------- */

static void fill(struct hobble_policy_solved *s, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        s[i].unseen = (int)(1000 + i);
        s[i].closure = (int)i;
        for (int k = 0; k < HOBBLE_POLICY_SPEEDS; k++) {
            s[i].way[k].go = k != 1;
            s[i].way[k].advised = k != 1 ? 40000 + (int)i : 0;
            s[i].way[k].stops = k == 1 ? 5 : 0;
            s[i].way[k].counted = s[i].way[k].worth = 300;
            s[i].way[k].ended[i % HOBBLE_REACH_BINS] = 7;
            s[i].way[k].ended[HOBBLE_REACH_BINS - 1] += 100;
        }
    }
}

/* Every byte of a part that is changed, and every cut, is noticed; nothing is written then. */
START_TEST(parts_are_checked)
{
    static struct hobble_faults faults;
    static struct hobble_policy_solved solved[20], back[20], before[20];
    char folder[] = "/tmp/hobble-parts-XXXXXX", path[256];
    ck_assert_ptr_nonnull(mkdtemp(folder));
    struct hb_policy_run run = {.folder = folder, .count = 20, .digest = 0x1234};
    fill(solved, 20);
    ck_assert_uint_eq(hb_policy_parts(20), 2);
    ck_assert_int_eq(hb_part_read(&run, 1, back, &faults), HOBBLE_E_NO_INPUT);
    ck_assert_uint_eq(faults.count, 0);
    ck_assert_int_eq(hb_part_write(&run, 0, solved), HOBBLE_OK);
    ck_assert_int_eq(hb_part_write(&run, 1, &solved[16]), HOBBLE_OK);
    ck_assert_int_eq(hb_part_read(&run, 0, back, &faults), HOBBLE_OK);
    ck_assert_int_eq(hb_part_read(&run, 1, &back[16], &faults), HOBBLE_OK);
    ck_assert_int_eq(memcmp(solved, back, sizeof solved), 0);
    run.digest = 0x1235; /* another fleet */
    ck_assert_int_eq(hb_part_read(&run, 1, before, &faults), HOBBLE_E_CONFLICT);
    ck_assert_ptr_nonnull(strstr(faults.item[0].allowed, "another folder"));
    run.digest = 0x1234;
    hb_part_path(&run, 1, path, sizeof path);
    char *good = slurp(path);
    const size_t size = strlen(good);
    for (size_t i = 0; i < size; i += 11) {
        FILE *f = fopen(path, "wb");
        const char other = good[i] == '1' ? '2' : '1';
        ck_assert_ptr_nonnull(f);
        fwrite(good, 1, i, f);
        if (i % 2 == 0) { /* changed; else cut */
            fputc(other, f);
            fwrite(good + i + 1, 1, size - i - 1, f);
        }
        fclose(f);
        faults.count = 0;
        memset(back, 0x5A, sizeof back);
        memset(before, 0x5A, sizeof before);
        ck_assert_int_eq(hb_part_read(&run, 1, back, &faults), HOBBLE_E_CONFLICT);
        ck_assert_int_eq(memcmp(back, before, sizeof back), 0);
    }
    free(good);
    for (size_t part = 0; part < 2; part++) {
        hb_part_path(&run, part, path, sizeof path);
        unlink(path);
    }
    rmdir(folder);
}
END_TEST

/* What conditions rest on is in the digest; what they do not is as well when answers do. */
START_TEST(digest_tells_apart)
{
    struct hobble_fleet *f = NULL;
    ck_assert_int_eq(hb_fleet_read(SMALL, &f, NULL), HOBBLE_OK);
    const uint64_t first = hobble_policy_digest(f);
    ck_assert(first == hobble_policy_digest(f));
    f->members += 1;
    ck_assert(first != hobble_policy_digest(f));
    f->members -= 1;
    f->number[3].value += 1;
    ck_assert(first != hobble_policy_digest(f));
    f->number[3].value -= 1;
    f->season[0].tenth[100] = 1e-9;
    ck_assert(first != hobble_policy_digest(f));
    f->season[0].tenth[100] = 0.0;
    hobble_case_set_number(f->vehicle[1].axle[1], hobble_param_find("rim_mass"), 11.0, "", NULL);
    const uint64_t rim = hobble_policy_digest(f);
    ck_assert(first != rim);
    struct hobble_evidence item;
    hobble_evidence_begin(HOBBLE_EVIDENCE_APPROVAL, &item);
    hobble_case_evidence_add(f->vehicle[1].axle[1], &item, NULL);
    ck_assert(rim != hobble_policy_digest(f));
    ck_assert(!hobble_fleet_same_tyres(&f->vehicle[1]));
    hobble_case_evidence_add(f->vehicle[1].axle[0], &item, NULL);
    hobble_case_set_number(f->vehicle[1].axle[0], hobble_param_find("rim_mass"), 11.0, "", NULL);
    ck_assert(hobble_fleet_same_tyres(&f->vehicle[1]));
    hobble_fleet_free(f);
}
END_TEST

Suite *policy_files_suite(void)
{
    Suite *suite = suite_create("policy_files");
    TCase *all = tcase_create("policy_files");
    tcase_set_timeout(all, 120.0);
    tcase_add_test(all, reads_a_fleet);
    tcase_add_test(all, refuses_bad_fleets);
    tcase_add_test(all, refuses_impossible_loads);
    tcase_add_test(all, reads_a_year);
    tcase_add_test(all, refuses_bad_years);
    tcase_add_test(all, refuses_hostile_years);
    tcase_add_test(all, reads_incidents);
    tcase_add_test(all, parts_are_checked);
    tcase_add_test(all, digest_tells_apart);
    suite_add_tcase(suite, all);
    return suite;
}
