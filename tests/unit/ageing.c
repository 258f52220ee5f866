/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ageing.h"

#include <gsl/gsl_multifit.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- reading --------------------------------------------------------------------------------- */

enum { TYPE, AGE, NEW, ROAD, PRESSURE, LOAD, HOURS, SPEED, DISTANCE, FAILURE, FIELDS };
static const char header[] = "type,age_years,new_or_used,road_km,pressure_kpa,load_kg,"
                             "hours_to_failure,speed_at_failure_kmh,distance_at_failure_km,failure";

/* Cuts at commas, empty fields included; returns how many there are. */
static int cut(char *line, char *field[FIELDS])
{
    int n = 0;
    line[strcspn(line, "\r\n")] = '\0';
    for (char *at = line; at; n++) {
        char *comma = strchr(at, ',');
        if (comma)
            *comma++ = '\0';
        if (n < FIELDS)
            field[n] = at;
        at = comma;
    }
    return n;
}

static bool number(const char *text, double least, double *value)
{
    char *end = NULL;
    *value = strtod(text, &end);
    return end != text && *end == '\0' && isfinite(*value) && *value >= least;
}

static bool read_run(char *line, struct ageing_run *run)
{
    char *field[FIELDS] = {NULL};
    if (cut(line, field) != FIELDS || strlen(field[TYPE]) != 1)
        return false;
    const char *failure = field[FAILURE];
    run->type = *field[TYPE];
    run->is_new = strcmp(field[NEW], "new") == 0;
    run->names_belt = strstr(failure, "BE") || strstr(failure, "B1") || strstr(failure, "B2");
    return (run->is_new || strcmp(field[NEW], "oem") == 0 || strcmp(field[NEW], "repl") == 0) &&
           number(field[AGE], 0.0, &run->age) && number(field[HOURS], 0.01, &run->hours) &&
           number(field[SPEED], 1.0, &run->speed) && number(field[DISTANCE], 1.0, &run->distance);
}

bool ageing_load(struct ageing_data *data, char *why, size_t why_size)
{
    char line[400];
    int at = 0;
    bool good = true, headed = false;
    FILE *f = fopen(TEST_DATA_DIR "/tyre-ageing.csv", "r");
    data->runs = 0;
    (void)snprintf(why, why_size, "tyre-ageing.csv cannot be opened");
    while (f && good && fgets(line, sizeof line, f)) {
        at++;
        if (line[0] == '#')
            continue;
        if (!headed) {
            line[strcspn(line, "\r\n")] = '\0';
            good = headed = strcmp(line, header) == 0;
        } else {
            good = data->runs < AGEING_RUNS_MAX && read_run(line, &data->run[data->runs]);
            data->runs += good;
        }
        if (!good)
            (void)snprintf(why, why_size, "tyre-ageing.csv:%d cannot be read", at);
    }
    if (f)
        (void)fclose(f);
    return f && good && headed;
}

/* ---- the schedule ---------------------------------------------------------------------------- */

#define FIRST_HOURS 2.0
#define FIRST_SPEED 80.0
#define STEP_FROM   140.0
#define STEP_BY     10.0
#define STEP_HOURS  0.5

static double top_speed(const struct ageing_data *data, const struct ageing_reading *reading,
                        char type)
{
    double top = 0.0;
    if (!strchr(reading->held, type))
        return HUGE_VAL;
    for (size_t i = 0; i < data->runs; i++)
        if (data->run[i].type == type)
            top = fmax(top, data->run[i].speed);
    return top;
}

/* Integral of speed to a power over the time of a run (h), speeds in km/h; the last speed too. */
static double integral(double hours, double top, double power, double *last)
{
    double step = fmin(hours, FIRST_HOURS), left = hours - step;
    double sum = step * pow(FIRST_SPEED, power);
    *last = FIRST_SPEED;
    for (double v = STEP_FROM; left > 1e-9; v += STEP_BY) {
        *last = fmin(v, top);
        step = fmin(left, STEP_HOURS);
        left -= step;
        sum += step * pow(*last, power);
    }
    return sum;
}

