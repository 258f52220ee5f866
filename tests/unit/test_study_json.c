/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_study_json.c - every number and truth that why, map and show say in JSON against the struct
 * that they were made of: each in its place, in its unit, and none besides. The table here knows
 * nothing of the rows that the JSON is made of. */
#include "ask.h"
#include "report/describe/answers.h"
#include "report/json/render.h"

#include <check.h>
#include <math.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

Suite *study_json_suite(void);

enum { PATH = 120, DEPTH = 3, ROUNDS = 4 };

/* What stands at the offset: CELLS and FLAGS are pointers to one number a cell of the map. */
enum kind { REAL, INT, BOOL, AXIS, CELLS, FLAGS };
/* Units of the report over those of the answer (definitions). */
enum unit { ONE, KM_OF, KMH_OF, MINUTE_OF, MM_OF, CELSIUS_OF };

/* A path with "[]" for every place in a list; strides: bytes from one place to the next. */
struct row {
    const char *path;
    enum kind kind;
    enum unit unit;
    size_t offset, stride[DEPTH];
    unsigned mask;
};

#define W(field) offsetof(struct hobble_why, field)
#define M(field) offsetof(struct hobble_map, field)
#define L(field) offsetof(struct hobble_wall, field)
#define J(field) offsetof(struct hobble_life, field)
#define K(field) offsetof(struct hobble_mark_worth, field)

enum {
    NUMBER = sizeof(double),
    INDEX = sizeof(struct hobble_index),
    LEARNT = sizeof(struct hobble_learnt),
    OUTPUT = INDEX * HOBBLE_INDICES_MAX,
    POINT = sizeof(struct hobble_life_point),
    MOMENTS = sizeof(struct hobble_moments),
};

#define INDICES(path, output, ...)                                                                  \
    {path "indices[].first", REAL, ONE, W(index[output][0].first), {__VA_ARGS__ INDEX}, 0},         \
        {path "indices[].first_ci[]", REAL, ONE, W(index[output][0].first_low),                     \
         {__VA_ARGS__ INDEX, NUMBER}, 0},                                                           \
        {path "indices[].shapley", REAL, ONE, W(index[output][0].shapley), {__VA_ARGS__ INDEX}, 0}, \
        {path "indices[].total", REAL, ONE, W(index[output][0].total), {__VA_ARGS__ INDEX}, 0},     \
    {                                                                                               \
        path "indices[].total_ci[]", REAL, ONE, W(index[output][0].total_low),                      \
            {__VA_ARGS__ INDEX, NUMBER}, 0                                                          \
    }
#define COMMA ,

static const struct row why_rows[] = {
    {"example", BOOL, ONE, W(example), {0}, 0},
    {"distance_km", REAL, KM_OF, W(distance), {0}, 0},
    {"speed_kmh", REAL, KMH_OF, W(speed), {0}, 0},
    {"base_sample", INT, ONE, W(base), {0}, 0},
    {"counted", INT, ONE, W(counted), {0}, 0},
    {"explained", REAL, ONE, W(explained), {0}, 0},
    {"advice_now_km", REAL, KM_OF, W(advice_now), {0}, 0},
    {"learn[].advice_km", REAL, KM_OF, W(learn[0].advice), {LEARNT}, 0},
    {"learn[].at_best", BOOL, ONE, W(learn[0].at_best), {LEARNT}, 0},
    {"learn[].go_and_stop_turn", REAL, ONE, W(learn[0].turns), {LEARNT}, 0},
    {"journeys", INT, ONE, W(runs), {0}, 0},
    {"mean_ln_m", REAL, ONE, W(mean[0]), {0}, 0},
    {"deviation", REAL, ONE, W(deviation[0]), {0}, 0},
    {"also[].mean_c", REAL, CELSIUS_OF, W(mean[1]), {0}, 0},
    {"also[].deviation_k", REAL, ONE, W(deviation[1]), {0}, 0},
    {"also[].mean_share", REAL, ONE, W(mean[1]), {NUMBER}, 0},
    {"also[].deviation", REAL, ONE, W(deviation[1]), {NUMBER}, 0},
    INDICES("", 0, ),
    INDICES("also[].", 1, OUTPUT COMMA),
    {NULL, REAL, ONE, 0, {0}, 0}};

