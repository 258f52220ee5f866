/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/range.h"

#include "report/words.h"

#include <math.h>
#include <string.h>

/* What the text needs everywhere. */
struct page {
    FILE *f;
    const struct hobble_answer *a;
    bool us;
};

/* Distances are rounded down, from ten on to whole ones: never printed larger than they are, nor
 * finer than they are known. */
static void distance(const struct page *p, double si, char buf[static 64])
{
    const double whole = p->us ? 1609.344 : 1e3;
    const double grain = si < 10.0 * whole ? 0.1 * whole : whole;
    hb_quantity_text(floor(si / grain + 1e-9) * grain, HOBBLE_UNIT_KILOMETRE, p->us, 1, buf, 64);
}

/* Speeds are rounded down, too: 80 km/h is 49 mph. */
static void speed(const struct page *p, double si, char buf[static 64])
{
    const double grain = p->us ? 0.44704 : 1.0 / 3.6;
    hb_quantity_text(floor(si / grain + 1e-9) * grain, HOBBLE_UNIT_KM_PER_HOUR, p->us, 0, buf, 64);
}

static void answer_line(const struct page *p)
{
    const struct hobble_answer *a = p->a;
    char way[64], pace[64];
    if (a->verdict == HOBBLE_STOP) {
        fprintf(p->f, "STOP  do not drive on with this tyre\n");
        return;
    }
    distance(p, a->advised_distance, way);
    speed(p, a->advised_speed, pace);
    fprintf(p->f, "GO  at most %s, at most %s, about %.0f min\n", pace, way,
            floor(a->advised_time / 60.0));
}

static void arrival(const struct page *p)
{
    const struct hobble_answer *a = p->a;
    char to[64];
    if (isnan(a->to))
        return;
    distance(p, a->to, to);
    const bool within = a->verdict == HOBBLE_GO && a->to <= a->advised_distance;
    if (a->verdict == HOBBLE_STOP) { /* a chance would be read as leave */
        fprintf(p->f, "    %s away: NOT within reach\n", to);
        return;
    }
    if (!within && a->to - a->advised_distance < 1e3) /* rounded down they may look alike */
        hb_quantity_text(a->to, HOBBLE_UNIT_KILOMETRE, p->us, 2, to, sizeof to);
    if (!within)
        fprintf(p->f, "    then STOP: %s away is beyond the advice\n", to);
    else
        fprintf(p->f,
                "    %s away: within the advised distance; chance of not reaching it %.1f %% (+- %.1f)\n",
                to, 100.0 * a->chance_of_failing, 100.0 * a->sampling_error);
}

/* What ended most of the tyres. */
static const char *usual_end(const struct hobble_answer *a)
{
    static const char *const sentence[HOBBLE_END_COUNT] = {
        [HOBBLE_END_NONE] = "none of the limits",
        [HOBBLE_END_HORIZON] = "none of the limits within 2000 km or 48 h",
        [HOBBLE_END_LIFE] = "fatigue of the hot wall",
        [HOBBLE_END_HEAT] = "heat in the wall",
        [HOBBLE_END_RIM] = "the rim coming down on the folded wall",
        [HOBBLE_END_SHOULDER] = "heat in the shoulder",
    };
    int most = 0;
    for (int i = 1; i < HOBBLE_END_COUNT; i++)
        if (a->share_ended[i] > a->share_ended[most])
            most = i;
    return sentence[most];
}