void ageing_schedule(const struct ageing_data *data, const struct ageing_reading *reading,
                     const struct ageing_run *run, double *speed, double *distance)
{
    *distance = integral(run->hours, top_speed(data, reading, run->type), 1.0, speed);
}

double ageing_life(const struct ageing_data *data, const struct ageing_reading *reading,
                   const struct ageing_run *run)
{
    /* km: (v/v0)^power ds with ds = v dt */
    const double power = reading->power + (reading->in_hours ? 0.0 : 1.0);
    double last;
    return log(integral(run->hours, top_speed(data, reading, run->type), power, &last)) -
           reading->power * log(FIRST_SPEED);
}

/* ---- levels and trend ------------------------------------------------------------------------ */

/* The runs that count, with their ln life. */
struct sample {
    size_t n;
    const struct ageing_run *run[AGEING_RUNS_MAX];
    double y[AGEING_RUNS_MAX];
};

static struct sample collect(const struct ageing_data *data, const struct ageing_reading *reading)
{
    struct sample s = {.n = 0};
    for (size_t i = 0; i < data->runs; i++)
        if (strchr(reading->types, data->run[i].type)) {
            s.run[s.n] = &data->run[i];
            s.y[s.n++] = ageing_life(data, reading, &data->run[i]);
        }
    return s;
}

static bool of_group(const struct ageing_run *run, char type, bool is_new)
{
    return run->type == type && run->is_new == is_new;
}

/* Pooled within the types, with this trend taken out. */
static struct ageing_scatter pooled(const struct sample *s, const char *types, bool is_new,
                                    double trend)
{
    struct ageing_scatter scatter = {.s = 0.0};
    for (const char *type = types; *type; type++) {
        double y[AGEING_RUNS_MAX];
        size_t n = 0;
        for (size_t i = 0; i < s->n; i++)
            if (of_group(s->run[i], *type, is_new))
                y[n++] = s->y[i] - trend * s->run[i]->age;
        if (n > 1)
            scatter.s += gsl_stats_variance(y, 1, n) * (double)(n - 1);
        scatter.freedom += n > 1 ? (int)n - 1 : 0;
    }
    scatter.s = sqrt(scatter.s / scatter.freedom);
    return scatter;
}

static void regress(const struct sample *s, const char *types, struct ageing_fit *fit)
{
    const size_t n = s->n, levels = strlen(types), p = levels + 1;
    gsl_multifit_linear_workspace *room = gsl_multifit_linear_alloc(n, p);
    gsl_matrix *x = gsl_matrix_calloc(n, p), *covariance = gsl_matrix_alloc(p, p);
    gsl_vector *c = gsl_vector_alloc(p), *residual = gsl_vector_alloc(n);
    const gsl_vector_const_view y = gsl_vector_const_view_array(s->y, n);
    double squares;
    for (size_t i = 0; i < n; i++) {
        gsl_matrix_set(x, i, (size_t)(strchr(types, s->run[i]->type) - types), 1.0);
        gsl_matrix_set(x, i, levels, s->run[i]->age);
    }
    gsl_multifit_linear(x, &y.vector, c, covariance, &squares, room);
    gsl_multifit_linear_residuals(x, &y.vector, c, residual);
    fit->trend = gsl_vector_get(c, levels);
    fit->trend_error = sqrt(gsl_matrix_get(covariance, levels, levels));
    fit->freedom = (int)(n - p);
    fit->spread = sqrt(squares / fit->freedom);
    for (size_t i = 0; i < n; i++)
        fit->residual[i] = gsl_vector_get(residual, i);
    gsl_vector_free(residual);
    gsl_vector_free(c);
    gsl_matrix_free(covariance);
    gsl_matrix_free(x);
    gsl_multifit_linear_free(room);
}