static const struct row map_rows[] = {
    {"example", BOOL, ONE, M(example), {0}, 0},
    {"axes[].asked", REAL, ONE, M(asked), {NUMBER}, 0},
    {"axes[].values[]", AXIS, ONE, M(value), {sizeof(double *)}, 0},
    {"range_km.p5[][]", CELLS, KM_OF, M(p5), {0}, 0},
    {"range_km.p50[][]", CELLS, KM_OF, M(p50), {0}, 0},
    {"range_km.p95[][]", CELLS, KM_OF, M(p95), {0}, 0},
    {"range_km.more_than.p5[][]", FLAGS, ONE, M(cut), {0}, 1},
    {"range_km.more_than.p50[][]", FLAGS, ONE, M(cut), {0}, 2},
    {"range_km.more_than.p95[][]", FLAGS, ONE, M(cut), {0}, 4},
    {"rim[][]", CELLS, ONE, M(rim), {0}, 0},
    {"outside_checked_range[][]", FLAGS, ONE, M(outside), {0}, 1},
    {"rule.distance_km", REAL, KM_OF, M(rule_distance), {0}, 0},
    {"rule.required_share", REAL, ONE, M(required), {0}, 0},
    {"rule.needed_share", REAL, ONE, M(needed), {0}, 0},
    {"rule.share_of_tyres[][]", CELLS, ONE, M(share), {0}, 0},
    {"rule.holds[][]", FLAGS, ONE, M(holds), {0}, 1},
    {"rule.reach_km[][]", CELLS, KM_OF, M(reach), {0}, 0},
    {"approval.tested", INT, ONE, M(tested), {0}, 0},
    {"approval.passed", INT, ONE, M(passed), {0}, 0},
    {"approval.times_run", INT, ONE, M(made), {0}, 0},
    {"counted", INT, ONE, M(counted), {0}, 0},
    {"energy_closure", REAL, ONE, M(energy_closure), {0}, 0},
    {NULL, REAL, ONE, 0, {0}, 0}};

static const struct row wall_rows[] = {
    {"example", BOOL, ONE, L(example), {0}, 0},
    {"speed_kmh", REAL, KMH_OF, L(speed), {0}, 0},
    {"load_n", REAL, ONE, L(load), {0}, 0},
    {"ambient_c", REAL, CELSIUS_OF, L(ambient), {0}, 0},
    {"evidence_items", INT, ONE, L(evidence_items), {0}, 0},
    {"limit_c", REAL, CELSIUS_OF, L(limit), {0}, 0},
    {"time_min[]", REAL, MINUTE_OF, L(time), {NUMBER}, 0},
    {"way_km[]", REAL, KM_OF, L(way), {NUMBER}, 0},
    {"depth_mm[]", REAL, MM_OF, L(depth), {NUMBER}, 0},
    {"temperature_c[][]", REAL, CELSIUS_OF, L(kelvin), {HOBBLE_WALL_PLACES * NUMBER, NUMBER}, 0},
    {NULL, REAL, ONE, 0, {0}, 0}};

