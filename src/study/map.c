/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/const.h"
#include "study/study.h"
#include "study/subset.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#ifdef _OPENMP
#include <omp.h>
#endif

#define BEYOND 2.0 /* a rule's drive goes on to so many times its distance */

/* ---- axes ------------------------------------------------------------------------------------ */

/* Rows of a trip that are about advice and leave the range alone. */
static const enum hb_param_id not_range[] = {HB_P_TO, HB_P_SPEED_LIMIT, HB_P_FLAT_TYRES, HB_P_AGE,
                                             HB_P_MAKER_DISTANCE};

/* Rows that say the same thing in another way: one of them in each set at most. */
static const enum hb_param_id same[][4] = {
    {HB_P_LOAD, HB_P_LOAD_SHARE, HB_P_PEOPLE, HB_P_LUGGAGE},
    {HB_P_LEAK, HB_P_HOLE, HB_P_LEAK, HB_P_HOLE},
};
enum { SAME = sizeof same / sizeof *same, ALIKE = sizeof same[0] / sizeof same[0][0] };

bool hobble_axis_row(int row)
{
    if (row < 0 || row >= HB_PARAM_COUNT)
        return false;
    const struct hobble_param *p = &hobble_param_table(NULL)[row];
    for (size_t i = 0; i < sizeof not_range / sizeof *not_range; i++)
        if ((int)not_range[i] == row)
            return false;
    return p->kind == HOBBLE_NUMBER &&
           (p->group == HOBBLE_TYRE || p->group == HOBBLE_VEHICLE || p->group == HOBBLE_TRIP);
}

/* Whether other tyres have to be made, or tested, for another value. */
static bool changes_type(int row)
{
    const struct hobble_param *p = &hobble_param_table(NULL)[row];
    return p->group == HOBBLE_TYRE || p->stage != HOBBLE_NOT_DRAWN;
}

static int set_of(int row)
{
    for (int i = 0; i < SAME; i++)
        for (int k = 0; k < ALIKE; k++)
            if ((int)same[i][k] == row)
                return i;
    return -1;
}

static void put(struct hb_settings *s, int row, double value)
{
    const int set = set_of(row);
    for (int k = 0; set >= 0 && k < ALIKE; k++) {
        const enum hb_param_id other = same[set][k];
        /* luggage goes with people */
        if ((int)other != row && !(other == HB_P_LUGGAGE && row == HB_P_PEOPLE) &&
            !(other == HB_P_PEOPLE && row == HB_P_LUGGAGE)) {
            s->row[other].value = (double)NAN;
            s->row[other].given = false;
        }
    }
    s->row[row].value = value;
    s->row[row].given = true;
}

static enum hobble_status axis_fault(const struct hobble_axis *axis, enum hobble_status status,
                                     const char *allowed, struct hobble_faults *sink)
{
    struct hobble_fault f = {.status = status};
    const bool known = axis->row >= 0 && axis->row < HB_PARAM_COUNT;
    hobble_fault_text(f.key, known ? hobble_param_table(NULL)[axis->row].key : "axis");
    hobble_fault_text(f.allowed, allowed);
    return hobble_faults_add(sink, &f);
}

/* Counts come in whole steps. */
static bool steps_whole(const struct hobble_axis *axis)
{
    const double step = (axis->to - axis->from) / (axis->count - 1);
    return axis->from == floor(axis->from) && step == floor(step);
}

static enum hobble_status check_axis(const struct hobble_axis *axis, struct hobble_faults *sink)
{
    if (!hobble_axis_row(axis->row))
        return axis_fault(axis, HOBBLE_E_UNSUPPORTED, "a number that changes the range", sink);
    const struct hobble_param *p = &hobble_param_table(NULL)[axis->row];
    if (axis->count < 2 || axis->count > HOBBLE_AXIS_MAX)
        return axis_fault(axis, HOBBLE_E_RANGE, "2 to 400 steps", sink);
    /* a limit that is not met for rounding alone is met */
    const double hair = 1e-9 * (p->max - p->min);
    if (!(axis->from >= p->min - hair && axis->to <= p->max + hair && axis->from < axis->to))
        return axis_fault(axis, HOBBLE_E_RANGE, "a rising axis within the limits of its row", sink);
    if (p->unit == HOBBLE_UNIT_WHOLE && !steps_whole(axis))
        return axis_fault(axis, HOBBLE_E_RANGE, "whole numbers at every step", sink);
    return HOBBLE_OK;
}

