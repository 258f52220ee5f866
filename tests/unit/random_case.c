/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "random_case.h"

#include "advice/levels.h"
#include "core/const.h"
#include "core/param.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char *const markings[] = {
    "185/65 RF15 88H", "205/55 RF16 91V",  "225/45 RF17 94W XL", "225/55 RF17 97Y",
    "275/40 RF17 98W", "235/65 RF17 108V", "245/30 RF20 90Y XL", "315/35 RF20 110Y XL",
    "175/65 RF14 82T", "255/50 RF19 107W", "195/55 RF16 87V",    "245/45 RF18 100Y",
};
enum { MARKINGS = sizeof markings / sizeof markings[0] };

/* How often each construction comes: mostly the ones that have an answer. */
static const int constructions[] = {HB_SELF_SUPPORTING,   HB_SELF_SUPPORTING, HB_SELF_SUPPORTING,
                                    HB_SELF_SUPPORTING,   HB_SELF_SUPPORTING, HB_SELF_SUPPORTING,
                                    HB_EXTENDED_MOBILITY, HB_CONVENTIONAL};
enum { CONSTRUCTIONS = sizeof constructions / sizeof constructions[0] };

uint64_t random_word(struct random_source *source)
{
    source->state += 0x9e3779b97f4a7c15u;
    uint64_t z = source->state;
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
}

double random_between(struct random_source *source, double low, double high)
{
    return low + (high - low) * (double)(random_word(source) >> 11) * 0x1p-53;
}

int random_below(struct random_source *source, int count)
{
    return (int)(random_word(source) % (uint64_t)count);
}

double random_normal(struct random_source *source)
{
    const double radius = sqrt(-2.0 * log(random_between(source, 1e-12, 1.0)));
    return radius * cos(random_between(source, 0.0, 2.0 * HB_PI));
}

static void need(bool held, const char *what)
{
    if (held)
        return;
    fprintf(stderr, "random_case: %s\n", what);
    abort();
}

/* Calibrated once for each marking and construction. */
static const struct hb_life_reference *life_of(int marking, int construction,
                                               const struct hb_settings *settings,
                                               const struct hobble_marking *parsed)
{
    static struct hb_life_reference known[MARKINGS][HB_CONVENTIONAL + 1];
    struct hb_life_reference *life = &known[marking][construction];
    if (life->revolutions > 0.0 || hb_calibrate(settings, parsed, life) == HOBBLE_OK)
        return life;
    /* softest walls in the lowest sections are on the rim before their life is used up */
    struct hb_settings firm = *settings;
    firm.row[HB_P_CONSTRUCTION].value = HB_SELF_SUPPORTING;
    need(hb_calibrate(&firm, parsed, life) == HOBBLE_OK, markings[marking]);
    return life;
}

void random_tyre(struct random_source *source, struct hobble_marking *marking, struct hb_tyre *tyre)
{
    const int which = random_below(source, MARKINGS);
    const int built = constructions[random_below(source, CONSTRUCTIONS)];
    struct hb_settings settings;
    struct hb_draw draw;
    double normal[HB_DIMENSIONS_MAX];
    hb_settings_default(&settings);
    settings.row[HB_P_CONSTRUCTION].value = built;
    settings.row[HB_P_REVERSION].value = random_below(source, 4) == 0;
    need(hobble_marking_parse(markings[which], marking, NULL) == HOBBLE_OK, markings[which]);
    for (int i = 0; i < hb_param_dimensions(); i++)
        normal[i] = fmin(fmax(random_normal(source), -3.0), 3.0);
    hb_draw(&settings, normal, &draw);
    hb_build(&settings, marking, &draw, life_of(which, built, &settings, marking), tyre);
    hb_unit_take(&settings, &(struct hb_unit){.years = 0.0}, &draw, normal, tyre);
    if (random_below(source, 8) == 0)
        hb_put_on_drum(tyre, HB_DRUM_RADIUS);
}