static const struct row life_rows[] = {
    {"example", BOOL, ONE, J(example), {0}, 0},
    {"load_n", REAL, ONE, J(load), {0}, 0},
    {"ambient_c", REAL, CELSIUS_OF, J(ambient), {0}, 0},
    {"journey_is_ours", BOOL, ONE, J(ours), {0}, 0},
    {"tested", INT, ONE, J(tested), {0}, 0},
    {"passed", INT, ONE, J(passed), {0}, 0},
    {"counted", INT, ONE, J(passed), {0}, 0},
    {"points[].time_min", REAL, MINUTE_OF, J(point[0].time), {POINT}, 0},
    {"points[].way_km", REAL, KM_OF, J(point[0].way), {POINT}, 0},
    {"points[].speed_kmh", REAL, KMH_OF, J(point[0].speed), {POINT}, 0},
    {"points[].life_p5", REAL, ONE, J(point[0].life5), {POINT}, 0},
    {"points[].life_p50", REAL, ONE, J(point[0].life50), {POINT}, 0},
    {"points[].life_p95", REAL, ONE, J(point[0].life95), {POINT}, 0},
    {"points[].wall_p50_c", REAL, CELSIUS_OF, J(point[0].wall50), {POINT}, 0},
    {"points[].share_carrying", REAL, ONE, J(point[0].alive), {POINT}, 0},
    {NULL, REAL, ONE, 0, {0}, 0}};

#define QUANTILE(path, field)                                                                      \
    {path ".km", REAL, KM_OF, K(field.at), {0}, 0},                                                \
        {path ".ci_km[]", REAL, KM_OF, K(field.low), {NUMBER}, 0},                                 \
    {                                                                                              \
        path ".more_than", BOOL, ONE, K(field.cut), {0}, 0                                         \
    }

static const struct row mark_rows[] = {
    {"example", BOOL, ONE, K(example), {0}, 0},
    {"speed_kmh", REAL, KMH_OF, K(speed), {0}, 0},
    {"load_n", REAL, ONE, K(load), {0}, 0},
    {"ambient_c", REAL, CELSIUS_OF, K(ambient), {0}, 0},
    {"tested", INT, ONE, K(tested), {0}, 0},
    {"passed", INT, ONE, K(passed), {0}, 0},
    {"counted", INT, ONE, K(passed), {0}, 0},
    QUANTILE("range_all_types.p5", before[0]),
    QUANTILE("range_all_types.p50", before[1]),
    QUANTILE("range_all_types.p95", before[2]),
    QUANTILE("range_approved_types.p5", after[0]),
    QUANTILE("range_approved_types.p50", after[1]),
    QUANTILE("range_approved_types.p95", after[2]),
    {"curve_all_types_km[]", REAL, KM_OF, K(curve_before), {NUMBER}, 0},
    {"curve_approved_types_km[]", REAL, KM_OF, K(curve_after), {NUMBER}, 0},
    {"evidence_items", INT, ONE, K(evidence_items), {0}, 0},
    {"effective_sample_size", REAL, ONE, K(evidence_effective), {0}, 0},
    QUANTILE("range_known_types.p5", known[0]),
    QUANTILE("range_known_types.p50", known[1]),
    QUANTILE("range_known_types.p95", known[2]),
    {"curve_known_types_km[]", REAL, KM_OF, K(curve_known), {NUMBER}, 0},
    {"parameters[].all_types.mean", REAL, ONE, K(row_before[0].mean), {MOMENTS}, 0},
    {"parameters[].all_types.deviation", REAL, ONE, K(row_before[0].deviation), {MOMENTS}, 0},
    {"parameters[].approved_types.mean", REAL, ONE, K(row_after[0].mean), {MOMENTS}, 0},
    {"parameters[].approved_types.deviation", REAL, ONE, K(row_after[0].deviation), {MOMENTS}, 0},
    {NULL, REAL, ONE, 0, {0}, 0}};

/* ---- reading back ---------------------------------------------------------------------------- */

struct reading {
    const struct row *rows;
    bool seen[64];
    const void *of;
    int columns; /* of a map */
    int members;
};

static double over(enum unit unit)
{
    static const double by[] = {
        [ONE] = 1,      [KM_OF] = KM,    [KMH_OF] = KMH, [MINUTE_OF] = MINUTE,
        [MM_OF] = 1e-3, [CELSIUS_OF] = 1};
    return by[unit];
}

