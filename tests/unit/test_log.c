/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_log.c - readers of recorded drives. Sources: RFC 4180 (tables), GPX 1.1 schema, NMEA 0183 /
 * IEC 61162-1 (sentences that every receiver's manual has; from memory), RFC 8259, ISO 8601-1, NIST
 * SP 811 (units), WGS 84; the C library for numbers and days; common practice, no source, where a
 * log is odd. */
#define _DEFAULT_SOURCE /* timegm */
#include "input/log_parts.h"
#include "logs.h"

#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

Suite *log_suite(void);

#define KMH    (1.0 / 3.6)
#define KELVIN 273.15

static struct taken_log *of(const char *text)
{
    return log_read(text, strlen(text), NULL);
}

/* ---- names, numbers, times --------------------------------------------------------------------
 */

START_TEST(names_and_units)
{
    static const struct {
        const char *text;
        int field;
        double shown, si;
    } name[] = {{"speed_kmh", HOBBLE_LOG_SPEED, 36.0, 10.0},
                {"Speed (mph)", HOBBLE_LOG_SPEED, 100.0, 44.704},
                {"GPS speed [kn]", HOBBLE_LOG_SPEED, 3600.0, 1852.0},
                {"v_m/s", HOBBLE_LOG_SPEED, 3.0, 3.0},
                {"P_bar", HOBBLE_LOG_PRESSURE, 2.0, 2e5},
                {"tire_pressure_psi", HOBBLE_LOG_PRESSURE, 1.0, 6894.757293168361},
                {"pressure_kPa", HOBBLE_LOG_PRESSURE, 7.0, 7e3},
                {"temperature_F", HOBBLE_LOG_CAVITY, 212.0, 373.15},
                {"inner face (C)", HOBBLE_LOG_INNER, 20.0, 293.15},
                {"inner face (\xC2\xB0"
                 "C)",
                 HOBBLE_LOG_INNER, 20.0, 293.15},
                {"rim_k", HOBBLE_LOG_RIM, 300.0, 300.0},
                {"load_kn", HOBBLE_LOG_LOAD, 4.0, 4e3},
                {"load_kg", HOBBLE_LOG_LOAD, 100.0, 980.665},
                {"lateral_g", HOBBLE_LOG_ACROSS, 1.0, 9.80665},
                {"ele", HOBBLE_LOG_HEIGHT, 7.0, 7.0},
                {"altitude_ft", HOBBLE_LOG_HEIGHT, 10.0, 3.048},
                {"time_min", HB_LOG_TIME, 2.0, 120.0},
                {"t", HB_LOG_TIME, 2.0, 2.0},
                {"Timestamp", HB_LOG_TIME, 2.0, 2.0}};
    struct hb_log_name n;
    for (size_t i = 0; i < sizeof name / sizeof *name; i++) {
        ck_assert_msg(hb_log_name_read(name[i].text, &n), "%s", name[i].text);
        ck_assert_int_eq(n.field, name[i].field);
        ck_assert_double_eq_tol((name[i].shown + n.shift) * n.factor, name[i].si,
                                1e-12 * name[i].si);
    }
    ck_assert(!hb_log_name_read("speed_kpa", &n) && !hb_log_name_read("colour", &n));
    ck_assert(!hb_log_name_read("", &n) && !hb_log_name_read("_", &n));
    ck_assert(hb_log_name_read("pressure", &n) && n.factor == 0.0);
}
END_TEST

START_TEST(numbers_as_the_c_library_reads_them)
{
    struct random_source source = {5};
    char text[64];
    for (int i = 0; i < 20000; i++) {
        const double v =
            random_between(&source, -1.0, 1.0) * pow(10.0, random_below(&source, 30) - 15);
        const char *const way[] = {"%.17g", "%.3f", "%+.9e", " %g\t", "%.0f"};
        double got = (double)NAN;
        snprintf(text, sizeof text, way[random_below(&source, 5)], v);
        const double must = strtod(text, NULL);
        ck_assert_msg(hb_log_number(text, false, &got), "%s", text);
        /* 18 digits and one rounded power: two units in the last place */
        ck_assert_msg(fabs(got - must) <= 4.5e-16 * fabs(must), "%s: %.17g", text, got);
    }
    static const char *const bad[] = {"",    " ",   "-",   ".",     "1e",  "1e+",   "0x10", "inf",
                                      "nan", "1,5", "1 2", "1.2.3", "--1", "1e999", "12a"};
    double got;
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        ck_assert_msg(!hb_log_number(bad[i], false, &got), "%s", bad[i]);
    ck_assert(hb_log_number("1,5", true, &got) && got == 1.5);
    ck_assert(!hb_log_number("1,5,6", true, &got));
}
END_TEST

START_TEST(days_as_the_c_library_counts_them)
{
    struct random_source source = {6};
    for (int i = 0; i < 5000; i++) {
        struct tm day = {.tm_year = 70 + random_below(&source, 200),
                         .tm_mon = random_below(&source, 12),
                         .tm_mday = 1 + random_below(&source, 28),
                         .tm_hour = random_below(&source, 24),
                         .tm_min = random_below(&source, 60),
                         .tm_sec = random_below(&source, 60)};
        char text[64], back[64];
        double got;
        const double must = (double)timegm(&day);
        const int zone = random_below(&source, 24 * 60) - 12 * 60;
        const time_t there = (time_t)must + 60 * zone;
        struct tm local;
        gmtime_r(&there, &local);
        strftime(text, sizeof text, "%Y-%m-%dT%H:%M:%S", &local);
        snprintf(back, sizeof back, "%.40s.25%c%02d:%02d", text, zone < 0 ? '-' : '+',
                 abs(zone) / 60, abs(zone) % 60);
        ck_assert(hb_log_date(back, &got));
        ck_assert_msg(got == must + 0.25, "%s: %.2f", back, got);
    }
    static const char *const bad[] = {"2026-13-01T00:00:00Z",
                                      "2026-01-32T00:00",
                                      "2026-01-01",
                                      "2026-01-01T24:61:00",
                                      "2026-01-01T10:00:61Z",
                                      "2026-01-01T10:00:00+2",
                                      "2026-01-01T10:00:00 EST",
                                      "20260101T100000Z",
                                      "1.7e9",
                                      ""};
    double got;
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        ck_assert_msg(!hb_log_date(bad[i], &got), "%s", bad[i]);
    ck_assert(hb_log_date("2026-01-01 10:00", &got));
}
END_TEST

/* docs/drives.md has every field with all that its quantity can be told in. */
START_TEST(the_page_has_every_name)
{
    char path[4096], line[400], *page = calloc(1, 1 << 16);
    snprintf(path, sizeof path, "%s/docs/drives.md", getenv("TOP_SRCDIR"));
    FILE *f = fopen(path, "r");
    ck_assert(f != NULL && fread(page, 1, (1 << 16) - 1, f) > 1000);
    fclose(f);
    for (int i = 0; i < HB_LOG_NAMES; i++) {
        snprintf(line, sizeof line, "| `%s` |", hb_log_field_name(i));
        const char *at = strstr(page, line);
        ck_assert_msg(at != NULL, "%s", line);
        snprintf(line, sizeof line, "| %s |", hb_log_field_units(i));
        const char *unit = strstr(at, line);
        ck_assert_msg(unit != NULL && unit < strchr(at, '\n'), "%s %s", hb_log_field_name(i), line);
        for (const char *name = strchr(at, '`'); name && name < unit;) {
            const char *end = strchr(++name, '`');
            struct hb_log_name read;
            snprintf(line, sizeof line, "%.*s", (int)(end - name), name);
            ck_assert_msg(hb_log_name_read(line, &read) && read.field == i, "%s", line);
            name = strchr(end + 1, '`');
        }
    }
    free(page);
}
END_TEST

/* ---- formats ----------------------------------------------------------------------------------
 */

static void check_sample(const struct taken_log *t, size_t place, int field, double si)
{
    ck_assert_uint_lt(place, t->count);
    ck_assert_msg(fabs(t->sample[place].value[field] - si) <= 1e-9 * fabs(si) + 1e-9,
                  "sample %zu field %d: %.9g, must be %.9g", place, field,
                  t->sample[place].value[field], si);
}

START_TEST(tables)
{
    static const struct {
        const char *text;
        double speed, pressure;
    } same[] = {
        {"time,speed_kmh,p_kpa\n5,36,150\n", 10, 150e3},
        {"\xEF\xBB\xBFtime;speed_kmh;p_bar\r\n5;36,0;1,5\r\n", 10, 150e3},
        {"# a note\n\n\"time\"\t\"speed (m/s)\"\tp_psi\n5\t10\t\"14.503773773\"\n", 10, 100e3},
        {"id,time_ms,speed_kmh,p_kpa\n7,5000,36,80", 10, 80e3},
        {"extra,time,speed_kmh,p_kpa,speed of light\n\"a, \"\"b\"\"\",5,36,80,3e8\n", 10, 80e3}};
    for (size_t i = 0; i < sizeof same / sizeof *same; i++) {
        struct taken_log *t = of(same[i].text);
        ck_assert_msg(t->status == HOBBLE_OK && t->count == 1, "%zu: %s %s", i,
                      t->faults.item[0].key, t->faults.item[0].allowed);
        ck_assert_double_eq(t->sample[0].time, 5.0);
        check_sample(t, 0, HOBBLE_LOG_SPEED, same[i].speed);
        check_sample(t, 0, HOBBLE_LOG_PRESSURE, same[i].pressure);
        ck_assert(!t->tally.dated && isnan(t->sample[0].value[HOBBLE_LOG_INNER]));
        free(t);
    }
}
END_TEST

START_TEST(columns_that_are_said)
{
    static const struct {
        const char *columns, *text;
        size_t count;
    } said[] = {{"time=A,speed_kmh=C", "x,y,z\n1,9,36\n2,9,36\n", 2},
                {"time=A,speed_kmh=C", "1,9,36\n2,9,36\n", 2},
                {"speed=Tacho", "t,Tacho,speed_kmh\n1,36,0\n", 0},
                {"speed_kmh=Tacho", "t,Tacho,speed_kmh\n1,36,0\n", 1}};
    for (size_t i = 0; i < sizeof said / sizeof *said; i++) {
        struct taken_log *t = log_read(said[i].text, strlen(said[i].text),
                                       &(struct hobble_log_options){.columns = said[i].columns});
        ck_assert_msg(t->count == said[i].count, "%zu: %zu %s", i, t->count,
                      t->faults.item[0].allowed);
        ck_assert_int_eq(t->status, said[i].count > 0 ? HOBBLE_OK : HOBBLE_E_UNIT);
        if (t->count > 0)
            check_sample(t, 0, HOBBLE_LOG_SPEED, 10.0);
        free(t);
    }
}
END_TEST

START_TEST(sentences)
{
    /* the examples of the receivers' manuals: 48 deg 07.038 min N, 11 deg 31 min E; 22.4 kn */
    struct taken_log *t =
        of("$GPRMC,123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W*6A\r\n"
           "$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47\r\n"
           "$GPVTG,054.7,T,034.4,M,005.5,N,010.2,K*48\r\n");
    ck_assert_int_eq(t->status, HOBBLE_OK);
    ck_assert_uint_eq(t->count, 1);
    struct tm day = {
        .tm_year = 94, .tm_mon = 2, .tm_mday = 23, .tm_hour = 12, .tm_min = 35, .tm_sec = 19};
    ck_assert_double_eq(t->sample[0].time, (double)timegm(&day));
    check_sample(t, 0, HOBBLE_LOG_LATITUDE, 48.0 + 7.038 / 60.0);
    check_sample(t, 0, HOBBLE_LOG_LONGITUDE, 11.0 + 31.0 / 60.0);
    check_sample(t, 0, HOBBLE_LOG_HEIGHT, 545.4);
    check_sample(t, 0, HOBBLE_LOG_SPEED, 10.2 / 3.6);
    for (int i = 0; i < HOBBLE_LOG_ODDITIES; i++)
        ck_assert_uint_eq(t->tally.count[i], 0);
    free(t);
}
END_TEST

/* Old and odd sentences. */
START_TEST(sentences_of_other_kinds)
{
    static char text[LOG_TEXT_MOST];
    size_t n = 0;
    n = log_sentence(text, n, "GNRMC,235958.00,V,0030.0,S,17959.4,W,10,,311225,,,A"); /* weak */
    n = log_sentence(text, n, "GPVTG,054.7,034.4,005.5,018.0"); /* the old form */
    n = log_sentence(text, n, "YXXDR,C,65.5,C,INNER,P,1.5,B,TYRE,C,20,C,NOWHERE");
    n = log_sentence(text, n, "YXXDR,C,40,C,RI^4D");                 /* ^4D is M */
    n = log_sentence(text, n, "GPRMC,235959.00,A,,,,,,,311225,,,N"); /* no fix */
    n = log_sentence(text, n, "YXXDR,P,80000,P,TYRE");
    n = log_sentence(text, n,
                     "GPGGA,000000.50,0030.0,S,17959.4,W,1,05,1,70,M,,M,,"); /* past midnight */
    n = log_put(text, n,
                "$GPRMC,000003.00,A,0030.0,S,17959.4,W,10,,010126,,,A\r\n"
                "$GPRMC,000004.00,A,0030.0,S,17959.4,W,10,,010126,,,A*00\r\n"
                "rubbish\r\n");
    struct taken_log *t = log_read(text, n, NULL);
    ck_assert_int_eq(t->status, HOBBLE_OK);
    ck_assert_uint_eq(t->count, 3);
    ck_assert_double_eq(t->sample[1].time - t->sample[0].time, 1.0);
    ck_assert_double_eq(t->sample[2].time - t->sample[1].time, 1.5);
    check_sample(t, 0, HOBBLE_LOG_LATITUDE, -0.5);
    check_sample(t, 0, HOBBLE_LOG_LONGITUDE, -179.99);
    check_sample(t, 0, HOBBLE_LOG_SPEED, 5.0);
    check_sample(t, 0, HOBBLE_LOG_INNER, 65.5 + KELVIN);
    check_sample(t, 0, HOBBLE_LOG_RIM, 40.0 + KELVIN);
    check_sample(t, 0, HOBBLE_LOG_PRESSURE, 150e3);
    check_sample(t, 1, HOBBLE_LOG_PRESSURE, 80e3);
    ck_assert(isnan(t->sample[1].value[HOBBLE_LOG_SPEED]));
    ck_assert_uint_eq(t->tally.count[HOBBLE_LOG_WEAK_FIX], 1);
    ck_assert_uint_eq(t->tally.count[HOBBLE_LOG_NO_FIX], 1);
    ck_assert_uint_eq(t->tally.count[HOBBLE_LOG_BAD_SUM], 2);
    ck_assert_uint_eq(t->tally.first[HOBBLE_LOG_BAD_SUM].line, 8);
    ck_assert_uint_eq(t->tally.count[HOBBLE_LOG_UNREADABLE], 1);
    free(t);
}
END_TEST

#define GPX                                                                                        \
    "<gpx version='1.1' xmlns='http://www.topografix.com/GPX/1/1' xmlns:q='urn:q'><trk><trkseg>"
#define END "</trkseg></trk></gpx>"

START_TEST(tracks)
{
    struct taken_log *t =
        of(GPX "<trkpt lat='1' lon='2'><ele>9</ele><time>2026-05-01T10:00:00Z</time><extensions>"
               "<q:TrackPoint><q:atemp>21</q:atemp><q:speed>7.5</q:speed><q:hr>80</q:hr>"
               "<q:pressure_bar>0.4</q:pressure_bar></q:TrackPoint></extensions></trkpt></trkseg>\n"
               "<trkseg><trkpt lon='2.1' lat='1.1'><time> 2026-05-01T12:00:05.5+02:00\n</time>"
               "<cmt>Warning lamp</cmt></trkpt>" END);
    ck_assert_msg(t->status == HOBBLE_OK, "%s", t->faults.item[0].given);
    ck_assert_uint_eq(t->count, 2);
    check_sample(t, 0, HOBBLE_LOG_HEIGHT, 9.0);
    check_sample(t, 0, HOBBLE_LOG_AMBIENT, 21.0 + KELVIN);
    check_sample(t, 0, HOBBLE_LOG_SPEED, 7.5);
    check_sample(t, 0, HOBBLE_LOG_PRESSURE, 40e3);
    ck_assert_double_eq(t->sample[1].time - t->sample[0].time, 5.5);
    ck_assert(t->sample[1].unseen && !t->sample[0].unseen); /* reception was lost */
    ck_assert_int_eq(t->sample[1].mark, HOBBLE_LOG_WARNING);
    ck_assert_uint_eq(t->sample[1].line, 2);
    free(t);
}
END_TEST

START_TEST(lines_of_objects)
{
    const char text[] =
        "{\"time\":\"2026-05-01 10:00:00\",\"model\":\"x\",\"id\":\"1a2b\",\"pressure_PSI\":10,"
        "\"temperature_F\":104,\"flags\":[1,2]}\n"
        "{\"TIME\":\"2026-05-01 10:00:01\",\"ID\":\"9c\",\"Pressure_kPa\":220.0}\n"
        "{\"time\":\"2026-05-01 10:00:02\",\"speed_kmh\":\"36\",\"note\":\"stopped here\"}\n"
        "[1]\n{\"time\":7,\"time\":8}\n{\"speed_kmh\":1}\n";
    struct taken_log *t =
        log_read(text, sizeof text - 1, &(struct hobble_log_options){.sensor = "1A2B"});
    ck_assert_int_eq(t->status, HOBBLE_OK);
    ck_assert_uint_eq(t->count, 2);
    check_sample(t, 0, HOBBLE_LOG_PRESSURE, 68947.57293168361);
    check_sample(t, 0, HOBBLE_LOG_CAVITY, 313.15);
    check_sample(t, 1, HOBBLE_LOG_SPEED, 10.0);
    ck_assert_int_eq(t->sample[1].mark, HOBBLE_LOG_STOPPED);
    ck_assert_str_eq(t->sample[1].note, "stopped here");
    ck_assert_uint_eq(t->tally.count[HOBBLE_LOG_OTHER_SENSOR], 1);
    ck_assert_uint_eq(t->tally.count[HOBBLE_LOG_UNREADABLE], 3);
    free(t);
}
END_TEST

/* ---- what is refused --------------------------------------------------------------------------
 */

START_TEST(refused_with_place_and_reason)
{
    static const struct {
        const char *text;
        enum hobble_status status;
        int line;
        const char *key;
    } bad[] = {
        {"", HOBBLE_E_MISSING, 0, "log"},
        {"\n\n# nothing\n", HOBBLE_E_MISSING, 0, "log"},
        {"hello\nworld\n", HOBBLE_E_MISSING, 1, "time"},
        {"time,speed\n1,2\n", HOBBLE_E_UNIT, 1, "speed"},
        {"time,v_kmh,speed_kmh\n1,2,3\n", HOBBLE_E_DUPLICATE, 1, "speed"},
        {"time,id,p_kpa\n1,a,100\n2,b,200\n", HOBBLE_E_CONFLICT, 3, "sensor"},
        {"time,v_kmh\n1,2\n2026-01-01T00:00:00Z,3\n", HOBBLE_E_CONFLICT, 3, "time"},
        {"{\"id\":1,\"time\":1,\"pressure_kpa\":3}\n{\"id\":2,\"time\":2,\"pressure_kpa\":3}\n",
         HOBBLE_E_CONFLICT, 2, "sensor"},
        {"<!DOCTYPE gpx [<!ENTITY a 'b'>]>\n" GPX END, HOBBLE_E_SYNTAX, 1, "log"},
        {GPX "\n<trkpt lat='1' lon='1'></trkpt>" END, HOBBLE_E_MISSING, 2, "time"},
        {GPX END, HOBBLE_E_MISSING, 0, "log"},
        {"<gpx><trk></gpx>", HOBBLE_E_SYNTAX, 1, "log"},
        {"$GPRMC,1,2,3*00\n", HOBBLE_E_MISSING, 0, "log"},
    };
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        struct taken_log *t = of(bad[i].text);
        ck_assert_msg(t->status == bad[i].status, "%zu: %d %s", i, (int)t->status,
                      t->faults.item[0].allowed);
        ck_assert_uint_ge(t->faults.count, 1);
        ck_assert_str_eq(t->faults.item[0].file, "log");
        ck_assert_msg(t->faults.item[0].line == bad[i].line, "%zu: line %d", i,
                      t->faults.item[0].line);
        ck_assert_str_eq(t->faults.item[0].key, bad[i].key);
        ck_assert_str_ne(t->faults.item[0].allowed, "");
        free(t);
    }
}
END_TEST

