/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/build.h"

#include "core/const.h"
#include <math.h>

/* What the construction decides where a profile gives no value. */
static const struct {
    bool supports;    /* stiffness follows the size law of self-supporting walls */
    double stiffness; /* factor on that law, or N/m */
    double wall;      /* m */
    double test;      /* s at 80 km/h in the drum test; 0: has none */
} constructions[] = {
    [HB_UNKNOWN] = {false, 34e3, 6e-3, 0}, /* counts as conventional */
    [HB_SELF_SUPPORTING] = {true, 1.0, 12e-3, 3600},
    [HB_EXTENDED_MOBILITY] = {true, 0.75, 9e-3, 1440}, /* assumed: no number confirmed */
    [HB_SEALANT_LINED] = {false, 34e3, 6e-3, 0},
    [HB_CONVENTIONAL] = {false, 34e3, 6e-3, 0}, /* Rhyne 2005, constant term */
};

double hb_index_load(const struct hobble_marking *marking)
{
    return hobble_load_index_kg(marking->load_index) * HB_GRAVITY;
}

double hb_cavity_volume(const struct hobble_marking *marking)
{
    const struct hobble_geometry g = hobble_marking_geometry(marking);
    const double mean_radius = 0.25 * (g.rim_diameter + g.overall_diameter);
    return 0.75 * g.section_width * g.section_height * 2.0 * HB_PI * mean_radius;
}

double hb_hole_coefficient(double diameter, double volume, double temperature)
{
    const double area = 0.25 * HB_PI * diameter * diameter;
    return 0.6 * area * sqrt(HB_GAS_AIR * temperature) / volume;
}

static double given_or(const struct hb_settings *s, enum hb_param_id id, double otherwise)
{
    return hb_setting_known(s, id) ? hb_setting_si(s, id) : otherwise;
}

double hb_drum_test_seconds(const struct hb_settings *settings)
{
    const double own = constructions[hb_setting_word(settings, HB_P_CONSTRUCTION)].test;
    return given_or(settings, HB_P_DRUM_TEST,
                    own > 0.0 ? own : constructions[HB_SELF_SUPPORTING].test);
}

bool hb_has_drum_test(enum hb_construction construction)
{
    return constructions[construction].test > 0.0;
}

void hb_load_error(const struct hb_settings *settings, double *mean, double *spread)
{
    static const double by_word[][2] = {
        [HB_LOAD_GUESSED] = {1.05, 0.08},
        [HB_LOAD_COUNTED] = {1.03, 0.05},
        [HB_LOAD_WEIGHED] = {1.00, 0.02},
    };
    const struct hb_setting *row = &settings->row[HB_P_LOAD_ERROR];
    const double *word = by_word[hb_setting_word(settings, HB_P_LOAD_KNOWN)];
    const bool by_hand = row->given || !settings->row[HB_P_LOAD_KNOWN].given;
    *mean = by_hand ? row->value : word[0];
    *spread = by_hand ? row->spread : word[1];
}

/* Middle value in the row's unit: given, or what the construction says. */
static double middle(const struct hb_settings *s, enum hb_param_id id)
{
    const int built = hb_setting_word(s, HB_P_CONSTRUCTION);
    if (id == HB_P_WALL_THICKNESS && !hb_setting_known(s, id))
        return constructions[built].wall * 1e3;
    /* a stiffness that is not given is drawn as a factor on the size law */
    if (id == HB_P_STIFFNESS_FLAT && !hb_setting_known(s, id))
        return 1.0;
    return s->row[id].value;
}

double hb_normal_below(double z)
{
    return 0.5 * erfc(-z / sqrt(2.0));
}

/* A standard normal number above a limit, out of one without: both leave the same part of what is
 * above them. Newton on the logarithm of the part above, which is concave, from its left. */
static double normal_above(double limit, double z)
{
    const double part = log(hb_normal_below(-limit)) + log(hb_normal_below(-z));
    double x = fmax(limit, z);
    for (int i = 0; i < 8; i++) {
        const double above = hb_normal_below(-x);
        x += (log(above) - part) * above / (exp(-0.5 * x * x) / sqrt(2.0 * HB_PI));
    }
    return x;
}