static double expected(const struct reading *r, const struct row *row, const size_t at[DEPTH])
{
    const char *p = (const char *)r->of + row->offset;
    const size_t cell = at[0] * (size_t)r->columns + at[1];
    double value = 0.0;
    if (row->kind == CELLS)
        value = (*(const double *const *)(const void *)p)[cell];
    else if (row->kind == FLAGS)
        return ((*(const unsigned char *const *)(const void *)p)[cell] & row->mask) != 0;
    else if (row->kind == AXIS)
        return (*(const double *const *)(const void *)(p + at[0] * row->stride[0]))[at[1]];
    else if (row->kind == INT)
        return *(const int *)(const void *)p;
    else {
        for (int i = 0; i < DEPTH; i++)
            p += at[i] * row->stride[i];
        if (row->kind == BOOL)
            return *(const bool *)(const void *)p;
        value = *(const double *)(const void *)p;
    }
    return (value - (row->unit == CELSIUS_OF ? 273.15 : 0.0)) / over(row->unit);
}

static const struct row *find(const struct reading *r, const char *path, const char *behind)
{
    char whole[PATH + 8];
    snprintf(whole, sizeof whole, "%s%s", path, behind);
    for (const struct row *row = r->rows; row->path; row++)
        if (strcmp(row->path, whole) == 0)
            return row;
    return NULL;
}

/* What stands at the top of every answer, or follows from what does. */
static bool is_of_all(const char *path, const json_t *value, const struct reading *r)
{
    const double is = json_is_number(value) ? json_number_value(value) : 0.0;
    if (strcmp(path, "seed") == 0)
        ck_assert_int_eq((int)is, 1);
    else if (strcmp(path, "members") == 0)
        ck_assert_int_eq((int)is, r->members);
    else if (strcmp(path, "confidence") == 0)
        ck_assert_double_eq_tol(is, 0.95, 1e-12);
    else if (strcmp(path, "conditioned") == 0)
        ck_assert(json_is_false(value));
    else if (strcmp(path, "too_few") == 0)
        ck_assert(json_is_true(value) == (r->members < 600)); /* enough are 400 that count */
    else
        return false;
    return true;
}

static void read_one(struct reading *r, const char *path, const size_t at[DEPTH],
                     const json_t *value)
{
    const struct row *row = find(r, path, "");
    if (json_is_string(value))
        return;
    if (!row && json_is_null(value))
        row = find(r, path, "[]"); /* a list that is not told at all */
    if (!row && json_is_null(value) && strcmp(path, "measure_first") == 0)
        return;
    if (!row && is_of_all(path, value, r))
        return;
    ck_assert_msg(row != NULL, "%s is told, and nobody knows what it is", path);
    const double wanted = expected(r, row, at);
    r->seen[row - r->rows] = true;
    ck_assert_msg(json_is_null(value) == !isfinite(wanted), "%s: null or not", path);
    if (json_is_null(value))
        return;
    ck_assert_msg(json_is_boolean(value) == (row->kind == BOOL || row->kind == FLAGS), "%s", path);
    const double is = json_is_boolean(value) ? json_is_true(value) : json_number_value(value);
    ck_assert_msg(fabs(is - wanted) <= 1e-9 * fmax(1.0, fabs(wanted)),
                  "%s [%zu][%zu][%zu]: %.12g, not %.12g", path, at[0], at[1], at[2], is, wanted);
}