/* A leg with this random speed and air pressure going on. */
static struct hb_leg next_leg(struct random_source *source, const struct hb_leg *before)
{
    struct hb_leg leg = *before;
    leg.speed = random_between(source, 10.0, 180.0) / 3.6;
    leg.set_pressure = leg.goes_on = false;
    leg.kind = HB_UNTIL_END;
    return leg;
}

/* Before the last leg: an unseen leak at the earlier speed, a distance, a stop. */
static size_t history(struct random_source *source, struct random_case *made, struct hb_leg leg)
{
    size_t count = 0;
    if (random_below(source, 3) > 0) { /* a leak from full pressure, not noticed at first */
        leg.set_pressure = true;
        leg.pressure = made->journey.start.pressure;
        if (random_below(source, 2))
            leg.leak_rate = 1.0 / random_between(source, 60.0, 7200.0);
        else
            leg.hole = hb_hole_coefficient(random_between(source, 0.2e-3, 3e-3),
                                           hb_cavity_volume(&made->marking), 293.15);
        leg.kind = HB_FOR_TIME;
        leg.extent = random_between(source, 60.0, 1200.0);
        made->leg[count++] = leg;
        leg.set_pressure = false;
    }
    const int more = 1 + random_below(source, 3);
    for (int i = 0; i < more; i++) {
        const struct hb_leg before = leg;
        leg = next_leg(source, &before);
        leg.set_pressure = i == 0 && before.set_pressure;
        leg.kind = HB_FOR_DISTANCE;
        leg.extent = random_between(source, 500.0, 30e3);
        if (random_below(source, 3) == 0) {
            leg.kind = HB_FOR_TIME;
            leg.speed = 0.0;
            leg.extent = random_between(source, 60.0, 7200.0);
        }
        made->leg[count++] = leg;
    }
    return count;
}

void random_case(struct random_source *source, enum random_kind kind, struct random_case *made)
{
    memset(made, 0, sizeof *made);
    random_tyre(source, &made->marking, &made->tyre);
    const struct hobble_geometry geometry = hobble_marking_geometry(&made->marking);
    const double index = hb_index_load(&made->marking);
    const double load = random_between(source, 0.30, 1.00) * index;
    const double ambient = HB_CELSIUS + random_between(source, -20.0, 45.0);
    const double pressure = random_below(source, 2) ? 0.0 : random_between(source, 0.0, 175e3);
    made->journey.start = (struct hb_start){.running = random_below(source, 5) > 0,
                                            .speed = random_between(source, 30.0, 140.0) / 3.6,
                                            .load = load,
                                            .ambient = ambient,
                                            .pressure = 230e3};
    struct hb_leg leg = {.speed = made->journey.start.speed,
                         .load = load,
                         .ambient = ambient,
                         .set_pressure = true,
                         .pressure = pressure};
    size_t count = kind == RANDOM_HISTORY ? history(source, made, leg) : 0;
    if (count > 0)
        leg = made->leg[count - 1];
    const bool sets = count == 0;
    leg = next_leg(source, &leg);
    leg.set_pressure = sets;
    made->leg[count++] = leg;
    made->journey.count = count;
    made->journey.leg = made->leg;
    made->journey.horizon_distance = 2000e3;
    made->journey.horizon_time = 48.0 * 3600.0;
    snprintf(made->text, sizeof made->text,
             "H %.0f mm, load %.2f of the index, %.1f degC, %zu legs, last at %.0f km/h, "
             "first pressure %.0f kPa, leak %.2g/s, hole %.2g/s",
             geometry.section_height * 1e3, load / index, ambient - HB_CELSIUS, count,
             leg.speed * 3.6, made->leg[0].pressure * 1e-3, leg.leak_rate, leg.hole);
}

int random_count(const char *variable, int otherwise)
{
    const char *text = getenv(variable);
    if (!text)
        return otherwise;
    char *end;
    const long count = strtol(text, &end, 10);
    need(end != text && *end == '\0' && count > 0 && count <= 1000000, variable);
    return (int)count;
}
