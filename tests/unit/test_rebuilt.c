/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_rebuilt.c - does docs/model.md say what the program computes? The physics rebuilt from that
 * page (rebuilt.c) against the fast integrator; and what one wall for two is worth. */
#include "core/build.h"
#include "core/const.h"
#include "core/integrate.h"
#include "core/param.h"
#include "random_case.h"
#include "rebuilt.h"

#include <check.h>
#include <math.h>
#include <stdio.h>

Suite *rebuilt_suite(void);

#define NEED(held, ...)                                                                            \
    do {                                                                                           \
        if (!(held))                                                                               \
            ck_abort_msg(__VA_ARGS__);                                                             \
    } while (0)

/* Seven sizes from small to large, as the page would have them typed in. Masses of the index:
 * ISO 4000-1, by way of secondary prints. */
static const struct {
    const char *marking;
    double width, aspect, rim, kilograms;
} sizes[] = {{"185/65 RF15 88H", 185, 65, 15, 560},     {"205/55 RF16 91V", 205, 55, 16, 615},
             {"225/45 RF17 94W XL", 225, 45, 17, 670},  {"275/40 RF17 98W", 275, 40, 17, 750},
             {"235/65 RF17 108V", 235, 65, 17, 1000},   {"245/30 RF20 90Y XL", 245, 30, 20, 600},
             {"315/35 RF20 110Y XL", 315, 35, 20, 1060}};
enum { SIZES = sizeof sizes / sizeof sizes[0], USUAL = 1 };

/* Tyre of a size with the life of its drum test, worked out once. */
static struct rebuilt of_size(int i)
{
    static struct rebuilt known[SIZES];
    struct rebuilt *t = &known[i];
    if (!(t->turns_ref > 0.0)) {
        *t = rebuilt_plain(sizes[i].width, sizes[i].aspect, sizes[i].rim, sizes[i].kilograms);
        rebuilt_life(t, 95.0);
    }
    return *t;
}

/* ---- both sides of one question -------------------------------------------------------------- */

struct both {
    struct rebuilt mine;
    struct hb_settings settings;
    struct hobble_marking marking;
    struct hb_tyre tyre;
};

/* Moves a parameter of both by a factor. */
static void move(struct both *b, enum hb_param_id id, double *mine, double by)
{
    *mine *= by;
    b->settings.row[id].value *= by;
}

static void move_all(struct both *b, struct random_source *r)
{
    struct rebuilt *m = &b->mine;
    const double tangent = random_between(r, 0.8, 1.25);
    b->settings.row[HB_P_WALL_THICKNESS].value = 12.0;
    move(b, HB_P_WALL_THICKNESS, &m->wall_m, random_between(r, 0.85, 1.2));
    move(b, HB_P_WALL_CONDUCTIVITY, &m->conductivity, random_between(r, 0.8, 1.3));
    move(b, HB_P_LOSS_25C, &m->tangent, tangent);
    b->settings.row[HB_P_LOSS_100C].value *= tangent; /* the ratio of the two is the page's */
    move(b, HB_P_FILM_INNER, &m->inner_film, random_between(r, 0.6, 1.6));
    move(b, HB_P_FILM_OUTER, &m->outer_factor, random_between(r, 0.7, 1.4));
    move(b, HB_P_LIFE_ACTIVATION, &m->energy_kj, random_between(r, 0.8, 1.3));
    move(b, HB_P_LIFE_POWER, &m->power, random_between(r, 0.7, 1.4));
    if (random_below(r, 2)) {
        m->secant = random_between(r, 0.9, 1.3) * hb_flat_stiffness(&b->settings, &b->marking);
        b->settings.row[HB_P_STIFFNESS_FLAT].value = m->secant * 1e-3; /* N/mm */
    }
    m->reverts = random_below(r, 3) == 0;
    b->settings.row[HB_P_REVERSION].value = m->reverts;
}