static enum hobble_status check_axes(const struct hobble_axis axis[2], struct hobble_faults *sink)
{
    const enum hobble_status first = check_axis(&axis[0], sink);
    const enum hobble_status second = check_axis(&axis[1], sink);
    if (first != HOBBLE_OK || second != HOBBLE_OK)
        return first != HOBBLE_OK ? first : second;
    const bool together = set_of(axis[0].row) >= 0 && set_of(axis[0].row) == set_of(axis[1].row) &&
                          !(axis[0].row == HB_P_PEOPLE && axis[1].row == HB_P_LUGGAGE) &&
                          !(axis[0].row == HB_P_LUGGAGE && axis[1].row == HB_P_PEOPLE);
    if (axis[0].row == axis[1].row || together)
        return axis_fault(&axis[1], HOBBLE_E_CONFLICT, "two axes that do not say the same thing",
                          sink);
    return HOBBLE_OK;
}

/* ---- room ------------------------------------------------------------------------------------ */

void hobble_map_free(struct hobble_map *map)
{
    free(map->value[0]);
    free(map->value[1]);
    free(map->p5);
    free(map->p50);
    free(map->p95);
    free(map->rim);
    free(map->share);
    free(map->reach);
    free(map->cut);
    free(map->holds);
    free(map->outside);
    memset(map, 0, sizeof *map);
}

static double *numbers(size_t count)
{
    return calloc(count, sizeof(double));
}

static enum hobble_status make_room(struct hobble_map *m)
{
    const size_t cells = (size_t)m->axis[0].count * (size_t)m->axis[1].count;
    for (int a = 0; a < 2; a++) {
        m->value[a] = numbers((size_t)m->axis[a].count);
        for (int i = 0; m->value[a] && i < m->axis[a].count; i++)
            m->value[a][i] =
                m->axis[a].from + (m->axis[a].to - m->axis[a].from) * i / (m->axis[a].count - 1);
    }
    m->p5 = numbers(cells);
    m->p50 = numbers(cells);
    m->p95 = numbers(cells);
    m->rim = numbers(cells);
    m->share = numbers(cells);
    m->reach = numbers(cells);
    m->cut = calloc(cells, 1);
    m->holds = calloc(cells, 1);
    m->outside = calloc(cells, 1);
    const bool all = m->value[0] && m->value[1] && m->p5 && m->p50 && m->p95 && m->rim &&
                     m->share && m->reach && m->cut && m->holds && m->outside;
    return all ? HOBBLE_OK : HOBBLE_E_MEMORY;
}

/* ---- one cell -------------------------------------------------------------------------------- */

/* A map under way. */
struct job {
    const hobble_case *c;
    struct hobble_map *map;
    int threads;
    hobble_progress *progress;
    void *context;
    struct hobble_faults *sink;
    size_t done;
    const struct hb_ensemble *ensemble; /* of the part that is being filled */
};

static void read_range(const struct hb_subset *subset, const struct hb_plan *plan,
                       struct hb_log *log, struct hobble_map *m, size_t cell)
{
    const size_t legs = plan->journey.count;
    double horizon = HUGE_VAL, on_rim = 0.0;
    for (size_t i = 0; i < subset->count; i++) {
        const double before = plan->now > 0 ? log->record[i * legs + plan->now - 1].distance : 0.0;
        const double left = fmax(log->outcome[i].distance - before, 0.0);
        log->value[i] = left;
        if (log->outcome[i].end == HB_END_HORIZON)
            horizon = fmin(horizon, left);
        on_rim += log->record[(i + 1) * legs - 1].entry >= subset->tyre[i].deflection_max;
    }
    double *const band[] = {m->p5, m->p50, m->p95};
    static const double share[] = {0.05, 0.50, 0.95};
    m->rim[cell] = on_rim / (double)subset->count;
    for (int k = 0; k < 3; k++) {
        const double q = hb_quantile(log->value, subset->count, share[k]);
        m->cut[cell] |= (unsigned char)((q >= horizon) << k);
        band[k][cell] = hb_rim_ends_it(m->rim[cell]) ? (double)NAN : q;
    }
}