static void read_all(struct reading *r, const char *path, const size_t at[DEPTH], int depth,
                     json_t *value)
{
    char inner[PATH];
    const char *key;
    json_t *item;
    size_t place, here[DEPTH];
    memcpy(here, at, sizeof here);
    if (json_is_object(value)) {
        json_object_foreach(value, key, item)
        {
            snprintf(inner, sizeof inner, "%s%s%s", path, *path ? "." : "", key);
            read_all(r, inner, here, depth, item);
        }
    } else if (json_is_array(value)) {
        snprintf(inner, sizeof inner, "%s[]", path);
        ck_assert_int_lt(depth, DEPTH);
        json_array_foreach(value, place, item)
        {
            here[depth] = place;
            read_all(r, inner, here, depth + 1, item);
        }
    } else {
        read_one(r, path, at, value);
    }
}

static void read_back(struct reading *r, const struct hb_answer *answer, const hobble_case *c,
                      const void *of)
{
    const size_t at[DEPTH] = {0};
    json_t *o = hb_render_json(answer, c, of);
    ck_assert_ptr_nonnull(o);
    r->of = of;
    r->members = (int)hobble_case_number(c, hobble_param_find("members"));
    read_all(r, "", at, 0, o);
    json_decref(o);
}

static void every_row_appeared(const struct reading *r)
{
    for (const struct row *row = r->rows; row->path; row++)
        ck_assert_msg(r->seen[row - r->rows], "%s never appeared", row->path);
}

/* ---- questions ------------------------------------------------------------------------------- */

/* From 0 to 1: D. E. Knuth's MMIX generator, The Art of Computer Programming 2, 3.3.4. */
static double drawn(void)
{
    static unsigned long long state = 20250;
    state = state * 6364136223846793005ULL + 1442695040888963407ULL;
    return (double)(state >> 11) / 9007199254740992.0;
}

static hobble_case *question(int members)
{
    hobble_case *c = ask_vouched(members);
    ask_set(c, "load_share", 0.4 + 0.4 * drawn());
    ask_set(c, "speed", 40.0 + 60.0 * drawn());
    ask_set(c, "ambient", -10.0 + 40.0 * drawn());
    ask_set(c, "unseen", 3.0 * drawn());
    return c;
}

/* Sources of all: the answer's struct, and definitions of units. */
START_TEST(why_is_read_back)
{
    struct reading r = {.rows = why_rows};
    for (int i = 0; i < ROUNDS; i++) {
        static struct hobble_why w;
        hobble_case *c = question(i == 2 ? 600 : 20); /* of too few nothing is shared: nulls */
        ask_set(c, "to", i % 2 ? 2.0 : 60.0);         /* where all arrive nothing varies: nulls */
        if (i == 3)
            ask_word(c, "ran_flat", "unknown"); /* known only at best */
        ck_assert_int_eq(hobble_why_find(c, 1, &w, NULL), HOBBLE_OK);
        read_back(&r, &hb_why_answer, c, &w);
        ck_assert_int_eq(isnan(w.explained), i != 2);
        hobble_case_free(c);
    }
    every_row_appeared(&r);
}
END_TEST

START_TEST(map_is_read_back)
{
    const struct hobble_axis axis[2] = {{hobble_param_find("speed"), 30.0, 110.0, 3},
                                        {hobble_param_find("load_share"), 0.3, 1.4, 4}};
    struct reading map = {.rows = map_rows, .columns = 3};
    struct reading contour = {.rows = map_rows, .columns = 3};
    for (int i = 0; i < ROUNDS; i++) {
        struct hobble_map m;
        hobble_case *c = question(24);
        ck_assert_int_eq(hobble_map_make(c, axis, 1, NULL, NULL, &m, NULL), HOBBLE_OK);
        read_back(&map, &hb_map_answer, c, &m);
        read_back(&contour, &hb_contour_answer, c, &m);
        hobble_map_free(&m);
        hobble_case_free(c);
    }
    every_row_appeared(&map);
    every_row_appeared(&contour);
}
END_TEST