/* The program's tyre, given the life that was worked out here. */
static void build(struct both *b)
{
    struct hb_draw draw;
    hb_draw(&b->settings, NULL, &draw);
    hb_build(&b->settings, &b->marking, &draw, NULL, &b->tyre);
    b->tyre.life_per_force /= b->mine.work_ref;
    b->tyre.life_inverse_ref = 1.0 / b->mine.hot_ref;
    b->tyre.life_per_metre = 1.0 / (b->mine.turns_ref * b->tyre.circumference);
}

enum { LEGS = 3, QUESTIONS = 20, EVERY = 5 };

/* Some minutes, and on to the end; in every fifth question a stop comes between, in another the
 * tyre leaks from full pressure. */
static int question(struct random_source *r, int number, struct both *b,
                    struct rebuilt_leg leg[LEGS])
{
    static const double air[EVERY] = {0.0, 0.0, 40.0, 130.0, -1.0};
    const int size = number % SIZES, kind = number % EVERY;
    b->mine = of_size(size);
    hb_settings_default(&b->settings);
    b->settings.row[HB_P_CONSTRUCTION].value = HB_SELF_SUPPORTING;
    ck_assert_int_eq(hobble_marking_parse(sizes[size].marking, &b->marking, NULL), HOBBLE_OK);
    move_all(b, r);
    build(b);
    leg[0] =
        (struct rebuilt_leg){.kmh = random_between(r, 50.0, 130.0),
                             .newton = random_between(r, 0.6, 1.0) * hb_index_load(&b->marking),
                             .celsius = random_between(r, -15.0, 40.0),
                             .seconds = random_between(r, 120.0, 900.0),
                             .kpa = air[kind]};
    if (air[kind] < 0.0) {
        leg[0].hole_mm = random_between(r, 0.8, 2.5);
        leg[0].slowness = random_below(r, 2) ? random_between(r, 300.0, 3000.0) : 0.0;
    }
    if (number % 4 == 3)
        hb_put_on_drum(&b->tyre, b->mine.drum = 0.85);
    leg[1] = leg[2] = leg[0];
    leg[1].kpa = leg[2].kpa = -1.0;
    leg[1].seconds = leg[2].seconds = 0.0;
    if (kind != 1)
        return 2;
    leg[1].seconds = random_between(r, 300.0, 2400.0);
    leg[1].kmh = 0.0;
    return LEGS;
}

static struct hb_leg as_leg(const struct both *b, const struct rebuilt_leg *leg)
{
    const double ambient = leg->celsius + HB_CELSIUS, volume = hb_cavity_volume(&b->marking);
    return (struct hb_leg){.speed = leg->kmh / 3.6,
                           .load = leg->newton,
                           .ambient = ambient,
                           .kind = leg->seconds > 0.0 ? HB_FOR_TIME : HB_UNTIL_END,
                           .extent = leg->seconds,
                           .set_pressure = leg->kpa >= 0.0,
                           .pressure = leg->kpa * 1e3,
                           .leak_rate = leg->slowness > 0.0 ? 1.0 / leg->slowness : 0.0,
                           .hole = hb_hole_coefficient(leg->hole_mm * 1e-3, volume, ambient)};
}

/* record: what each leg ended with. */
static struct hb_outcome by_program(const struct both *b, const struct rebuilt_leg *leg, int legs,
                                    struct hb_record record[LEGS])
{
    struct hb_leg drive[LEGS];
    for (int l = 0; l < legs; l++)
        drive[l] = as_leg(b, &leg[l]);
    const struct hb_journey journey = {
        .start = {true, 100.0 / 3.6, drive[0].load, drive[0].ambient, 230e3},
        .count = (size_t)legs,
        .leg = drive,
        .horizon_distance = 2000e3,
        .horizon_time = 48.0 * 3600.0};
    const struct hb_step_control steps = hb_step_control_default();
    struct hb_outcome out;
    hb_integrate_many(&journey, &steps, &b->tyre, 1, &out, record);
    return out;
}