/* The value of a row that is drawn, from a standard normal number. */
static double drawn(const struct hobble_param *row, double middle, double spread, double z)
{
    switch (row->shape) {
    case HOBBLE_LOGNORMAL:
        return middle * exp(z * spread);
    case HOBBLE_UNIFORM:
        return middle + spread * (2.0 * hb_normal_below(z) - 1.0);
    default:
        return middle + z * spread;
    }
}

void hb_draw(const struct hb_settings *settings, const double *normal, struct hb_draw *draw)
{
    const struct hobble_param *row = hobble_param_table(NULL);
    int dimension = 0;
    for (int i = 0; i < HB_PARAM_COUNT; i++) {
        const enum hb_param_id id = (enum hb_param_id)i;
        double value = middle(settings, id), spread = settings->row[i].spread;
        if (row[i].stage != HOBBLE_NOT_DRAWN) {
            double z = normal ? normal[dimension] : 0.0;
            dimension++;
            if (id == HB_P_LOAD_ERROR)
                hb_load_error(settings, &value, &spread);
            if (id == HB_P_WALL_WORK && normal) /* one wall or the other: half of a normal law */
                z = normal_above(0.0, z);
            if (id == HB_P_MARGIN && normal && spread > 0.0) /* no type fails its own test */
                z = normal_above(log(row[i].min / value) / spread, z);
            value = drawn(&row[i], value, spread, z);
            if (hb_setting_known(settings, id))
                value = fmin(fmax(value, row[i].min), row[i].max);
        }
        draw->value[i] = value;
    }
    draw->value[HB_P_LIFE_ACTIVATION] =
        fmax(draw->value[HB_P_LIFE_ACTIVATION], 5.0 * draw->value[HB_P_LIFE_POWER]);
}

/* A drawn value in SI. */
static double si(const struct hb_draw *draw, enum hb_param_id id)
{
    return hobble_unit_to_si(hobble_param_table(NULL)[id].unit, draw->value[id]);
}

/* Secant stiffness at no pressure, N/m. Size law: constant heat flux through the wall. */
static double flat_stiffness(const struct hb_settings *s, const struct hobble_marking *marking,
                             const struct hobble_geometry *g, const struct hb_draw *draw)
{
    const int built = hb_setting_word(s, HB_P_CONSTRUCTION);
    if (hb_setting_known(s, HB_P_STIFFNESS_FLAT))
        return si(draw, HB_P_STIFFNESS_FLAT);
    const double factor = draw->value[HB_P_STIFFNESS_FLAT] * constructions[built].stiffness;
    if (!constructions[built].supports)
        return factor;
    const double index = hobble_load_index_kg(marking->load_index) / 615.0;
    return factor * 140e3 * index * index * (0.11275 / g->section_height);
}

double hb_flat_stiffness(const struct hb_settings *settings, const struct hobble_marking *marking)
{
    const struct hobble_geometry g = hobble_marking_geometry(marking);
    struct hb_draw middle;
    hb_draw(settings, NULL, &middle);
    return flat_stiffness(settings, marking, &g, &middle);
}

static void build_springs(const struct hb_settings *s, const struct hobble_marking *marking,
                          const struct hobble_geometry *g, const struct hb_draw *draw,
                          struct hb_tyre *t)
{
    t->free_radius = t->curvature_radius = g->free_radius;
    t->circumference = 2.0 * HB_PI * g->free_radius;
    t->section_height = g->section_height;
    t->deflection_max = g->section_height - si(draw, HB_P_FOLD_HEIGHT);
    const double secant = flat_stiffness(s, marking, g, draw);
    const double at = fmin(HB_DRUM_LOAD_SHARE * hb_index_load(marking) / secant, g->section_height);
    const double contact = 1.7 * sqrt(at * (2.0 * g->free_radius - at));
    t->stiffness = 1.5 * secant / contact;
    /* Rhyne, Tire Sci. Technol. 33(3), 2005, 136 (coefficients from memory, unconfirmed) */
    const double width = g->section_width * 1e3, rim = g->rim_diameter * 1e3;
    t->air_stiffness =
        0.00028e-3 * HB_GRAVITY * 1e3 *
        sqrt((1.03 - 0.004 * marking->aspect) * width * (width * marking->aspect / 50.0 + rim));
    t->modulus_slope = -log(draw->value[HB_P_MODULUS_100C]) / 75.0;
    t->softening = si(draw, HB_P_SOFTENING);
}

