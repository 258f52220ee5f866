/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/paper/policy_sheet.h"

#include "report/describe/policy.h"
#include "report/describe/words.h"
#include "report/out.h"
#include "report/paper/lettering.h"

#ifndef HB_WITH_PDF

enum hobble_status hb_policy_sheet(const char *path, const struct hb_policy_report *r,
                                   const char *chances_svg, const char *costs_svg)
{
    (void)path;
    (void)r;
    (void)chances_svg;
    (void)costs_svg;
    return HOBBLE_E_UNSUPPORTED;
}

#else

#include "input/quantity.h"

#include <cairo-pdf.h>
#include <librsvg/rsvg.h>
#include <math.h>
#include <pango/pangocairo.h>
#include <stdlib.h>
#include <string.h>

/* A4 in points (ISO 216). */
#define PAGE_WIDTH  595.276
#define PAGE_HEIGHT 841.890
#define MARGIN      45.0
#define INNER       (PAGE_WIDTH - 2.0 * MARGIN)
#define BOTTOM      (PAGE_HEIGHT - MARGIN - 14.0)
enum { BODY = 9, SMALL = 7, HEAD = 12, TITLE = 20, RULE = 13, CELLS_MOST = 10, TEXT_SIZE = 3000 };

/* The pen: where the next line goes. */
struct pen {
    cairo_t *cairo;
    PangoLayout *layout;
    const struct hb_policy_report *r;
    int page;
    double y;
};

