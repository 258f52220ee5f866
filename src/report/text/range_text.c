/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/figure.h"
#include "report/describe/range_words.h"
#include "report/describe/screen.h"
#include "report/describe/words.h"
#include "report/text/answers.h"

#include <math.h>
#include <string.h>

/* What the text needs everywhere. */
struct page {
    FILE *f;
    const hobble_case *c;
    const struct hobble_answer *a;
    bool us;
};

static void decides(const struct page *p)
{
    const struct hobble_answer *a = p->a;
    char text[240], more[96];
    fprintf(p->f, "\nWhat decides\n");
    for (int i = 0; i < HOBBLE_STOP_COUNT; i++) {
        if (!a->stop[i])
            continue;
        hb_print_wrapped(p->f, "  ", 2, hobble_stop_sentence((enum hobble_stop)i));
        if (i == HOBBLE_STOP_CONDEMNED && a->condemned.reason) {
            hb_print_wrapped(p->f, "    ", 4, a->condemned.reason);
            hb_print_wrapped(p->f, "    Source: ", 12, a->condemned.source);
        }
        hb_remedy_text((enum hobble_stop)i, text, sizeof text);
        hb_print_wrapped(p->f, "    ", 4, text);
    }
    for (int i = 0; i < a->outside_count; i++)
        fprintf(p->f, "  Outside the checked range: %s\n", a->outside[i]);
    if (a->verdict == HOBBLE_STOP)
        return;
    hb_decides_text(a, p->us, text, sizeof text);
    snprintf(more, sizeof more, "; what ends most of them: %s", hb_usual_end(a));
    if (a->limited_by == HOBBLE_LIMIT_RANGE)
        strncat(text, more, sizeof text - strlen(text) - 1);
    hb_print_wrapped(p->f, "  ", 2, text);
}

/* What else the decision rests on. */
static void grounds(const struct page *p)
{
    const struct hobble_answer *a = p->a;
    char first[HB_FIGURE], second[HB_FIGURE], text[240];
    if (a->run_seen + a->run_unseen > 0.0) {
        hb_distance_up(a->run_unseen, p->us, first);
        hb_distance_up(a->run_seen, p->us, second);
        fprintf(p->f, "  Already driven and counted: %s before the warning%s, %s after it.\n",
                first, a->unseen_assumed ? " (assumed)" : "", second);
    }
    if (a->stops_left_out)
        hb_print_wrapped(
            p->f, "  ", 2,
            "Stops and slow driving cooled the tyre, but give nothing back: it counts as "
            "if they had not.");
    if (a->wheel_assumed)
        fprintf(p->f, "  Which wheel is not stated: one of the heavier axle is taken.\n");
    if (a->built_by_word)
        hb_print_wrapped(
            p->f, "  ", 2,
            "That it is self-supporting is stated (--construction), and not marked RF.");
    if (a->taken_as_empty)
        fprintf(
            p->f,
            "  How fast the air goes is not stated (--leak), or the tyre was empty before: the\n"
            "  advice is that for no air at all.\n");
    else if (a->pressure > 0.0 && a->pressure < 70e3)
        fprintf(p->f, "  Below 70 kPa the advice is that for no air at all.\n");
    if (a->conditioned || a->tested == 0)
        return;
    hb_distance_down(a->if_vouched, p->us, first);
    snprintf(text, sizeof text,
             "Age, earlier flat running and repairs are not all stated to be good, so the approval "
             "mark does not count%s%s%s.",
             a->verdict == HOBBLE_STOP ? "" : " (with it: ", a->verdict == HOBBLE_STOP ? "" : first,
             a->verdict == HOBBLE_STOP ? "" : ")");
    hb_print_wrapped(p->f, "  ", 2, text);
}

static void more(const struct page *p)
{
    if (p->a->verdict == HOBBLE_STOP) /* it would be read as leave */
        return;
    for (int i = 0; i < p->a->more_count; i++) {
        const struct hobble_more *m = &p->a->more[i];
        char what[HB_FIGURE], way[HB_FIGURE];
        if (m->slower)
            hb_speed_down(m->speed, p->us, what);
        else
            hb_load_down(m->load, p->us, what);
        hb_distance_down(m->distance, p->us, way);
        fprintf(p->f, "  %s, %s%s: %s\n", m->slower ? "Slower" : "Lighter", what,
                m->slower ? "" : " on this wheel", way);
    }
}

static void arrival(const struct page *p)
{
    if (p->a->verdict == HOBBLE_GO && !isnan(p->a->to))
        fprintf(p->f, "  Chance of not reaching the place: %.1f %%, one deviation %.1f %%.\n",
                hb_percent_up(p->a->chance_of_failing, 1), hb_percent_up(p->a->sampling_error, 1));
}