static char letter(enum hb_end end)
{
    static const char of[] = {[HB_END_NONE] = '-', [HB_END_HORIZON] = 'T', [HB_END_LIFE] = 'L',
                              [HB_END_HEAT] = 'H', [HB_END_RIM] = 'R',     [HB_END_SHOULDER] = 'S'};
    return of[end];
}

/* How far apart the two are at the end of any leg. */
struct apart {
    double range, kelvin, drag, kpa;
};

static struct apart farther(struct apart a, const struct rebuilt_end *want,
                            const struct hb_record *got)
{
    const double face = fmax(fabs(got->inner - want->inner), fabs(got->outer - want->outer));
    const double way = fabs(got->distance - want->metres) / fmax(want->metres, 1e3);
    return (struct apart){.range = fmax(a.range, way),
                          .kelvin = fmax(a.kelvin, fmax(face, fabs(got->cavity - want->cavity))),
                          .drag = fmax(a.drag, fabs(got->rolling / want->drag - 1.0)),
                          .kpa = fmax(a.kpa, fabs(got->pressure * 1e-3 - want->kpa))};
}

/* One question both ways; the worst of it so far and the letter of its end. */
static char ask(struct random_source *source, int number, struct apart *most)
{
    struct both b;
    struct rebuilt_leg leg[LEGS];
    struct hb_record record[LEGS];
    struct rebuilt_end want = {0};
    const int legs = question(source, number, &b, leg);
    const struct hb_outcome got = by_program(&b, leg, legs, record);
    for (int l = 0; l < legs; l++) {
        want = rebuilt_drive(&b.mine, leg, l + 1, true);
        *most = farther(*most, &want, &record[l]);
    }
    printf("%-20s %3.0f km/h %5.0f N %3.0f C: page %.2f km (%c, %.1f C), program %.2f km\n",
           sizes[number % SIZES].marking, leg[0].kmh, leg[0].newton, leg[0].celsius,
           want.metres * 1e-3, want.why, want.inner - HB_CELSIUS, got.distance * 1e-3);
    NEED(letter(got.end) == want.why, "ends by %c, not %c", letter(got.end), want.why);
    return want.why;
}

/* Source: docs/model.md and nothing else; GSL's explicit Runge-Kutta method of order 8. Asked for:
 * 0.5 % in range. Held closer, so that a number of the page that is a little wrong shows: 0.2 % in
 * range, 0.1 K in what sensors see, 0.1 % in drag, 0.1 kPa. */
START_TEST(twenty_questions)
{
    struct random_source source = {21};
    struct apart most = {0};
    char ends[QUESTIONS + 1] = {0};

    for (int i = 0; i < QUESTIONS; i++)
        ends[i] = ask(&source, i, &most);
    printf("ends %s; at most %.3f %% in range, %.3f K, %.3f %% in drag, %.3f kPa\n", ends,
           100.0 * most.range, most.kelvin, 100.0 * most.drag, most.kpa);
    ck_assert_double_lt(most.range, 0.002);
    ck_assert_double_lt(most.kelvin, 0.1);
    ck_assert_double_lt(most.drag, 0.001);
    ck_assert_double_lt(most.kpa, 0.1);
}
END_TEST

/* Source: as above, for the life of the middle tyre of each size. Program and page refer it to
 * different states of the test; the law itself says what one is in terms of the other. */
START_TEST(drum_lives)
{
    for (int i = 0; i < SIZES; i++) {
        struct hb_settings settings;
        struct hobble_marking marking;
        struct hb_life_reference life;
        const struct rebuilt t = of_size(i);
        hb_settings_default(&settings);
        settings.row[HB_P_CONSTRUCTION].value = HB_SELF_SUPPORTING;
        ck_assert_int_eq(hobble_marking_parse(sizes[i].marking, &marking, NULL), HOBBLE_OK);
        ck_assert_int_eq(hb_calibrate(&settings, &marking, &life), HOBBLE_OK);
        const double heat = 40e3 / HB_GAS * (1.0 / life.temperature - 1.0 / t.hot_ref);
        const double turns = life.revolutions / (pow(t.work_ref / life.energy, 1.5) * exp(heat));
        printf("%-20s N_ref %.0f, page %.0f\n", sizes[i].marking, turns, t.turns_ref);
        ck_assert_double_eq_tol(turns / t.turns_ref, 1.0, 5e-3);
    }
}
END_TEST