static double lay(struct pen *p, const char *text, double size, bool bold, double width)
{
    int height;
    PangoFontDescription *font = pango_font_description_new();
    pango_font_description_set_family(font, "DejaVu Sans, Liberation Sans, sans-serif");
    pango_font_description_set_weight(font, bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    pango_font_description_set_absolute_size(font, size * PANGO_SCALE);
    pango_layout_set_font_description(p->layout, font);
    pango_font_description_free(font);
    pango_layout_set_width(p->layout, (int)(width * PANGO_SCALE));
    pango_layout_set_wrap(p->layout, PANGO_WRAP_WORD_CHAR);
    pango_layout_set_text(p->layout, text, -1);
    pango_layout_get_size(p->layout, NULL, &height);
    return (double)height / PANGO_SCALE;
}

static double put(struct pen *p, double x, double y, const char *text, double size, bool bold,
                  double width)
{
    const double height = lay(p, text, size, bold, width);
    cairo_move_to(p->cairo, x, y);
    pango_cairo_show_layout(p->cairo, p->layout);
    return height;
}

/* ---- pages ----------------------------------------------------------------------------------- */

static void foot(struct pen *p)
{
    char text[300];
    snprintf(text, sizeof text, "%s · hobble %s · advice, not permission · page %d",
             p->r->fleet->name, hobble_version(), p->page);
    put(p, MARGIN, PAGE_HEIGHT - MARGIN, text, SMALL, false, INNER);
}

static void next_page(struct pen *p)
{
    foot(p);
    cairo_show_page(p->cairo);
    p->page++;
    p->y = MARGIN;
}

static void need(struct pen *p, double height)
{
    if (p->y + height > BOTTOM)
        next_page(p);
}

static void line(struct pen *p, const char *text, double size, bool bold)
{
    need(p, lay(p, text, size, bold, INNER));
    p->y += put(p, MARGIN, p->y, text, size, bold, INNER) + 0.35 * size;
}

static void rule_at(struct pen *p, double y, double weight)
{
    cairo_set_line_width(p->cairo, weight);
    cairo_move_to(p->cairo, MARGIN, y);
    cairo_line_to(p->cairo, PAGE_WIDTH - MARGIN, y);
    cairo_stroke(p->cairo);
}

static void heading(struct pen *p, const char *text, double room)
{
    p->y += 8.0;
    need(p, room);
    p->y += put(p, MARGIN, p->y, text, HEAD, true, INNER) + 3.0;
    rule_at(p, p->y, 0.6);
    p->y += 5.0;
}

/* ---- tables ---------------------------------------------------------------------------------- */

struct table {
    int columns;
    const char *const *name;
    const double *width; /* shares of the sheet */
    unsigned right;      /* columns of numbers, a bit each */
    double size;
};

static double cells(struct pen *p, const struct table *t, const char *const cell[], bool bold,
                    bool draw)
{
    double x = MARGIN, most = 0.0;
    for (int i = 0; i < t->columns; i++) {
        const double width = t->width[i] * INNER - 4.0;
        pango_layout_set_alignment(p->layout,
                                   t->right >> i & 1u ? PANGO_ALIGN_RIGHT : PANGO_ALIGN_LEFT);
        const double height = draw ? put(p, x, p->y, cell[i], t->size, bold, width)
                                   : lay(p, cell[i], t->size, bold, width);
        most = fmax(most, height);
        x += t->width[i] * INNER;
    }
    pango_layout_set_alignment(p->layout, PANGO_ALIGN_LEFT);
    return most;
}

static void table_head(struct pen *p, const struct table *t)
{
    p->y += cells(p, t, t->name, true, true) + 1.5;
    rule_at(p, p->y, 0.8);
    p->y += 2.0;
}

static void table_row(struct pen *p, const struct table *t, const char *const cell[], bool dark)
{
    const double height = cells(p, t, cell, dark, false);
    if (p->y + height + 3.0 > BOTTOM) {
        next_page(p);
        table_head(p, t);
    }
    cells(p, t, cell, dark, true);
    p->y += height + 1.2;
    rule_at(p, p->y, 0.2);
    p->y += 1.8;
}

/* ---- the parts ------------------------------------------------------------------------------- */

static void summary(struct pen *p)
{
    const struct hb_policy_report *r = p->r;
    char rule[HB_POLICY_LINES][HB_POLICY_TEXT], text[TEXT_SIZE];
    const int lines = hb_policy_lines(r, rule);
    for (int i = 0; i < lines; i++) {
        hb_lettering_keep(rule[i], text, sizeof text);
        snprintf(rule[i], sizeof rule[i], "%.*s", (int)sizeof rule[i] - 1, text);
    }
    p->y += put(p, MARGIN, p->y, "Roadside policy for a flat tyre", TITLE, true, INNER) + 4.0;
    line(p, r->fleet->name, HEAD, false);
    const double top = p->y + 4.0;
    double high = 10.0;
    for (int i = 0; i < lines; i++)
        high += lay(p, rule[i], RULE, true, INNER - 44.0) + 6.0;
    cairo_set_line_width(p->cairo, 1.8);
    cairo_rectangle(p->cairo, MARGIN, top, INNER, high);
    cairo_stroke(p->cairo);
    p->y = top + 8.0;
    for (int i = 0; i < lines; i++) {
        char number[16];
        snprintf(number, sizeof number, "%d", i + 1);
        put(p, MARGIN + 12.0, p->y, number, RULE, true, 20.0);
        p->y += put(p, MARGIN + 32.0, p->y, rule[i], RULE, true, INNER - 44.0) + 6.0;
    }
    p->y = top + high + 8.0;
    hb_policy_verdict(r, text, sizeof text);
    line(p, text, BODY, false);
    hb_policy_plain_rule(r, text, sizeof text);
    line(p, text, BODY, false);
    hb_policy_first(r, text, sizeof text);
    line(p, text, BODY, false);
    p->y += 8.0;
    line(p, "Agreed by ______________________________   on ____________   valid until ____________",
         BODY, true);
}

/* A picture over the whole width, no higher than most. Its size is that of its view box: it has no
 * other. */
static bool picture(struct pen *p, const char *path, double most)
{
    gboolean has_width, has_height, has_box;
    RsvgLength unused;
    RsvgRectangle box = {0};
    RsvgHandle *svg = rsvg_handle_new_from_file(path, NULL);
    if (!svg)
        return false;
    rsvg_handle_get_intrinsic_dimensions(svg, &has_width, &unused, &has_height, &unused, &has_box,
                                         &box);
    const double width = has_box && box.width > 0.0 ? box.width : 900.0;
    const double height = has_box && box.height > 0.0 ? box.height : 600.0;
    const double scale = fmin(INNER / width, most / height);
    need(p, scale * height);
    const RsvgRectangle where = {MARGIN + 0.5 * (INNER - scale * width), p->y, scale * width,
                                 scale * height};
    const bool drawn = rsvg_handle_render_document(svg, p->cairo, &where, NULL);
    p->y += scale * height + 4.0;
    g_object_unref(svg);
    return drawn;
}

static void rows(struct pen *p)
{
    static const double width[] = {0.13,  0.105, 0.13,  0.055, 0.055, 0.07,
                                   0.065, 0.075, 0.065, 0.075, 0.175};
    const struct table t = {HB_POLICY_CELLS, hb_policy_columns, width, 0x3F8, 6.4};
    const struct hb_policy_report *r = p->r;
    heading(p, "Every vehicle, load and season", 90.0);
    table_head(p, &t);
    for (int i = 0; i < r->policy->rows; i++) {
        char text[HB_POLICY_CELLS][HOBBLE_FAULT_TEXT];
        const char *cell[HB_POLICY_CELLS];
        hb_policy_cells(r, i, text);
        for (int k = 0; k < HB_POLICY_CELLS; k++)
            cell[k] = text[k];
        table_row(p, &t, cell, r->policy->row[i].rule_unsafe);
    }
    line(p,
         "From the warning on. By the rule: what drivers are told, at the rule's speed. Alone: the "
         "longest way of this row at its own speed, and the chances with it. Fails: the tyre ends "
         "before help and before the longest way. "
         "Stranded: "
         "help is not reached on one's own wheels; always stopping strands every time. Lost: "
         "stopped as the plain rule tells, with help within the tyre's range. Bold: the plain rule "
         "is over the accepted chance.",
         SMALL, false);
}

static void costs(struct pen *p)
{
    static const double width[] = {0.25, 0.23, 0.19, 0.14, 0.19};
    char money[96];
    const struct hb_policy_report *r = p->r;
    snprintf(money, sizeof money, "%s a vehicle and 100 000 km", r->fleet->money);
    const char *const name[] = {"construction", money, "stranded a million km",
                                "a puncture strands",
                                "self-supporting pays, punctures a 100 000 km"};
    const struct table t = {5, name, width, 0x1E, 7.5};
    heading(p, "What other constructions cost", 140.0);
    table_head(p, &t);
    for (int b = 0; b < HOBBLE_BUILDS; b++) {
        const struct hobble_policy_cost *c = &r->policy->cost[b];
        char cost[64], events[64], strands[32], pays[64];
        snprintf(cost, sizeof cost, "%.0f (%.0f to %.0f)", c->cost.middle, c->cost.p5, c->cost.p95);
        snprintf(events, sizeof events, "%.1f (%.1f to %.1f)", c->stranded.middle, c->stranded.p5,
                 c->stranded.p95);
        hb_policy_percent(c->stranding, strands, sizeof strands);
        hb_policy_break(r, (enum hobble_build)b, pays, sizeof pays);
        const char *const cell[] = {hobble_build_name((enum hobble_build)b), cost, events, strands,
                                    pays};
        table_row(p, &t, cell, false);
    }
}

static void method(struct pen *p)
{
    char text[TEXT_SIZE];
    hb_policy_method(p->r, text, sizeof text);
    heading(p, "Method", lay(p, text, BODY, false, INNER) + 40.0);
    line(p, text, BODY, false);
    heading(p, "Cautions", 80.0);
    for (int i = 0; hb_policy_cautions[i]; i++) {
        snprintf(text, sizeof text, "•  %s", hb_policy_cautions[i]);
        line(p, text, BODY, false);
    }
}

static void shifts(struct pen *p)
{
    static const char *const name[] = {"moved", "mean change", "go or stop turns",
                                       "what to measure"};
    static const double width[] = {0.30, 0.11, 0.12, 0.47};
    const struct table t = {4, name, width, 0x6, 7.5};
    heading(p, "What would change the policy", 120.0);
    table_head(p, &t);
    for (int i = 0; i < HOBBLE_SHIFTS; i++) {
        const struct hobble_shift *s = &p->r->policy->shift[i];
        char change[32], turned[32];
        hb_quantity_text(s->change, HOBBLE_UNIT_KILOMETRE, p->r->us, 1, change, sizeof change);
        hb_policy_percent(s->flipped, turned, sizeof turned);
        const char *const cell[] = {hobble_shift_what(s->code), change, turned,
                                    hobble_shift_how(s->code)};
        table_row(p, &t, cell, false);
    }
}

/* ---- annex ----------------------------------------------------------------------------------- */

static void annex_numbers(struct pen *p)
{
    static const char *const name[] = {"number of the fleet", "value", "spread", "known", "source"};
    static const double width[] = {0.34, 0.12, 0.08, 0.09, 0.37};
    const struct table t = {5, name, width, 0, 6.5};
    size_t count;
    const struct hobble_fleet_row *row = hobble_fleet_table(&count);
    heading(p, "Annex: every input, and how it is known", 100.0);
    table_head(p, &t);
    for (size_t i = 0; i < count; i++) {
        const struct hobble_fleet_number *n = &p->r->fleet->number[i];
        char value[96], spread[32] = "", source[2 * HOBBLE_FAULT_TEXT];
        hb_policy_number(p->r->fleet, (int)i, value, sizeof value);
        if (n->spread > 0.0)
            snprintf(spread, sizeof spread, "x/ %.3g", exp(n->spread));
        snprintf(source, sizeof source, "%s [%s]", n->source, n->origin);
        const char *const cell[] = {row[i].meaning, value, spread,
                                    hobble_provenance_word(n->provenance), source};
        table_row(p, &t, cell, false);
    }
}

/* Rows that were given for a vehicle's tyre and body. */
static void annex_vehicle(struct pen *p, const struct table *t,
                          const struct hobble_fleet_vehicle *v, int axle)
{
    size_t count;
    const struct hobble_param *row = hobble_param_table(&count);
    const hobble_case *c = v->axle[axle];
    for (size_t i = 0; i < count; i++) {
        const int k = (int)i;
        char value[HOBBLE_FAULT_TEXT], source[2 * HOBBLE_FAULT_TEXT], name[HOBBLE_FAULT_TEXT];
        if (!hobble_case_given(c, k) || (axle == 1 && row[i].group != HOBBLE_TYRE))
            continue;
        if (row[i].kind == HOBBLE_NUMBER)
            hb_quantity_print(hobble_case_number(c, k), row[i].unit, false, 6, value, sizeof value);
        else if (row[i].kind == HOBBLE_WORD)
            hobble_param_word_at(&row[i], (int)hobble_case_number(c, k), value, sizeof value);
        else
            hobble_fault_text(value, hobble_case_text(c, k));
        snprintf(name, sizeof name, "%.40s: %.40s", v->name, row[i].key);
        snprintf(source, sizeof source, "%s [%s]",
                 row[i].kind == HOBBLE_TEXT ? "" : hobble_case_source(c, k),
                 hobble_case_origin(c, k));
        const char *const cell[] = {
            name, value,
            row[i].kind == HOBBLE_TEXT ? "" : hobble_provenance_word(hobble_case_provenance(c, k)),
            source};
        table_row(p, t, cell, false);
    }
}

static void annex_rest(struct pen *p)
{
    static const char *const name[] = {"vehicles and tyres", "value", "known", "source"};
    static const double width[] = {0.30, 0.27, 0.08, 0.35};
    const struct table t = {4, name, width, 0, 6.5};
    const struct hobble_fleet *f = p->r->fleet;
    char text[TEXT_SIZE], help[400];
    hb_policy_help(p->r, help, sizeof help);
    snprintf(text, sizeof text, "Help: %s.", help);
    line(p, text, SMALL, false);
    for (int i = 0; i < f->sites; i++) {
        snprintf(text, sizeof text, "Weather at %s.", f->site[i]);
        line(p, text, SMALL, false);
    }
    for (int i = 0; i < f->loads; i++) {
        const struct hobble_fleet_load *l = &f->load[i];
        char who[64];
        if (isnan(l->people))
            snprintf(who, sizeof who, "%.3g of the seats", l->seats);
        else
            snprintf(who, sizeof who, "people: %.0f", l->people);
        snprintf(text, sizeof text, "Load \"%s\": %s, %.4g kg of luggage, %.3g of the kilometres.",
                 l->name, who, l->luggage, l->share);
        line(p, text, SMALL, false);
    }
    for (int i = 0; i < f->vehicles; i++) {
        snprintf(text, sizeof text, "Vehicle \"%s\": %d of them, %.6g km a year each.",
                 f->vehicle[i].name, f->vehicle[i].count, f->vehicle[i].year_km);
        line(p, text, SMALL, false);
    }
    p->y += 6.0;
    need(p, 60.0);
    table_head(p, &t);
    for (int i = 0; i < f->vehicles; i++) {
        annex_vehicle(p, &t, &f->vehicle[i], 0);
        if (!hobble_fleet_same_tyres(&f->vehicle[i]))
            annex_vehicle(p, &t, &f->vehicle[i], 1);
    }
    p->y += 4.0;
    snprintf(
        text, sizeof text,
        "%.0f members, seed %.0f. What is not listed has the program's built-in value, spread and "
        "source: hobble profile keys.",
        f->members, f->seed);
    line(p, text, SMALL, false);
}

/* ---- the file -------------------------------------------------------------------------------- */

static cairo_status_t write_stream(void *closure, const unsigned char *bytes, unsigned length)
{
    return fwrite(bytes, 1, length, closure) == length ? CAIRO_STATUS_SUCCESS
                                                       : CAIRO_STATUS_WRITE_ERROR;
}

static bool draw(struct pen *p, const char *chances_svg, const char *costs_svg)
{
    bool good;
    cairo_set_source_rgb(p->cairo, 0, 0, 0);
    summary(p);
    good = picture(p, chances_svg, BOTTOM - p->y > 330.0 ? BOTTOM - p->y : BOTTOM - MARGIN);
    next_page(p);
    rows(p);
    costs(p);
    good = picture(p, costs_svg, fmax(140.0, fmin(BOTTOM - p->y, 240.0))) && good;
    shifts(p);
    method(p);
    annex_numbers(p);
    annex_rest(p);
    foot(p);
    cairo_show_page(p->cairo);
    return good;
}

enum hobble_status hb_policy_sheet(const char *path, const struct hb_policy_report *r,
                                   const char *chances_svg, const char *costs_svg)
{
    struct hb_out out;
    enum hobble_status status = hb_out_open(&out);
    if (status != HOBBLE_OK)
        return status;
    cairo_surface_t *surface =
        cairo_pdf_surface_create_for_stream(write_stream, out.stream, PAGE_WIDTH, PAGE_HEIGHT);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE,
                                   "Roadside policy for a flat tyre");
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, "hobble");
    /* always the same day, so that the same fleet gives the same bytes */
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, "2000-01-01T00:00:00Z");
    struct pen p = {.cairo = cairo_create(surface), .r = r, .page = 1, .y = MARGIN};
    p.layout = pango_cairo_create_layout(p.cairo);
    const bool pictures = draw(&p, chances_svg, costs_svg);
    g_object_unref(p.layout);
    cairo_status_t done = cairo_status(p.cairo);
    cairo_destroy(p.cairo);
    cairo_surface_finish(surface);
    done = done == CAIRO_STATUS_SUCCESS ? cairo_surface_status(surface) : done;
    cairo_surface_destroy(surface);
    if (done == CAIRO_STATUS_SUCCESS && pictures)
        return hb_out_close(&out, path);
    hb_out_drop(&out);
    return done == CAIRO_STATUS_NO_MEMORY ? HOBBLE_E_MEMORY
           : pictures                     ? HOBBLE_E_WRITE
                                          : HOBBLE_E_NO_INPUT;
}

#endif