/* A track that a box wrote until it was switched off is taken as far as it goes. */
START_TEST(cut_short)
{
    struct taken_log *t =
        of(GPX "<trkpt lat='1' lon='1'><time>2026-05-01T10:00:00Z</time></trkpt>\n"
               "<trkpt lat='1' lon='1'><ti");
    ck_assert_int_eq(t->status, HOBBLE_OK);
    ck_assert_uint_eq(t->count, 1);
    ck_assert_uint_eq(t->tally.count[HOBBLE_LOG_UNREADABLE], 1);
    free(t);
}
END_TEST

Suite *log_suite(void)
{
    Suite *suite = suite_create("log");
    TCase *tcase = tcase_create("log");
    tcase_add_test(tcase, names_and_units);
    tcase_add_test(tcase, numbers_as_the_c_library_reads_them);
    tcase_add_test(tcase, days_as_the_c_library_counts_them);
    tcase_add_test(tcase, the_page_has_every_name);
    tcase_add_test(tcase, tables);
    tcase_add_test(tcase, columns_that_are_said);
    tcase_add_test(tcase, sentences);
    tcase_add_test(tcase, sentences_of_other_kinds);
    tcase_add_test(tcase, tracks);
    tcase_add_test(tcase, lines_of_objects);
    tcase_add_test(tcase, refused_with_place_and_reason);
    tcase_add_test(tcase, cut_short);
    suite_add_tcase(suite, tcase);
    return suite;
}