static void limits(const struct page *p)
{
    const struct hobble_answer *a = p->a;
    char first[64];
    fprintf(p->f, "\nWhat decides\n");
    for (int i = 0; i < HOBBLE_STOP_COUNT; i++)
        if (a->stop[i])
            hb_print_wrapped(p->f, "  ", 2, hobble_stop_sentence((enum hobble_stop)i));
    for (int i = 0; i < a->outside_count; i++)
        fprintf(p->f, "  Outside the checked range: %s\n", a->outside[i]);
    if (a->verdict != HOBBLE_STOP && a->limited_by == HOBBLE_LIMIT_RANGE) {
        distance(p, a->advised.p5, first);
        fprintf(p->f, "  95 of 100 such tyres carry at least %s; what ends them: %s.\n", first,
                usual_end(a));
    } else if (a->verdict != HOBBLE_STOP) {
        distance(p, a->cap, first);
        if (a->limited_by == HOBBLE_LIMIT_CONSTRUCTION)
            fprintf(p->f,
                    "  Without the maker's figure, extended mobility is taken for %s in all.\n",
                    first);
        else
            fprintf(p->f, "  The %s allows %s in all.\n",
                    a->limited_by == HOBBLE_LIMIT_RULE ? "rule" : a->limited_by == HOBBLE_LIMIT_FLEET ? "fleet's own rule" : "maker", first);
    }
}

/* What else the decision rests on. */
static void grounds(const struct page *p)
{
    const struct hobble_answer *a = p->a;
    char first[64], second[64];
    if (a->run_seen + a->run_unseen > 0.0) {
        hb_quantity_text(a->run_unseen, HOBBLE_UNIT_KILOMETRE, p->us, 1, first, sizeof first);
        hb_quantity_text(a->run_seen, HOBBLE_UNIT_KILOMETRE, p->us, 1, second, sizeof second);
        fprintf(p->f, "  Already driven and counted: %s before the warning, %s after it.\n", first,
                second);
    }
    if (a->wheel_assumed)
        fprintf(p->f, "  Which wheel is not stated: one of the heavier axle is taken.\n");
    if (a->taken_as_empty)
        fprintf(
            p->f,
            "  How fast the air goes is not stated (--leak), or the tyre was empty before: the\n"
            "  advice is that for no air at all.\n");
    else if (a->pressure > 0.0 && a->pressure < 70e3)
        fprintf(p->f, "  Below 70 kPa the advice is that for no air at all.\n");
    if (!a->conditioned && a->tested > 0) {
        distance(p, a->if_vouched, first);
        fprintf(p->f,
                "  Age, earlier flat running and repairs are not all stated to be good, so the\n"
                "  approval mark does not count (with it: %s).\n",
                first);
    }
}

static void more(const struct page *p)
{
    for (int i = 0; i < p->a->more_count; i++) {
        const struct hobble_more *m = &p->a->more[i];
        char what[64], way[64];
        if (m->slower)
            speed(p, m->speed, what);
        else
            hb_quantity_text(m->load, HOBBLE_UNIT_NEWTON, p->us, 0, what, sizeof what);
        distance(p, m->distance, way);
        fprintf(p->f, "  %s, %s%s: %s\n", m->slower ? "Slower" : "Lighter", what,
                m->slower ? "" : " on this wheel", way);
    }
}

static void watch(const struct page *p)
{
    fprintf(p->f, "\nStop at once at\n");
    for (int i = 0; hb_stop_at_once[i]; i++)
        fprintf(p->f, "  - %s\n", hb_stop_at_once[i]);
}

static void afterwards(const struct page *p)
{
    const struct hobble_answer *a = p->a;
    fprintf(p->f, "\nAFTERWARDS: %s\n",
            a->condition == HOBBLE_SCRAP ? "scrap the tyre"
                                         : "have it taken off the rim and inspected");
    for (int i = 0; i < a->rule_count; i++) {
        hb_print_wrapped(p->f, "  ", 2, a->rule[i].reason);
        hb_print_wrapped(p->f, "  Source: ", 10, a->rule[i].source);
    }
}

static void band(const struct page *p, const char *name, const struct hobble_band *b)
{
    const double q[] = {b->p5, b->p50, b->p95};
    const bool censored[] = {b->censored5, b->censored50, b->censored95};
    char cell[3][80];
    for (int i = 0; i < 3; i++) {
        char text[64];
        distance(p, q[i], text);
        snprintf(cell[i], sizeof cell[i], "%s%s", censored[i] ? "more than " : "", text);
    }
    fprintf(p->f, "  %-34s %12s %12s %12s\n", name, cell[0], cell[1], cell[2]);
}

