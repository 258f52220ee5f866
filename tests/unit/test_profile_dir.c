/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_profile_dir.c - profiles that come with the program, and how profiles are found.
 * Expectations come from what src/input/profile_dir.h promises. */
#include "input/profile_dir.h"

#include "input/profile.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

Suite *profile_dir_suite(void);

enum { PATH_SIZE = 700 };

#ifndef TEST_DATA_DIR
#define TEST_DATA_DIR "tests/data"
#endif

static struct hobble_faults faults;
static hobble_case *c;

static void setup(void)
{
    memset(&faults, 0, sizeof faults);
    c = hobble_case_new();
    ck_assert(c != NULL);
}

static void teardown(void)
{
    hobble_case_free(c);
}

static void shipped_folder(char path[PATH_SIZE])
{
    const char *top = getenv("TOP_SRCDIR");
    if (top && *top)
        snprintf(path, PATH_SIZE, "%s/profiles", top);
    else
        snprintf(path, PATH_SIZE, "%s/../../profiles", TEST_DATA_DIR);
    setenv("HOBBLE_PROFILES", path, 1);
}

START_TEST(shipped_profiles_are_good)
{
    char folder[PATH_SIZE];
    struct hb_profile_entry *entry = NULL;
    size_t count = 0, of[HOBBLE_GROUP_COUNT + 1] = {0};
    shipped_folder(folder);
    ck_assert_int_eq(hb_profile_scan(&entry, &count), HOBBLE_OK);
    for (size_t i = 0; i < count; i++) {
        hobble_case *fresh = hobble_case_new();
        if (strncmp(entry[i].path, folder, strlen(folder)) == 0) {
            ck_assert_msg(entry[i].good, "%s: %s", entry[i].path, entry[i].title);
            ck_assert_msg(entry[i].group == HOBBLE_RULES || entry[i].group == HOBBLE_BENCH ||
                              strstr(entry[i].title, "invented") != NULL,
                          "%s", entry[i].path);
            if (entry[i].group != HOBBLE_GROUP_COUNT) /* a fleet or a journey is no case */
                ck_assert_int_eq(
                    hb_profile_load(entry[i].name, (int)entry[i].group, fresh, NULL, &faults),
                    HOBBLE_OK);
            ck_assert_int_eq(hb_profile_check(entry[i].name, &faults), HOBBLE_OK);
            of[entry[i].group]++;
        }
        hobble_case_free(fresh);
    }
    free(entry);
    ck_assert_uint_ge(of[HOBBLE_TYRE], 7);
    ck_assert_uint_ge(of[HOBBLE_VEHICLE], 3);
    ck_assert_uint_ge(of[HOBBLE_GROUP_COUNT], 1); /* the demonstration fleet */
}
END_TEST

static double number(const hobble_case *from, const char *key)
{
    return hobble_case_number(from, hobble_param_find(key));
}

/* Mass on a wheel of an axle by the rows' meanings. */
static double wheel_kg(const hobble_case *v, bool front, double first, double rest, double luggage)
{
    const double share[] = {number(v, "front_seats_share"), number(v, "rear_seats_share"),
                            number(v, "luggage_share")};
    const double person = number(v, "person_mass");
    const double mass[] = {first * person, rest * person, luggage};
    double axle = number(v, front ? "front_kerb" : "rear_kerb");
    for (int i = 0; i < 3; i++)
        axle += mass[i] * (front ? share[i] : 1.0 - share[i]);
    ck_assert_double_le(axle, number(v, front ? "front_axle_max" : "rear_axle_max"));
    return axle / 2.0;
}

/* From the driver alone to all seats taken, every wheel of a scenario vehicle carries 50 to 95 % of
 * the load index of the tyre that fits it (index masses: UN R30 annex 4). */
START_TEST(scenario_loads_are_plausible)
{
    static const struct {
        const char *vehicle, *tyre;
        double luggage;
    } pairs[] = {{"hatchback", "compact-15", 60},
                 {"estate", "touring-16", 100},
                 {"minibus", "minibus-17", 150}};
    char folder[PATH_SIZE];
    shipped_folder(folder);
    for (size_t i = 0; i < sizeof pairs / sizeof pairs[0]; i++) {
        hobble_case *v = hobble_case_new();
        struct hobble_marking marking;
        ck_assert_int_eq(hb_profile_load(pairs[i].tyre, HOBBLE_TYRE, v, NULL, &faults), HOBBLE_OK);
        ck_assert_int_eq(hb_profile_load(pairs[i].vehicle, HOBBLE_VEHICLE, v, NULL, &faults), 0);
        ck_assert_int_eq(
            hobble_marking_parse(hobble_case_text(v, hobble_param_find("marking")), &marking, NULL),
            HOBBLE_OK);
        const double index = hobble_load_index_kg(marking.load_index);
        for (int wheel = 0; wheel < 2; wheel++) {
            const double least = wheel_kg(v, wheel == 0, 1, 0, 0) / index;
            const double most = wheel_kg(v, wheel == 0, number(v, "seats_front"),
                                         number(v, "seats_rear"), pairs[i].luggage) /
                                index;
            ck_assert_msg(least >= 0.5 && most <= 0.95, "%s: %.3f to %.3f", pairs[i].vehicle, least,
                          most);
        }
        hobble_case_free(v);
    }
}
END_TEST