/* The question of a cell, out of the settings of its tyres. Trip rows only. */
static enum hobble_status ask(const struct job *j, const struct hb_settings *base, int x, int y,
                              struct hb_settings *settings, struct hb_question *q,
                              struct hobble_faults *sink)
{
    *settings = *base;
    put(settings, j->map->axis[0].row, j->map->value[0][x]);
    put(settings, j->map->axis[1].row, j->map->value[1][y]);
    return hb_question_make(settings, j->c->leg, j->c->legs, q, sink);
}

/* Whether the rule holds in a cell: the share leaves no doubt, and nothing else bars it. */
static bool holds_there(const struct job *j, const struct hb_subset *subset,
                        const struct hb_settings *settings, const struct hb_question *q,
                        double share)
{
    struct hb_ensemble there = *j->ensemble;
    bool stop[HOBBLE_STOP_COUNT] = {false};
    there.settings = settings;
    there.question = q;
    return share >= hb_needed_share(j->map->required, subset->worth) &&
           !hb_rule_barred(&there, q->load / q->index_load, HB_RULE_DISTANCE, stop);
}

static enum hobble_status fill_cell(const struct job *j, const struct hb_subset *subset,
                                    const struct hb_settings *base, int x, int y, double *closure)
{
    struct hobble_map *m = j->map;
    const size_t cell = (size_t)y * (size_t)m->axis[0].count + (size_t)x;
    struct hb_settings settings;
    struct hb_question q;
    struct hb_plan plan;
    struct hb_log log = {0};
    enum hobble_status status = ask(j, base, x, y, &settings, &q, NULL);
    if (status == HOBBLE_OK && !hb_log_make(&log, subset->count, q.past.count + 1))
        status = HOBBLE_E_MEMORY;
    if (status == HOBBLE_OK) {
        m->outside[cell] = hb_outside_checked(&settings, &q);
        hb_plan_asked(&q, &plan);
        hb_subset_drive(subset, &plan, &log);
        read_range(subset, &plan, &log, m, cell);
        *closure = hb_subset_closure(subset, &log);
        hb_plan_beyond(&q, q.speed, HB_RULE_DISTANCE, BEYOND, &plan);
        hb_subset_drive(subset, &plan, &log);
        *closure = fmax(*closure, hb_subset_closure(subset, &log));
        m->reach[cell] = hb_subset_reach(subset, &log);
        double made = 0.0;
        for (size_t i = 0; i < subset->count; i++)
            made += log.outcome[i].distance >= HB_RULE_DISTANCE;
        m->share[cell] = made / (double)subset->count;
        m->holds[cell] = holds_there(j, subset, &settings, &q, m->share[cell]);
    }
    hb_log_free(&log);
    return status;
}

/* ---- cells that share their tyres ------------------------------------------------------------ */

/* Part of an axis: one value, or all. */
struct part {
    int from, count;
};

static void tell(struct job *j)
{
    size_t done;
#ifdef _OPENMP
    if (omp_get_thread_num() != 0)
        return;
#pragma omp atomic read
#endif
    done = j->done;
    const double cells = (double)j->map->axis[0].count * j->map->axis[1].count;
    if (j->progress)
        j->progress(j->context, (double)done / cells);
}

/* Every cell is computed by itself, so its bytes do not depend on the number of threads. */
static enum hobble_status fill_cells(struct job *j, const struct hb_subset *subset,
                                     const struct hb_settings *base, struct part x, struct part y)
{
    const int cells = x.count * y.count;
    int worst = HOBBLE_OK;
    double closure = 0.0;
#ifdef _OPENMP
    const int most = omp_get_max_threads();
    const int team = j->threads > 0 && j->threads < most ? j->threads : most;
#pragma omp parallel for schedule(dynamic) num_threads(team) reduction(max : worst, closure)
#endif
    for (int i = 0; i < cells; i++) {
        double missed = 0.0;
        const int status =
            (int)fill_cell(j, subset, base, x.from + i % x.count, y.from + i / x.count, &missed);
        worst = status > worst ? status : worst;
        closure = missed > closure ? missed : closure;
#ifdef _OPENMP
#pragma omp atomic update
#endif
        j->done++;
        tell(j);
    }
    j->map->energy_closure = fmax(j->map->energy_closure, closure);
    return (enum hobble_status)worst;
}