static void build_heat(const struct hb_settings *s, const struct hb_draw *draw, struct hb_tyre *t)
{
    const double loss_ratio = s->row[HB_P_LOSS_100C].value / s->row[HB_P_LOSS_25C].value;
    const double beside = 1.0 - si(draw, HB_P_WALL_SHARE);
    t->loss = si(draw, HB_P_LOSS_PULSE) * si(draw, HB_P_LOSS_25C);
    t->loss_slope = -log(loss_ratio) / 75.0;
    t->loss_floor = si(draw, HB_P_LOSS_FLOOR);
    t->roll_base = si(draw, HB_P_ROLL_BASE);
    t->roll_slope = si(draw, HB_P_ROLL_SLOPE);
    t->roll_fade = -log(si(draw, HB_P_ROLL_100C)) / 75.0;
    t->roll_settled = si(draw, HB_P_ROLL_SETTLED);
    t->roll_floor = si(draw, HB_P_ROLL_FLOOR);
    t->share_wall = si(draw, HB_P_WALL_SHARE);
    t->share_shoulder = beside * si(draw, HB_P_SHOULDER_SHARE);
    t->share_tread = beside - t->share_shoulder;
    t->roll_to_shoulder = si(draw, HB_P_SHOULDER_ROLL);
}

/* Areas, masses and films. Shoulders: two bands of rubber, each 0.2 of the section width wide and
 * 1.2 treads thick (assumed); mean temperature of a heated slab lies t/3k above its face. */
static void build_body(const struct hobble_marking *marking, const struct hobble_geometry *g,
                       const struct hb_draw *draw, struct hb_tyre *t)
{
    const double density = si(draw, HB_P_WALL_DENSITY), heat = si(draw, HB_P_WALL_HEAT);
    const double tread = si(draw, HB_P_TREAD_THICKNESS), shoulder = 1.2 * tread;
    const double mean_circle = HB_PI * 0.5 * (g->rim_diameter + g->overall_diameter);
    const double film = si(draw, HB_P_FILM_OUTER);
    t->wall_thickness = si(draw, HB_P_WALL_THICKNESS);
    t->wall_area = 2.0 * si(draw, HB_P_WALL_FLEX_HEIGHT) * g->section_height * mean_circle;
    t->conductivity = si(draw, HB_P_WALL_CONDUCTIVITY);
    t->wall_capacity = density * heat;
    t->film_still = film * si(draw, HB_P_FILM_OUTER_STILL);
    t->film_speed = film * si(draw, HB_P_FILM_OUTER_SPEED);
    t->film_inner = si(draw, HB_P_FILM_INNER);
    t->emissivity = si(draw, HB_P_EMISSIVITY);
    t->road_film = si(draw, HB_P_ROAD_FILM);
    t->road_film_parked = si(draw, HB_P_ROAD_FILM_PARKED);
    t->tread_area = si(draw, HB_P_TREAD_WIDTH) * g->section_width * t->circumference;
    t->tread_resistance = tread / (3.0 * t->conductivity);
    t->shoulder_area = 2.0 * 0.2 * g->section_width * t->circumference;
    t->shoulder_resistance = shoulder / (3.0 * t->conductivity);
    t->rim_area_inner = HB_PI * g->rim_diameter * 0.85 * g->section_width;
    t->rim_area_outer = 1.5 * t->rim_area_inner;
    t->capacity_cavity = hb_cavity_volume(marking) * 1.2 * 718.0; /* air at 20 degC, c_v */
    t->capacity_tread = t->tread_area * tread * density * heat;
    t->capacity_shoulder = t->shoulder_area * shoulder * density * heat;
    t->capacity_rim = si(draw, HB_P_RIM_MASS) * si(draw, HB_P_RIM_HEAT);
}