/* Every cell stands in CSV as in the table; the line of names is one of its own. */
START_TEST(csv_has_every_cell)
{
    const struct hobble_axis axis[2] = {{hobble_param_find("speed"), 30.0, 110.0, 3},
                                        {hobble_param_find("load_share"), 0.3, 0.9, 2}};
    struct hobble_map m;
    struct hb_scope at;
    char *text = NULL;
    size_t size = 0;
    hobble_case *c = question(24);
    ck_assert_int_eq(hobble_map_make(c, axis, 1, NULL, NULL, &m, NULL), HOBBLE_OK);
    const struct hb_scope scope = hb_answer_scope(&hb_map_answer, c, &m, false);
    FILE *f = open_memstream(&text, &size);
    hb_render_csv(f, hb_row_find("cells", strlen("cells"), &scope, &at), &scope);
    fclose(f);
    char *line = strchr(text, '\n');
    for (size_t i = 0; i < 6; i++, line = strchr(line + 1, '\n')) {
        double is[13];
        const double wanted[] = {
            m.value[0][i % 3], m.value[1][i / 3], m.p5[i] / KM,      m.p50[i] / KM, m.p95[i] / KM,
            m.cut[i] & 1,      m.cut[i] >> 1 & 1, m.cut[i] >> 2 & 1, m.rim[i],      m.share[i],
            m.reach[i] / KM,   m.outside[i],      m.holds[i]};
        char *p = line + 1;
        for (int k = 0; k < 13; k++, p++) {
            is[k] = *p == ',' ? (double)NAN : strtod(p, &p); /* an empty place is no number */
            ck_assert_int_eq(*p, k < 12 ? ',' : '\n');
            ck_assert(isnan(is[k]) == isnan(wanted[k]));
            if (!isnan(wanted[k]))
                ck_assert_double_eq_tol(is[k], wanted[k], 1e-8 * fmax(1.0, fabs(wanted[k])));
        }
    }
    ck_assert_str_eq(line, "\n");
    free(text);
    hobble_map_free(&m);
    hobble_case_free(c);
}
END_TEST

START_TEST(show_is_read_back)
{
    static struct hobble_wall wall;
    static struct hobble_life life;
    static struct hobble_mark_worth mark;
    struct reading r[] = {{.rows = wall_rows}, {.rows = life_rows}, {.rows = mark_rows}};
    for (int i = 0; i < ROUNDS; i++) {
        hobble_case *c = question(40);
        if (i % 2 == 0) { /* it tells next to nothing, and contradicts nothing */
            struct hobble_evidence item;
            hobble_evidence_begin(HOBBLE_EVIDENCE_RUN, &item);
            item.of = HOBBLE_RUN_ANOTHER_UNIT;
            item.outcome = HOBBLE_RUN_SURVIVED;
            item.load_share = 0.3;
            item.distance = 1e3;
            ck_assert_int_eq(hobble_case_evidence_add(c, &item, NULL), HOBBLE_OK);
        }
        ck_assert_int_eq(hobble_wall_make(c, &wall, NULL), HOBBLE_OK);
        ck_assert_int_eq(hobble_life_make(c, 1, &life, NULL), HOBBLE_OK);
        ck_assert_int_eq(hobble_mark_make(c, 1, &mark, NULL), HOBBLE_OK);
        read_back(&r[0], &hb_wall_answer, c, &wall);
        read_back(&r[1], &hb_life_answer, c, &life);
        read_back(&r[2], &hb_mark_answer, c, &mark);
        hobble_case_free(c);
    }
    for (int i = 0; i < 3; i++)
        every_row_appeared(&r[i]);
}
END_TEST

Suite *study_json_suite(void)
{
    Suite *suite = suite_create("study_json");
    TCase *all = tcase_create("study_json");
    tcase_set_timeout(all, 120.0); /* sanitizers and valgrind are slow */
    tcase_add_test(all, why_is_read_back);
    tcase_add_test(all, map_is_read_back);
    tcase_add_test(all, csv_has_every_cell);
    tcase_add_test(all, show_is_read_back);
    suite_add_tcase(suite, all);
    return suite;
}