static void fit_sample(const struct sample *s, const char *types, struct ageing_fit *fit)
{
    *fit = (struct ageing_fit){.trend = 0.0};
    regress(s, types, fit);
    fit->fresh = pooled(s, types, true, 0.0);
    fit->used = pooled(s, types, false, 0.0);
    fit->used_about = pooled(s, types, false, fit->trend);
    fit->used_about.freedom--; /* the trend came out of the same runs */
    fit->used_about.s *= sqrt((fit->used_about.freedom + 1.0) / fit->used_about.freedom);
}

void ageing_fit(const struct ageing_data *data, const struct ageing_reading *reading,
                struct ageing_fit *fit)
{
    const struct sample s = collect(data, reading);
    struct ageing_fit found;
    fit_sample(&s, reading->types, &found);
    *fit = found;
    memset(fit->residual, 0, sizeof fit->residual);
    for (size_t i = 0; i < s.n; i++)
        fit->residual[s.run[i] - data->run] = found.residual[i];
}

/* ---- resampling ------------------------------------------------------------------------------ */

/* Another sample of the same size: in each group, runs drawn with replacement; each brings its age
 * and its deviation from the fit. */
static void draw_group(const struct sample *s, const double *level, const double *deviation,
                       char type, bool is_new, gsl_rng *random, struct sample *again)
{
    size_t member[AGEING_RUNS_MAX], n = 0;
    for (size_t i = 0; i < s->n; i++)
        if (of_group(s->run[i], type, is_new))
            member[n++] = i;
    double mean = 0.0;
    for (size_t i = 0; i < n; i++)
        mean += deviation[member[i]] / (double)n;
    const double wider = n > 1 ? sqrt((double)n / ((double)n - 1.0)) : 1.0;
    for (size_t i = 0; i < n; i++) {
        const size_t from = member[gsl_rng_uniform_int(random, n)];
        again->run[again->n] = s->run[from];
        again->y[again->n++] = level[from] + mean + wider * (deviation[from] - mean);
    }
}

static void band(double *value, size_t n, double *low, double *high)
{
    gsl_sort(value, 1, n);
    *low = gsl_stats_quantile_from_sorted_data(value, 1, n, 0.025);
    *high = gsl_stats_quantile_from_sorted_data(value, 1, n, 0.975);
}

void ageing_resample(const struct ageing_data *data, const struct ageing_reading *reading,
                     int times, struct ageing_fit *fit)
{
    const struct sample s = collect(data, reading);
    struct ageing_fit first, next;
    double level[AGEING_RUNS_MAX];
    double *value = malloc(4 * (size_t)times * sizeof *value);
    gsl_rng *random = gsl_rng_alloc(gsl_rng_mt19937);
    if (!value)
        abort();
    fit_sample(&s, reading->types, &first);
    for (size_t i = 0; i < s.n; i++)
        level[i] = s.y[i] - first.residual[i];
    for (int k = 0; k < times; k++) {
        struct sample again = {.n = 0};
        for (const char *type = reading->types; *type; type++)
            for (int is_new = 0; is_new < 2; is_new++)
                draw_group(&s, level, first.residual, *type, is_new, random, &again);
        fit_sample(&again, reading->types, &next);
        value[k] = next.fresh.s;
        value[times + k] = next.used.s;
        value[2 * times + k] = next.used_about.s;
        value[3 * times + k] = next.trend;
    }
    band(value, (size_t)times, &fit->fresh.low, &fit->fresh.high);
    band(value + times, (size_t)times, &fit->used.low, &fit->used.high);
    band(value + 2 * (ptrdiff_t)times, (size_t)times, &fit->used_about.low, &fit->used_about.high);
    band(value + 3 * (ptrdiff_t)times, (size_t)times, &fit->trend_low, &fit->trend_high);
    gsl_rng_free(random);
    free(value);
}