/* ---- one wall for two ------------------------------------------------------------------------ */

static struct rebuilt_leg usual_leg(double share)
{
    return (struct rebuilt_leg){
        .kmh = 80.0, .newton = share * sizes[USUAL].kilograms * 9.80665, .celsius = 25.0};
}

/* Two equal walls are one wall. Source: symmetry. */
START_TEST(two_equal_walls)
{
    struct rebuilt one = of_size(USUAL), two = one;
    const struct rebuilt_leg leg = usual_leg(0.75);
    two.walls = 2;
    ck_assert_double_eq_tol(rebuilt_drive(&two, &leg, 1, true).metres /
                                rebuilt_drive(&one, &leg, 1, true).metres,
                            1.0, 1e-6);
}
END_TEST

/* One wall does 1 + x of the work of bending, the other 1 - x, and the harder-worked one decides.
 * Two ways to say so with one wall: the bending heat of the walls taken 1 + x times, which also
 * warms the cavity and softens both; or its life divided by exp((0.45 b + 0.017 E_a mol/kJ) x),
 * chosen so that it holds. Source: the two-wall run. Asked for: 2 %. */
START_TEST(harder_wall)
{
    static const double shares[] = {0.65, 0.75, 0.95}, uneven[] = {0.05, 0.10, 0.20};
    for (int i = 0; i < 9; i++) {
        const double share = shares[i / 3], x = uneven[i % 3];
        const struct rebuilt even = of_size(USUAL);
        const struct rebuilt_leg leg = usual_leg(share);
        struct rebuilt two = even, hotter = even, shorter = even;
        two.walls = 2;
        two.uneven = x;
        hotter.work = 1.0 + even.wall_share * x;
        hotter.wall_share = even.wall_share * (1.0 + x) / hotter.work;
        shorter.turns_ref *= exp(-(0.45 * even.power + 0.017 * even.energy_kj) * x);
        const double base = rebuilt_drive(&even, &leg, 1, true).metres * 1e-3;
        const double want = rebuilt_drive(&two, &leg, 1, true).metres * 1e-3;
        const double by_heat = rebuilt_drive(&hotter, &leg, 1, true).metres * 1e-3;
        const double by_life = rebuilt_drive(&shorter, &leg, 1, true).metres * 1e-3;
        printf("%.0f %% of the index, x %.2f: even walls %.1f km, two walls %.1f, one wall hotter "
               "%.1f (%+.1f %%), shorter-lived %.1f (%+.1f %%)\n",
               100.0 * share, x, base, want, by_heat, 100.0 * (by_heat / want - 1.0), by_life,
               100.0 * (by_life / want - 1.0));
        NEED(want < base, "a harder-worked wall lasts longer");
        NEED(by_heat < want, "with all of the wall hotter it lasts longer than with half of it");
        NEED(x > 0.1 || fabs(by_life / want - 1.0) < 0.02, "one wall for two: %.1f km, not %.1f",
             by_life, want);
    }
}
END_TEST

Suite *rebuilt_suite(void)
{
    Suite *suite = suite_create("rebuilt");
    TCase *page = tcase_create("page");

    tcase_set_timeout(page, 300);
    tcase_add_test(page, twenty_questions);
    tcase_add_test(page, drum_lives);
    tcase_add_test(page, two_equal_walls);
    tcase_add_test(page, harder_wall);
    suite_add_tcase(suite, page);
    return suite;
}
