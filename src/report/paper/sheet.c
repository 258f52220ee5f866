/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/paper/sheet.h"

#include "report/describe/condition_words.h"
#include "report/describe/words.h"
#include "report/out.h"
#include "report/paper/lettering.h"

#ifndef HB_WITH_PDF

enum hobble_status hb_sheet_write(const char *path, const hobble_case *c,
                                  const struct hobble_condition_answer *answer, bool us)
{
    (void)path;
    (void)c;
    (void)answer;
    (void)us;
    return HOBBLE_E_UNSUPPORTED;
}

#else

#include <cairo-pdf.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* A4 in points (ISO 216). */
#define PAGE_WIDTH  595.276
#define PAGE_HEIGHT 841.890
#define MARGIN      42.0
#define INNER       (PAGE_WIDTH - 2.0 * MARGIN)
#define SIGNING_TOP (PAGE_HEIGHT - 146.0)
#define RULES_MOST  172.0 /* height that the rules may take */
enum { BODY = 9, SMALL = 7, HEAD = 11, TITLE = 18, FACT_COLUMNS = 3, LINE_SIZE = 600 };

static const char not_a_release[] = "This is not a release to service.";

/* The pen: where the next line goes. */
struct pen {
    cairo_t *cairo;
    PangoLayout *layout;
    const hobble_case *c;
    const struct hobble_condition_answer *a;
    bool us;
    double y;
};

static double lay(struct pen *p, const char *text, double size, bool bold, double width)
{
    return hb_lettering_lay(p->layout, text, size, bold, width);
}

static double put(struct pen *p, double x, double y, const char *text, double size, bool bold,
                  double width)
{
    return hb_lettering_put(p->cairo, p->layout, x, y, text, size, bold, width);
}

static void line(struct pen *p, const char *text, double size, bool bold)
{
    p->y += put(p, MARGIN, p->y, text, size, bold, INNER) + 2.0;
}

static void heading(struct pen *p, const char *text)
{
    p->y += 6.0;
    line(p, text, HEAD, true);
    cairo_set_line_width(p->cairo, 0.5);
    cairo_move_to(p->cairo, MARGIN, p->y - 1.0);
    cairo_line_to(p->cairo, PAGE_WIDTH - MARGIN, p->y - 1.0);
    cairo_stroke(p->cairo);
    p->y += 2.0;
}

static int row_of(const char *key)
{
    return hobble_param_find(key);
}

/* What the case is called, beside the title; its height. */
static double put_job(struct pen *p)
{
    char text[LINE_SIZE], job[HOBBLE_FAULT_TEXT];
    hobble_fault_text(job, hobble_case_text(p->c, row_of("job")));
    if (!*job)
        return 0.0;
    snprintf(text, sizeof text, "Job: %s", job);
    return put(p, MARGIN + 0.5 * INNER, p->y, text, HEAD, true, 0.5 * INNER) + 2.0;
}

static void head(struct pen *p)
{
    static const char *const key[] = {"marking", "construction", "date_code", "inspection_date"};
    static const char *const name[] = {"Tyre", "construction", "date code",
                                       "day of the inspection"};
    char text[LINE_SIZE] = "", value[HOBBLE_FAULT_TEXT];
    p->y = MARGIN;
    put(p, MARGIN, p->y, "Bench sheet of one tyre", TITLE, true, INNER);
    p->y += fmax(26.0, put_job(p));
    for (int i = 0; i < 4; i++) {
        const size_t used = strlen(text);
        hb_condition_value(p->c, row_of(key[i]), p->us, value, sizeof value);
        snprintf(text + used, sizeof text - used, "%s%s: %s", i > 0 ? "   " : "", name[i], value);
    }
    line(p, text, BODY, false);
    hb_condition_rules_name(p->c, value);
    snprintf(text, sizeof text, "Limits: %s%s   hobble %s", value,
             p->a->loosened_count > 0 ? " (looser than the strictest)" : "", hobble_version());
    line(p, text, BODY, false);
    snprintf(text, sizeof text, "%s It judges what was stated below.", not_a_release);
    line(p, text, BODY, true);
}

