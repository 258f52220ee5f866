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
enum {
    BODY = 9,
    SMALL = 7,
    HEAD = 12,
    TITLE = 20,
    RULE = 13,
    CELLS_MOST = HB_POLICY_CELLS,
    TITLE_TEXT = 96,
    CELL_TEXT = 2 * HOBBLE_FAULT_TEXT,
    TEXT_SIZE = 3000
};

/* The pen: where the next line goes. */
struct pen {
    cairo_t *cairo;
    PangoLayout *layout;
    const struct hb_policy_report *r;
    const struct hb_scope *scope; /* of the report's rows */
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
    hb_say(HB_SAY_POLICY_SHEET_FOOT, p->scope, text, sizeof text - 12);
    const size_t used = strlen(text);
    snprintf(text + used, sizeof text - used, "%d", p->page);
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

static void say_in(struct pen *p, enum hb_message id, const struct hb_scope *scope, double size)
{
    char text[TEXT_SIZE];
    hb_say(id, scope, text, sizeof text);
    line(p, text, size, false);
}

static void say(struct pen *p, enum hb_message id, double size)
{
    say_in(p, id, p->scope, size);
}

/* Once for each item of a list. */
static void say_each(struct pen *p, const char *name, enum hb_message id, double size)
{
    struct hb_scope list;
    const struct hb_row *row = hb_row_find(name, strlen(name), p->scope, &list);
    const size_t count = row->count(&list);
    for (size_t i = 0; i < count; i++) {
        const struct hb_scope item = hb_row_inside(row, &list, i);
        say_in(p, id, &item, size);
    }
}

static void heading(struct pen *p, enum hb_message id, double room)
{
    p->y += 8.0;
    need(p, room);
    p->y += put(p, MARGIN, p->y, hb_message_text(id), HEAD, true, INNER) + 3.0;
    rule_at(p, p->y, 0.6);
    p->y += 5.0;
}

/* ---- tables ---------------------------------------------------------------------------------- */

struct table {
    int columns;
    const struct hb_column *column;
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
    char text[CELLS_MOST][TITLE_TEXT];
    const char *cell[CELLS_MOST];
    for (int i = 0; i < t->columns; i++) {
        hb_say(t->column[i].title, p->scope, text[i], sizeof text[i]);
        cell[i] = text[i];
    }
    p->y += cells(p, t, cell, true, true) + 1.5;
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

/* The items of a list; dark says which stand in bold. */
static void table_of(struct pen *p, const struct table *t, const char *name,
                     bool (*dark)(const struct hb_scope *item))
{
    struct hb_scope list;
    const struct hb_row *row = hb_row_find(name, strlen(name), p->scope, &list);
    const size_t count = row->count(&list);
    table_head(p, t);
    for (size_t i = 0; i < count; i++) {
        const struct hb_scope item = hb_row_inside(row, &list, i);
        char text[CELLS_MOST][CELL_TEXT];
        const char *cell[CELLS_MOST];
        for (int k = 0; k < t->columns; k++) {
            hb_say(t->column[k].cell, &item, text[k], sizeof text[k]);
            cell[k] = text[k];
        }
        table_row(p, t, cell, dark && dark(&item));
    }
}

/* ---- the parts ------------------------------------------------------------------------------- */

static void summary(struct pen *p)
{
    char rule[HB_POLICY_LINES][HB_POLICY_TEXT], text[TEXT_SIZE];
    const int lines = hb_policy_lines(p->r, rule);
    for (int i = 0; i < lines; i++) {
        hb_lettering_keep(rule[i], text, sizeof text);
        snprintf(rule[i], sizeof rule[i], "%.*s", (int)sizeof rule[i] - 1, text);
    }
    p->y +=
        put(p, MARGIN, p->y, hb_message_text(HB_SAY_POLICY_SHEET_TITLE), TITLE, true, INNER) + 4.0;
    say(p, HB_SAY_POLICY_SHEET_OF, HEAD);
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
    say(p, HB_SAY_POLICY_VERDICT, BODY);
    say(p, HB_SAY_POLICY_PLAIN_RULE, BODY);
    say(p, HB_SAY_POLICY_FIRST, BODY);
    p->y += 8.0;
    line(p, hb_message_text(HB_SAY_POLICY_AGREED), BODY, true);
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

static bool is_unsafe(const struct hb_scope *item)
{
    return ((const struct hobble_policy_row *)item->of)->rule_unsafe;
}

static void rows(struct pen *p)
{
    static const double width[] = {0.13,  0.105, 0.13,  0.055, 0.055, 0.07,
                                   0.065, 0.075, 0.065, 0.075, 0.175};
    static const struct table t = {HB_POLICY_CELLS, hb_policy_columns, width, 0x3F8, 6.4};
    heading(p, HB_SAY_POLICY_ROWS_SHEET, 90.0);
    table_of(p, &t, "rows", is_unsafe);
    say(p, HB_SAY_POLICY_ROWS_NOTE, SMALL);
}

static void costs(struct pen *p)
{
    static const double width[] = {0.25, 0.23, 0.19, 0.14, 0.19};
    static const struct hb_column column[] = {
        {HB_SAY_POLICY_T_CONSTRUCTION, HB_SAY_POLICY_CONSTRUCTION, false},
        {HB_SAY_POLICY_T_MONEY, HB_SAY_POLICY_MONEY_SHEET, true},
        {HB_SAY_POLICY_T_EVENTS, HB_SAY_POLICY_EVENTS_SHEET, true},
        {HB_SAY_POLICY_T_STRANDS, HB_SAY_POLICY_STRANDS, true},
        {HB_SAY_POLICY_T_PAYS_SHEET, HB_SAY_POLICY_PAYS, true}};
    static const struct table t = {5, column, width, 0x1E, 7.5};
    heading(p, HB_SAY_POLICY_COSTS_SHEET, 140.0);
    table_of(p, &t, "constructions", NULL);
}

static void method(struct pen *p)
{
    char text[TEXT_SIZE];
    hb_say(HB_SAY_POLICY_METHOD, p->scope, text, sizeof text);
    heading(p, HB_SAY_POLICY_METHOD_TITLE, lay(p, text, BODY, false, INNER) + 40.0);
    line(p, text, BODY, false);
    heading(p, HB_SAY_CAUTIONS, 80.0);
    for (int i = 0; i < HB_POLICY_CAUTIONS; i++) {
        snprintf(text, sizeof text, "•  %s", hb_message_text(hb_policy_cautions[i]));
        line(p, text, BODY, false);
    }
}

static void shifts(struct pen *p)
{
    static const double width[] = {0.30, 0.11, 0.12, 0.47};
    static const struct hb_column column[] = {
        {HB_SAY_POLICY_T_MOVED, HB_SAY_POLICY_MOVED, false},
        {HB_SAY_POLICY_T_CHANGE, HB_SAY_POLICY_CHANGE, true},
        {HB_SAY_POLICY_T_TURNS, HB_SAY_POLICY_TURNS, true},
        {HB_SAY_POLICY_T_MEASURE, HB_SAY_POLICY_MEASURE, false}};
    static const struct table t = {4, column, width, 0x6, 7.5};
    heading(p, HB_SAY_POLICY_SHIFTS_SHEET, 120.0);
    table_of(p, &t, "sensitivity", NULL);
}

/* ---- annex ----------------------------------------------------------------------------------- */

static void annex_numbers(struct pen *p)
{
    static const double width[] = {0.34, 0.12, 0.08, 0.09, 0.37};
    static const struct hb_column column[] = {
        {HB_SAY_POLICY_T_NUMBER, HB_SAY_POLICY_NUMBER, false},
        {HB_SAY_POLICY_T_VALUE, HB_SAY_POLICY_VALUE, false},
        {HB_SAY_POLICY_T_SPREAD, HB_SAY_POLICY_SPREAD, false},
        {HB_SAY_POLICY_T_KNOWN, HB_SAY_POLICY_KNOWN, false},
        {HB_SAY_POLICY_T_SOURCE, HB_SAY_POLICY_SOURCE_SHEET, false}};
    static const struct table t = {5, column, width, 0, 6.5};
    heading(p, HB_SAY_POLICY_NUMBERS_SHEET, 100.0);
    table_of(p, &t, "inputs", NULL);
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
    static const double width[] = {0.30, 0.27, 0.08, 0.35};
    static const struct hb_column column[] = {{HB_SAY_POLICY_T_OF_VEHICLES, HB_SAY_NOTHING, false},
                                              {HB_SAY_POLICY_T_VALUE, HB_SAY_NOTHING, false},
                                              {HB_SAY_POLICY_T_KNOWN, HB_SAY_NOTHING, false},
                                              {HB_SAY_POLICY_T_SOURCE, HB_SAY_NOTHING, false}};
    static const struct table t = {4, column, width, 0, 6.5};
    const struct hobble_fleet *f = p->r->fleet;
    say(p, HB_SAY_POLICY_HELP_SHEET, SMALL);
    say_each(p, "sites", HB_SAY_POLICY_SITE_SHEET, SMALL);
    say_each(p, "loads", HB_SAY_POLICY_OF_LOAD, SMALL);
    say_each(p, "vehicles", HB_SAY_POLICY_OF_VEHICLE, SMALL);
    p->y += 6.0;
    need(p, 60.0);
    table_head(p, &t);
    for (int i = 0; i < f->vehicles; i++) {
        annex_vehicle(p, &t, &f->vehicle[i], 0);
        if (!hobble_fleet_same_tyres(&f->vehicle[i]))
            annex_vehicle(p, &t, &f->vehicle[i], 1);
    }
    p->y += 4.0;
    say(p, HB_SAY_POLICY_NOT_LISTED, SMALL);
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
                                   hb_message_text(HB_SAY_POLICY_SHEET_TITLE));
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, "hobble");
    /* always the same day, so that the same fleet gives the same bytes */
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, "2000-01-01T00:00:00Z");
    const struct hb_scope scope = hb_policy_scope(r);
    struct pen p = {
        .cairo = cairo_create(surface), .r = r, .scope = &scope, .page = 1, .y = MARGIN};
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