START_TEST(profiles_are_found)
{
    static const struct {
        const char *name;
        enum hobble_group group;
        enum hobble_status status;
    } asked[] = {
        {"touring-16", HOBBLE_TYRE, HOBBLE_OK},
        {"touring-16", HOBBLE_VEHICLE, HOBBLE_E_NO_INPUT},
        {"touring-99", HOBBLE_TYRE, HOBBLE_E_NO_INPUT},
        {"./x", HOBBLE_TYRE, HOBBLE_OK},
        {"mine.cfg", HOBBLE_TYRE, HOBBLE_OK},
        {"..", HOBBLE_TYRE, HOBBLE_E_SYNTAX},
        {"a b", HOBBLE_TYRE, HOBBLE_E_SYNTAX},
        {"", HOBBLE_TYRE, HOBBLE_E_SYNTAX},
        {NULL, HOBBLE_TYRE, HOBBLE_E_SYNTAX},
    };
    char folder[PATH_SIZE], path[PATH_SIZE + 100], small[8];
    shipped_folder(folder);
    for (size_t i = 0; i < sizeof asked / sizeof asked[0]; i++)
        ck_assert_msg(hb_profile_find(asked[i].name, asked[i].group, path, sizeof path) ==
                          asked[i].status,
                      "%s", asked[i].name ? asked[i].name : "NULL");
    ck_assert_int_eq(hb_profile_find("mine.cfg", HOBBLE_TYRE, path, sizeof path), HOBBLE_OK);
    ck_assert_str_eq(path, "mine.cfg");
    ck_assert_int_eq(hb_profile_find("touring-16", HOBBLE_TYRE, small, sizeof small),
                     HOBBLE_E_TOO_LARGE);
    ck_assert_int_eq(hb_profile_load("touring-99", HOBBLE_TYRE, c, NULL, &faults),
                     HOBBLE_E_NO_INPUT);
    ck_assert_str_eq(faults.item[0].given, "touring-99");
    ck_assert_int_eq(hb_profile_check("estate", NULL), HOBBLE_OK);
}
END_TEST

/* The first folder wins; an empty part of the list and an empty folder do no harm. */
START_TEST(folders_are_searched_in_order)
{
    char folder[PATH_SIZE], list[PATH_SIZE + 100], path[PATH_SIZE + 100];
    char other[] = "profile-find-XXXXXX", sub[64], own[80];
    shipped_folder(folder);
    ck_assert(mkdtemp(other) != NULL);
    snprintf(list, sizeof list, "%s::%s", other, folder);
    setenv("HOBBLE_PROFILES", list, 1);
    ck_assert_int_eq(hb_profile_find("estate", HOBBLE_VEHICLE, path, sizeof path), HOBBLE_OK);
    ck_assert(strncmp(path, folder, strlen(folder)) == 0);
    snprintf(sub, sizeof sub, "%s/vehicle", other);
    snprintf(own, sizeof own, "%s/estate.cfg", sub);
    ck_assert_int_eq(mkdir(sub, 0700), 0);
    FILE *file = fopen(own, "w");
    ck_assert(file != NULL);
    fputs("kind = \"tyre\";\n", file);
    fclose(file);
    ck_assert_int_eq(hb_profile_find("estate", HOBBLE_VEHICLE, path, sizeof path), HOBBLE_OK);
    ck_assert_str_eq(path, own);
    /* and it is a tyre where a vehicle is wanted */
    ck_assert_int_eq(hb_profile_load("estate", HOBBLE_VEHICLE, c, NULL, &faults),
                     HOBBLE_E_CONFLICT);
    ck_assert_str_eq(faults.item[0].key, "kind");
    unlink(own);
    rmdir(sub);
    rmdir(other);
}
END_TEST

START_TEST(profiles_are_listed_and_shown)
{
    char folder[PATH_SIZE], *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    ck_assert(out != NULL);
    shipped_folder(folder);
    ck_assert_int_eq(hb_profile_list(out), HOBBLE_OK);
    ck_assert_int_eq(hb_profile_show(out, "estate", NULL), HOBBLE_OK);
    ck_assert_int_eq(hb_profile_new(out, HOBBLE_TYRE, "touring-16", NULL), HOBBLE_OK);
    ck_assert_int_eq(hb_profile_new(out, HOBBLE_VEHICLE, NULL, NULL), HOBBLE_OK);
    ck_assert_int_eq(hb_profile_new(out, HOBBLE_VEHICLE, "compact-15", NULL), HOBBLE_E_NO_INPUT);
    fclose(out);
    ck_assert(strstr(text, "tyre\tcompact-15\tCompact 15, self-supporting, invented\t"));
    ck_assert(strstr(text, "\nfront_kerb = { value = 800;"));
    ck_assert(strstr(text, "\nmarking = \"205/55 RF16 91V\";"));
    ck_assert(strstr(text, "\n# front_kerb = { value = 720;")); /* built in: a comment */
    free(text);
}
END_TEST

Suite *profile_dir_suite(void)
{
    Suite *suite = suite_create("profile_dir");
    TCase *tests = tcase_create("profile_dir");
    tcase_add_checked_fixture(tests, setup, teardown);
    tcase_add_test(tests, shipped_profiles_are_good);
    tcase_add_test(tests, scenario_loads_are_plausible);
    tcase_add_test(tests, profiles_are_found);
    tcase_add_test(tests, folders_are_searched_in_order);
    tcase_add_test(tests, profiles_are_listed_and_shown);
    suite_add_tcase(suite, tests);
    return suite;
}