/* Energy lost per turn and volume at the inner face (J/m^3) per newton of flexing force. */
static double energy_per_force(const struct hb_tyre *t)
{
    return t->circumference * t->share_wall * hb_heat_density_inner() /
           (t->wall_area * t->wall_thickness);
}

/* Reversion: near oxidative scission, 135 +- 6 kJ/mol (Rubber Chem. Technol. 74(1), 2001, 79);
 * where it takes over from fatigue is assumed. */
#define REVERSION_ENERGY 130e3                /* J/mol */
#define REVERSION_FROM   (150.0 + HB_CELSIUS) /* K */

static void build_life(const struct hb_settings *s, const struct hb_draw *draw,
                       const struct hb_life_reference *life, struct hb_tyre *t)
{
    t->life_power = si(draw, HB_P_LIFE_POWER);
    t->life_activation = si(draw, HB_P_LIFE_ACTIVATION) / HB_GAS;
    t->reversion = hb_setting_word(s, HB_P_REVERSION) == 0
                       ? 0.0
                       : REVERSION_ENERGY / HB_GAS - t->life_activation;
    t->reversion_inverse = 1.0 / REVERSION_FROM;
    t->life_per_force = energy_per_force(t) / (life ? life->energy : 1.0);
    t->life_inverse_ref = life ? 1.0 / life->temperature : 1.0 / HB_KELVIN_25C;
    t->life_per_metre = life ? 1.0 / (life->revolutions * t->circumference) : 0.0;
    t->wall_limit = si(draw, HB_P_WALL_LIMIT);
    t->shoulder_limit = si(draw, HB_P_SHOULDER_LIMIT);
}

void hb_build(const struct hb_settings *settings, const struct hobble_marking *marking,
              const struct hb_draw *draw, const struct hb_life_reference *life,
              struct hb_tyre *tyre)
{
    const struct hobble_geometry g = hobble_marking_geometry(marking);
    build_springs(settings, marking, &g, draw, tyre);
    build_heat(settings, draw, tyre);
    build_body(marking, &g, draw, tyre);
    build_life(settings, draw, life, tyre);
    tyre->load_factor = tyre->speed_factor = 1.0;
    tyre->ambient_shift = 0.0;
}

/* What the work does to the harder-worked of two walls that share their cavity, as life: found by
 * computing both (docs/model.md, "One wall for two"; tests/unit/test_rebuilt.c). */
#define HARDER_BY_POWER      0.45
#define HARDER_BY_ACTIVATION 0.017e-3 /* mol/J */

void hb_work_harder(struct hb_tyre *tyre, double more)
{
    const double by =
        HARDER_BY_POWER * tyre->life_power + HARDER_BY_ACTIVATION * HB_GAS * tyre->life_activation;
    tyre->life_per_metre *= exp(by * more);
}

void hb_put_on_drum(struct hb_tyre *tyre, double drum_radius)
{
    tyre->curvature_radius = 1.0 / (1.0 / tyre->free_radius + 1.0 / drum_radius);
}

void hb_drum_test(const struct hobble_marking *marking, double seconds, struct hb_drum_test *test)
{
    const double room = 38.0 + HB_CELSIUS;
    const struct hb_leg run = {.speed = HB_RULE_SPEED,
                               .load = HB_DRUM_LOAD_SHARE * hb_index_load(marking),
                               .ambient = room,
                               .extent = seconds,
                               .kind = HB_FOR_TIME,

                               .set_pressure = true,
                               .pressure = 0.0};
    test->leg[0] = test->leg[1] = run;
    test->leg[0].speed = 0.5 * HB_RULE_SPEED; /* the mean of the run-up */
    test->leg[0].extent = HB_DRUM_RUN_UP;
    test->journey = (struct hb_journey){.start = {.running = false, .ambient = room},
                                        .count = HB_DRUM_LEGS,
                                        .leg = test->leg,
                                        .horizon_distance = 1e9,
                                        .horizon_time = 1e9};
}