static void watch(const struct page *p)
{
    if (p->a->verdict == HOBBLE_STOP) {
        char text[360];
        fprintf(p->f, "\nWhat to do now\n");
        hb_print_wrapped(p->f, "  ", 2, hb_stop_now + strlen("Now: "));
        hb_call_text(p->c, p->a, HB_CALL_WHOLE, text, sizeof text);
        hb_print_wrapped(p->f, "  ", 2, text);
        return;
    }
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
        char text[HB_FIGURE];
        hb_distance_down(q[i], p->us, text);
        snprintf(cell[i], sizeof cell[i], "%s%s", censored[i] ? "> " : "", text);
    }
    fprintf(p->f, "  %-34s %13s %13s %13s\n", name, cell[0], cell[1], cell[2]);
}

static void row(const struct page *p, const char *name, const char *text)
{
    fprintf(p->f, "  %-34s %*s%s\n", name, 13 - hb_screen_columns(text), "", text);
}

static void share(const struct page *p, const char *name, double percent, int decimals,
                  const char *after)
{
    fprintf(p->f, "  %-34s %11.*f %%%s\n", name, decimals, percent, after);
}

static void ranges(const struct page *p)
{
    const struct hobble_answer *a = p->a;
    char pace[HB_FIGURE], name[96];
    if (a->rim_at_start) {
        fprintf(p->f, "\nNumbers\n  no range: the rim carries the load from the start\n");
        return;
    }
    if (a->stop[HOBBLE_STOP_CONTRADICTION]) {
        fprintf(p->f, "\nNumbers\n  no range: the profile contradicts the approval mark\n");
        return;
    }
    fprintf(p->f,
            "\nNumbers                                  95 of 100          half      5 of 100\n"
            "                                   carry at least      at least      at least\n");
    hb_speed_down(a->speed, p->us, pace);
    snprintf(name, sizeof name, "range from now at %s", pace);
    band(p, name, &a->range);
    if (a->tested > 0)
        band(p, "without the approval's evidence", &a->unconditioned);
}

static void heat(const struct page *p)
{
    const struct hobble_answer *a = p->a;
    const struct {
        const char *name;
        double kelvin;
    } rows[] = {{"hottest wall, now", a->now_p50},
                {"hottest wall on the way, half", a->peak_p50},
                {"hottest wall on the way, 95 of 100", a->peak_p95}};
    char text[HB_FIGURE];
    hb_load_up(a->load, p->us, text);
    row(p, "load on the wheel", text);
    share(p, "of its load index", hb_percent_up(a->load_share, 0), 0, "");
    hb_quantity_text(a->ambient, HOBBLE_UNIT_CELSIUS, p->us, 0, text, sizeof text);
    row(p, "outside air", text);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        hb_heat_up(rows[i].kelvin, p->us, text);
        row(p, rows[i].name, text);
    }
    hb_heat_down(a->limit, p->us, text);
    row(p, "wall limit", text);
}

static void numbers(const struct page *p)
{
    const struct hobble_answer *a = p->a;
    char rule[96];
    ranges(p);
    heat(p);
    share(p, "life used, now", hb_percent_up(a->life_now_p50, 0), 0, "");
    share(p, "life used, after the advised way", hb_percent_up(a->life_at_advised_p50, 0), 0, "");
    snprintf(rule, sizeof rule, "  of tyres; %s (%.4g %% required)",
             a->rule_holds ? "the rule holds" : "the rule does not hold",
             100.0 * a->required_share);
    share(p, p->us ? "49 mi at 49 mph (80 km) is made by" : "80 km at 80 km/h is made by",
          hb_percent_down(a->share_of_tyres, 1), 1, rule);
    fprintf(p->f, "  %-34s %13d\n", "tyres that the advice rests on", a->counted);
    if (a->tested > 0)
        fprintf(p->f, "  %-34s %5d of %d\n", "sampled types that pass approval", a->passed,
                a->tested);
    fprintf(p->f, "  %-34s %13.0e  of the heat made\n", "energy ledger misses by",
            a->energy_closure);
    if (isnan(a->solver_difference))
        row(p, "solvers differ by", "not known");
    else
        share(p, "solvers differ by", hb_percent_up(a->solver_difference, 2), 2, "");
}

static void cautions(const struct page *p)
{
    fprintf(p->f, "\nCautions\n");
    hb_caution_few(p->f, p->a->counted);
    hb_print_cautions(p->f);
}

void hb_range_full(FILE *f, const hobble_case *c, const struct hobble_answer *answer, bool us)
{
    const struct page p = {f, c, answer, us};
    decides(&p);
    arrival(&p);
    grounds(&p);
    more(&p);
    watch(&p);
    afterwards(&p);
    numbers(&p);
    cautions(&p);
}