static void row(const struct page *p, const char *name, double si, enum hobble_unit unit,
                int decimals)
{
    char text[64];
    hb_quantity_text(si, unit, p->us, decimals, text, sizeof text);
    fprintf(p->f, "  %-34s %12s\n", name, text);
}

static void numbers(const struct page *p)
{
    const struct hobble_answer *a = p->a;
    char pace[64], name[96];
    fprintf(p->f,
            "\nNumbers                                    5 of 100       half    95 of 100\n");
    if (a->rim_at_start)
        fprintf(p->f, "  no range: the rim carries the load from the start\n");
    else if (a->stop[HOBBLE_STOP_CONTRADICTION])
        fprintf(p->f, "  no range: the profile contradicts the approval mark\n");
    else {
        speed(p, a->speed, pace);
        snprintf(name, sizeof name, "range from now at %s", pace);
        band(p, name, &a->range);
        if (a->tested > 0)
            band(p, "without the approval's evidence", &a->unconditioned);
    }
    row(p, "load on the wheel", a->load, HOBBLE_UNIT_NEWTON, 0);
    fprintf(p->f, "  %-34s %10.0f %%\n", "of its load index", 100.0 * a->load_share);
    row(p, "outside air", a->ambient, HOBBLE_UNIT_CELSIUS, 0);
    row(p, "hottest wall, now", a->now_p50, HOBBLE_UNIT_CELSIUS, 0);
    row(p, "hottest wall on the way, half", a->peak_p50, HOBBLE_UNIT_CELSIUS, 0);
    row(p, "hottest wall on the way, 95 of 100", a->peak_p95, HOBBLE_UNIT_CELSIUS, 0);
    row(p, "wall limit", a->limit, HOBBLE_UNIT_CELSIUS, 0);
    fprintf(p->f, "  %-34s %10.0f %%\n", "life used, now", 100.0 * a->life_now_p50);
    fprintf(p->f, "  %-34s %10.0f %%\n", "life used, after the advised way",
            100.0 * a->life_at_advised_p50);
    fprintf(p->f, "  %-34s %10.1f %%  of tyres; %s (%.0f %% required)\n",
            "80 km at 80 km/h is made by", 100.0 * a->share_of_tyres,
            a->rule_holds ? "the rule holds" : "the rule does not hold", 100.0 * a->required_share);
    if (a->tested > 0)
        fprintf(p->f, "  %-34s %5d of %d\n", "sampled types that pass approval", a->passed,
                a->tested);
    fprintf(p->f, "  %-34s %12.0e  of the heat made\n", "energy ledger misses by",
            a->energy_closure);
    if (isnan(a->solver_difference))
        fprintf(p->f, "  %-34s %12s\n", "solvers differ by", "not known");
    else
        fprintf(p->f, "  %-34s %10.2f %%\n", "solvers differ by", 100.0 * a->solver_difference);
}

static void cautions(const struct page *p)
{
    const struct hobble_answer *a = p->a;
    fprintf(p->f, "\nCautions\n");
    hb_caution_few(p->f, a->conditioned ? a->passed : a->tested);
    for (int i = 0; hb_cautions[i]; i++)
        hb_print_wrapped(p->f, "  ", 2, hb_cautions[i]);
}

void hb_range_text(FILE *f, const hobble_case *c, const struct hobble_answer *answer, bool us)
{
    const struct page p = {f, answer, us};
    hb_print_heading(f, c,
                     &(struct hb_heading){&answer->marking, answer->example, answer->example_load,
                                          answer->load_share});
    answer_line(&p);
    arrival(&p);
    limits(&p);
    grounds(&p);
    more(&p);
    watch(&p);
    afterwards(&p);
    numbers(&p);
    cautions(&p);
}