/* White on black when the tyre is scrap, black in a frame when it is to be inspected. */
static void verdict(struct pen *p)
{
    const bool scrap = p->a->verdict == HOBBLE_SCRAP;
    const double top = p->y + 4.0, pad = 8.0;
    const double height =
        22.0 + lay(p, hb_condition_meaning(p->a), BODY, false, INNER - 2 * pad) + 14.0;
    cairo_rectangle(p->cairo, MARGIN, top, INNER, height);
    cairo_set_line_width(p->cairo, 2.0);
    if (scrap)
        cairo_fill(p->cairo);
    else
        cairo_stroke(p->cairo);
    cairo_set_source_rgb(p->cairo, scrap, scrap, scrap);
    put(p, MARGIN + pad, top + 5.0, hb_condition_headline(p->a), TITLE, true, INNER);
    put(p, MARGIN + pad, top + 29.0, hb_condition_meaning(p->a), BODY, false, INNER - 2 * pad);
    cairo_set_source_rgb(p->cairo, 0, 0, 0);
    p->y = top + height + 2.0;
}

static void rules(struct pen *p)
{
    char text[2 * LINE_SIZE];
    const double end = p->y + RULES_MOST;
    int i = 0;
    heading(p, "Rules that decided, worst first");
    for (; i < p->a->rule_count; i++) {
        const struct hobble_fired *r = &p->a->rule[i];
        snprintf(text, sizeof text, "%s: %s", r->id, r->reason);
        double height = lay(p, text, BODY, false, INNER);
        char source[LINE_SIZE];
        snprintf(source, sizeof source, "Source: %s", r->source);
        height += lay(p, source, SMALL, false, INNER);
        if (p->y + height > end)
            break;
        line(p, text, BODY, false);
        line(p, source, SMALL, false);
    }
    if (i < p->a->rule_count) {
        snprintf(text, sizeof text, "and %d more: hobble condition shows all.",
                 p->a->rule_count - i);
        line(p, text, BODY, true);
    }
}

static void model(struct pen *p)
{
    const struct hobble_drive *d = &p->a->drive;
    char text[LINE_SIZE], pace[64], way[64], pressure[64], peak[64];
    if (!d->run)
        return;
    hb_quantity_text(d->speed, HOBBLE_UNIT_KM_PER_HOUR, p->us, 0, pace, sizeof pace);
    hb_quantity_text(d->distance, HOBBLE_UNIT_KILOMETRE, p->us, 1, way, sizeof way);
    hb_quantity_text(d->pressure, HOBBLE_UNIT_KILOPASCAL, p->us, 0, pressure, sizeof pressure);
    hb_quantity_text(d->peak_p95, HOBBLE_UNIT_CELSIUS, p->us, 0, peak, sizeof peak);
    snprintf(
        text, sizeof text,
        "%s at %s and %s; in 95 of 100 tyres at most: hottest wall %s, above 80 / 100 / 120 °C for "
        "%.1f / %.1f / %.1f min, life used %.1f %%; rim carried load on %.1f %% of tyres. A small "
        "number does not show that the tyre is sound.",
        way, pace, pressure, peak, d->above_80 / 60.0, d->above_100 / 60.0, d->above_120 / 60.0,
        100.0 * d->life_p95, 100.0 * d->rim_share);
    heading(p, "The drive with too little air, in the model");
    line(p, text, BODY, false);
}

/* Facts of the bench, known or not, and of the trip what was given: the model's drive rests on it.
 */
static bool stated(const hobble_case *c, int row)
{
    const struct hobble_param *r = &hobble_param_table(NULL)[row];
    return (r->group == HOBBLE_BENCH && row != row_of("job")) || row == row_of("ran_flat") ||
           row == row_of("repaired") || (r->group == HOBBLE_TRIP && hobble_case_given(c, row));
}

static void facts(struct pen *p)
{
    size_t rows;
    const struct hobble_param *table = hobble_param_table(&rows);
    const double width = INNER / FACT_COLUMNS, step = 9.6;
    int count = 0, place = 0;
    for (size_t i = 0; i < rows; i++)
        count += stated(p->c, (int)i);
    const int lines = (count + FACT_COLUMNS - 1) / FACT_COLUMNS;
    heading(p, "What was stated");
    for (size_t i = 0; i < rows; i++) {
        char name[64], value[HOBBLE_FAULT_TEXT];
        if (!stated(p->c, (int)i))
            continue;
        const double x = MARGIN + place / lines * width, y = p->y + place % lines * step;
        hb_words_spaced(table[i].key, name, sizeof name);
        hb_condition_value(p->c, (int)i, p->us, value, sizeof value);
        const bool known = strcmp(value, "not known") != 0;
        put(p, x, y, name, SMALL, false, 0.62 * width);
        put(p, x + 0.62 * width, y, known ? value : "?", SMALL, known, 0.36 * width);
        place++;
    }
    p->y += lines * step + 2.0;
}