static enum hobble_status fill_part(struct job *j, struct part x, struct part y)
{
    struct hb_study s;
    struct hb_subset subset;
    hobble_case *c = hobble_case_clone(j->c);
    if (!c)
        return HOBBLE_E_MEMORY;
    put(&c->settings, j->map->axis[0].row, j->map->value[0][x.from]);
    put(&c->settings, j->map->axis[1].row, j->map->value[1][y.from]);
    enum hobble_status status = hb_study_open(c, j->threads, &s, j->sink);
    if (status == HOBBLE_OK) {
        struct hobble_map *m = j->map;
        m->made++;
        m->tested = s.ensemble.tested;
        m->passed = hb_ensemble_passed(&s.ensemble);
        m->marking = s.question.built.marking;
        m->energy_closure = fmax(m->energy_closure, s.ensemble.closure);
        hb_subset_make(&s.ensemble, &subset);
        m->required = subset.required;
        const double needed = hb_needed_share(subset.required, subset.worth);
        m->needed = fmax(m->needed, needed);
        m->counted = m->made > 1 && m->counted < (int)subset.count ? m->counted : (int)subset.count;
        subset.required =
            fmin(needed, 1.0); /* the border is where the rule is no longer sure to hold */
        j->ensemble = &s.ensemble;
        status = fill_cells(j, &subset, &s.settings, x, y);
    }
    hb_study_close(&s);
    hobble_case_free(c);
    return status;
}

static enum hobble_status fill_map(struct job *j)
{
    const struct hobble_axis *axis = j->map->axis;
    const bool by_x = changes_type(axis[0].row), by_y = changes_type(axis[1].row);
    enum hobble_status status = HOBBLE_OK;
    for (int y = 0; y < (by_y ? axis[1].count : 1) && status == HOBBLE_OK; y++)
        for (int x = 0; x < (by_x ? axis[0].count : 1) && status == HOBBLE_OK; x++)
            status = fill_part(j, (struct part){x, by_x ? 1 : axis[0].count},
                               (struct part){y, by_y ? 1 : axis[1].count});
    return status;
}

/* Faults of a place on the map that the question itself has not: one line for each kind. */
static enum hobble_status try_corners(const struct job *j)
{
    const int last[2] = {j->map->axis[0].count - 1, j->map->axis[1].count - 1};
    for (int corner = 0; corner < 4; corner++) {
        struct hb_settings settings;
        struct hb_question q;
        const enum hobble_status status = ask(j, &j->c->settings, corner & 1 ? last[0] : 0,
                                              corner & 2 ? last[1] : 0, &settings, &q, j->sink);
        if (status != HOBBLE_OK)
            return status;
    }
    return HOBBLE_OK;
}

/* Where the question itself stands. */
static void find_asked(const struct job *j)
{
    struct hobble_map *m = j->map;
    struct hb_question q;
    const bool known =
        hb_question_make(&j->c->settings, j->c->leg, j->c->legs, &q, NULL) == HOBBLE_OK;
    m->example = known && q.built.example;
    m->driven = known ? q.past.run_seen + q.past.run_unseen : (double)NAN;
    for (int a = 0; a < 2; a++) {
        const int row = m->axis[a].row;
        m->asked[a] = j->c->settings.row[row].value;
        if (known && row == HB_P_LOAD)
            m->asked[a] = q.load;
        if (known && row == HB_P_LOAD_SHARE)
            m->asked[a] = q.load / q.index_load;
    }
}

static double seconds_now(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

enum hobble_status hobble_map_make(const hobble_case *c, const struct hobble_axis axis[2],
                                   int threads, hobble_progress *progress, void *context,
                                   struct hobble_map *out, struct hobble_faults *sink)
{
    struct hobble_map m = {.axis = {axis[0], axis[1]}, .rule_distance = HB_RULE_DISTANCE};
    struct job j = {c, &m, threads, progress, context, sink, 0, NULL};
    const double began = seconds_now();
    enum hobble_status status = check_axes(axis, sink);
    if (status == HOBBLE_OK)
        status = make_room(&m);
    if (status == HOBBLE_OK)
        status = try_corners(&j);
    if (status == HOBBLE_OK)
        status = fill_map(&j);
    if (status == HOBBLE_OK && m.energy_closure > 1e-3)
        status = HOBBLE_E_ENERGY;
    if (status != HOBBLE_OK) {
        hobble_map_free(&m);
        return status;
    }
    find_asked(&j);
    m.seconds = seconds_now() - began;
    *out = m;
    return HOBBLE_OK;
}