static void checks(struct pen *p)
{
    heading(p, "Still to be checked by a qualified person");
    for (int i = 0; i < p->a->check_count; i++) {
        cairo_set_line_width(p->cairo, 0.8);
        cairo_rectangle(p->cairo, MARGIN + 0.5, p->y + 2.0, 7.0, 7.0);
        cairo_stroke(p->cairo);
        p->y += put(p, MARGIN + 14.0, p->y, p->a->check[i], BODY, false, INNER - 14.0) + 2.0;
    }
}

/* What is not known, by name, where there is room left. */
static void find_out(struct pen *p)
{
    char text[3 * LINE_SIZE] = "";
    for (int i = 0; i < p->a->find_out_count; i++) {
        char name[64];
        const size_t used = strlen(text);
        hb_words_spaced(hobble_param_table(NULL)[p->a->find_out[i]].key, name, sizeof name);
        snprintf(text + used, sizeof text - used, "%s%s", i > 0 ? ", " : "", name);
    }
    if (!*text || p->y + 30.0 + lay(p, text, SMALL, false, INNER) > SIGNING_TOP)
        return;
    heading(p, "Find out");
    line(p, text, SMALL, false);
}

static void signing(struct pen *p)
{
    static const char *const label[] = {"name and qualification", "place and date", "signature"};
    const double gap = 14.0, width = (INNER - 2.0 * gap) / 3.0;
    put(p, MARGIN, SIGNING_TOP, "Found and done", HEAD, true, INNER);
    cairo_set_line_width(p->cairo, 0.5);
    for (int i = 1; i <= 2; i++) {
        cairo_move_to(p->cairo, MARGIN, SIGNING_TOP + 14.0 + 20.0 * i);
        cairo_line_to(p->cairo, PAGE_WIDTH - MARGIN, SIGNING_TOP + 14.0 + 20.0 * i);
    }
    for (int i = 0; i < 3; i++) {
        const double x = MARGIN + i * (width + gap);
        cairo_move_to(p->cairo, x, SIGNING_TOP + 84.0);
        cairo_line_to(p->cairo, x + width, SIGNING_TOP + 84.0);
        put(p, x, SIGNING_TOP + 86.0, label[i], SMALL, false, width);
    }
    cairo_stroke(p->cairo);
    put(p, MARGIN, PAGE_HEIGHT - MARGIN - 2.0,
        "This is not a release to service. The signature is for the inspection only.", BODY, true,
        INNER);
}

/* The day of the inspection, so that the same answer gives the same bytes. */
static void set_metadata(cairo_surface_t *surface, const hobble_case *c)
{
    char when[HOBBLE_FAULT_TEXT + 16];
    const char *day = hobble_case_text(c, row_of("inspection_date"));
    snprintf(when, sizeof when, "%sT00:00:00Z", *day ? day : "2000-01-01");
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, "Bench sheet of one tyre");
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, "hobble");
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, when);
}

static enum hobble_status draw(cairo_surface_t *surface, struct pen *p)
{
    p->cairo = cairo_create(surface);
    p->layout = pango_cairo_create_layout(p->cairo);
    cairo_set_source_rgb(p->cairo, 0, 0, 0);
    head(p);
    verdict(p);
    rules(p);
    checks(p);
    model(p);
    facts(p);
    find_out(p);
    signing(p);
    cairo_show_page(p->cairo);
    g_object_unref(p->layout);
    const cairo_status_t drawn = cairo_status(p->cairo);
    cairo_destroy(p->cairo);
    cairo_surface_finish(surface);
    const cairo_status_t written = cairo_surface_status(surface);
    if (drawn == CAIRO_STATUS_NO_MEMORY || written == CAIRO_STATUS_NO_MEMORY)
        return HOBBLE_E_MEMORY;
    if (p->y > SIGNING_TOP) /* would run into the signature */
        return HOBBLE_E_INTERNAL;
    return drawn || written ? HOBBLE_E_WRITE : HOBBLE_OK;
}

enum hobble_status hb_sheet_write(const char *path, const hobble_case *c,
                                  const struct hobble_condition_answer *answer, bool us)
{
    struct pen p = {.c = c, .a = answer, .us = us};
    char *name = hb_temporary_beside(path);
    if (!name)
        return HOBBLE_E_WRITE;
    cairo_surface_t *surface = cairo_pdf_surface_create(name, PAGE_WIDTH, PAGE_HEIGHT);
    enum hobble_status status = HOBBLE_E_WRITE;
    if (cairo_surface_status(surface) == CAIRO_STATUS_SUCCESS) {
        set_metadata(surface, c);
        status = draw(surface, &p);
    }
    cairo_surface_destroy(surface);
    if (status == HOBBLE_OK)
        return hb_rename_whole(name, path);
    unlink(name);
    free(name);
    return status;
}

#endif
