/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/paper/card_draw.h"

#include "report/describe/card.h"
#include "report/describe/words.h"
#include "report/out.h"
#include "report/paper/lettering.h"

#ifndef HB_WITH_PDF

enum hobble_status hb_card_write(const char *path, const hobble_case *c, const struct hb_card *card,
                                 bool us)
{
    (void)path;
    (void)c;
    (void)card;
    (void)us;
    return HOBBLE_E_UNSUPPORTED;
}

#else

#include <cairo-pdf.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#define MM (72.0 / 25.4) /* points */
enum { DATE_SIZE = 40, TEXT_SIZE = 400 };

/* A size of card and how many stand on a sheet of A4 (210 mm x 297 mm, ISO 216). */
struct size {
    double width, height; /* mm */
    int across, down;
    double margin;      /* mm, inside the card */
    double title, body; /* points */
};
/* ISO/IEC 7810 ID-1, and A6 of ISO 216. */
static const struct size pocket = {85.6, 53.98, 2, 5, 3.0, 9.6, 7.6};
static const struct size a6 = {105.0, 148.0, 2, 2, 8.0, 13.0, 8.4};
enum { FIT_STEPS = 12 }; /* letters are made smaller, a twentieth at a time, until all fits */

/* The pen on one card. */
struct pen {
    cairo_t *cairo;
    PangoLayout *layout;
    const struct size *size;
    const hobble_case *c;
    const struct hb_card *card;
    const char *date, *until;
    bool us;
    double y, width, foot; /* points; foot: where the last line begins */
};

static const char *const to_do[] = {
    "Slow down gently: no hard braking, no fast bends, no kerbs.",
    "Stop off the carriageway first, then decide. Never read this while driving.",
    "Go to the nearest workshop, not home. A rest does not heal the tyre.",
    "Two flat tyres, a trailer, or metal on the road: do not drive on.",
    NULL,
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
    p->y += put(p, 0.0, p->y, text, size, bold, p->width) + 0.25 * size;
}

/* ---- texts ----------------------------------------------------------------------------------- */

/* One line for each axle's tyres where they differ. */
static void tyre_text(const hobble_case *c, const struct hobble_marking *marking, char *buf,
                      size_t size)
{
    const char *tyre = hobble_case_text(c, hobble_param_find("tyre_name"));
    char mark[64];
    if (marking)
        hobble_marking_print(marking, mark, sizeof mark);
    else
        snprintf(mark, sizeof mark, "%.60s", hobble_case_text(c, hobble_param_find("marking")));
    snprintf(buf, size, "%s%s%s", mark, *tyre ? ", " : "", tyre);
}

static void names(const struct pen *p, char *buf, size_t size)
{
    const struct hb_card *k = p->card;
    const char *vehicle =
        k->vehicle ? k->vehicle : hobble_case_text(p->c, hobble_param_find("vehicle_name"));
    char front[HOBBLE_FAULT_TEXT], rear[HOBBLE_FAULT_TEXT];
    tyre_text(p->c, &k->marking, front, sizeof front);
    if (k->rear) {
        tyre_text(k->rear, NULL, rear, sizeof rear);
        snprintf(buf, size, "%s · front %s · rear %s", vehicle, front, rear);
        return;
    }
    snprintf(buf, size, "%s · %s", *vehicle ? vehicle : "vehicle: built-in values", front);
}

static bool invented(const struct pen *p)
{
    return (p->card->fleet && strstr(p->card->fleet, "invented")) ||
           strstr(hobble_case_text(p->c, hobble_param_find("vehicle_name")), "invented") ||
           strstr(hobble_case_text(p->c, hobble_param_find("tyre_name")), "invented");
}

static void head(struct pen *p)
{
    char text[TEXT_SIZE];
    line(p, "Flat tyre: how far at most", p->size->title, true);
    size_t place = 0;
    if (hb_changed_by_hand(p->c, &place))
        line(p, "CHANGED BY HAND: not for use", p->size->body, true);
    else if (p->card->example)
        line(p, "EXAMPLE, not your vehicle", p->size->body, true);
    else if (invented(p))
        line(p, "INVENTED PROFILE: no real tyre, no real vehicle", p->size->body, true);
    names(p, text, sizeof text);
    pango_layout_set_ellipsize(p->layout, PANGO_ELLIPSIZE_END);
    pango_layout_set_height(p->layout, -2); /* lines */
    line(p, text, p->size->body, false);
    pango_layout_set_ellipsize(p->layout, PANGO_ELLIPSIZE_NONE);
    if (p->card->fleet) {
        snprintf(text, sizeof text, "The rule of %s:", p->card->fleet);
        line(p, text, 0.9 * p->size->body, false);
    }
    for (int i = 0; i < p->card->rules; i++) {
        hb_lettering_keep(p->card->rule[i], text, sizeof text);
        line(p, text, p->size->body, true);
    }
}

/* Whom to call: where no number is known there is room to write one. */
static void call(struct pen *p)
{
    const char *number = hobble_case_text(p->c, hobble_param_find("recovery_number"));
    char text[TEXT_SIZE];
    snprintf(text, sizeof text, "STOP, or in doubt: call %s",
             *number ? number : "____________________");
    line(p, text, p->size->body, true);
}

static void foot(struct pen *p)
{
    char text[TEXT_SIZE];
    const double size = 0.85 * p->size->body;
    const int members = (int)hobble_case_number(p->c, hobble_param_find("members"));
    snprintf(text, sizeof text,
             "%s · valid until the tyres' next yearly check, at most until %s · hobble %s · %d "
             "sampled types, 95 of 100 reach it · advice, not a permission: the makers and the law "
             "come first",
             p->date, p->until, hobble_version(), members);
    const double height = lay(p, text, size, false, p->width);
    p->foot = (p->size->height - 2.0 * p->size->margin) * MM - height;
    put(p, 0.0, p->foot, text, size, false, p->width);
}

/* ---- the table ------------------------------------------------------------------------------- */

static void rule_at(struct pen *p, double y, double weight)
{
    cairo_set_line_width(p->cairo, weight);
    cairo_move_to(p->cairo, 0.0, y);
    cairo_line_to(p->cairo, p->width, y);
    cairo_stroke(p->cairo);
}

/* A cell with STOP is white on black, so that it shows without colour. */
static void cell(struct pen *p, double x, double width, double height, const char *text)
{
    const bool stop = strcmp(text, "STOP") == 0;
    const double size = 1.15 * p->size->body;
    if (stop) {
        cairo_rectangle(p->cairo, x + 0.08 * width, p->y + 0.1 * height, 0.84 * width,
                        0.8 * height);
        cairo_fill(p->cairo);
        cairo_set_source_rgb(p->cairo, 1, 1, 1);
    }
    pango_layout_set_alignment(p->layout, PANGO_ALIGN_CENTER);
    const double tall = lay(p, text, stop ? p->size->body : size, true, width);
    put(p, x, p->y + 0.5 * (height - tall), text, stop ? p->size->body : size, true, width);
    pango_layout_set_alignment(p->layout, PANGO_ALIGN_LEFT);
    cairo_set_source_rgb(p->cairo, 0, 0, 0);
}

/* "25 °C", or "summer" and on the next line "to 31 °C". */
static void column_text(const struct pen *p, int column, char *buf, size_t size)
{
    const char *season = p->card->season[column];
    char text[80];
    double heat = p->card->heat[column] - 273.15;
    if (p->us)
        heat = heat * 1.8 + 32.0;
    snprintf(text, sizeof text, "%.0f\u00A0°%c", season ? ceil(heat - 1e-6) : round(heat),
             p->us ? 'F' : 'C');
    snprintf(buf, size, "%s%s%s", season ? season : "", season ? "\nto\u00A0" : "", text);
}

static void table_head(struct pen *p, double first, double each)
{
    char text[160], title[160];
    const double speed = floor(p->card->speed * 3600.0 / (p->us ? 1609.344 : 1e3) + 1e-9);
    snprintf(title, sizeof title, "%s at %.0f %s%s", p->us ? "miles" : "km", speed,
             p->us ? "mph" : "km/h", p->card->season[0] ? "" : ", air at:");
    double height = lay(p, title, 0.9 * p->size->body, false, first);
    put(p, 0.0, p->y, title, 0.9 * p->size->body, false, first);
    pango_layout_set_alignment(p->layout, PANGO_ALIGN_CENTER);
    for (int j = 0; j < p->card->heats; j++) {
        const double size = (p->card->season[j] ? 0.8 : 1.0) * p->size->body;
        column_text(p, j, text, sizeof text);
        height = fmax(height, put(p, first + each * j, p->y, text, size, true, each));
    }
    pango_layout_set_alignment(p->layout, PANGO_ALIGN_LEFT);
    p->y += height + 0.3 * p->size->body;
    rule_at(p, p->y, 0.8);
}

static bool stated_good(const hobble_case *c)
{
    return hobble_case_number(c, hobble_param_find("age")) <= 5.0 &&
           hobble_case_number(c, hobble_param_find("ran_flat")) == 1.0 &&
           hobble_case_number(c, hobble_param_find("repaired")) == 1.0;
}

/* What the figures rest on: a card lies in its box for years. */
static void holds_while(struct pen *p)
{
    const bool stated = stated_good(p->c) && (!p->card->rear || stated_good(p->card->rear));
    line(p,
         stated || p->card->example
             ? "Holds only while the tyre is at most 5 years old, never ran flat and was never "
               "repaired."
             : "Age, earlier flat running and repairs are not all stated to be good: the approval "
               "mark counts for nothing here.",
         0.9 * p->size->body, true);
}

static void table(struct pen *p)
{
    const double first = 0.38 * p->width, each = (p->width - first) / p->card->heats;
    const double height = 2.0 * p->size->body;
    p->y += 0.4 * p->size->body;
    table_head(p, first, each);
    for (int i = 0; i < p->card->loads; i++) {
        const double tall = lay(p, p->card->load[i], p->size->body, false, first);
        put(p, 0.0, p->y + 0.5 * (height - tall), p->card->load[i], p->size->body, false, first);
        for (int j = 0; j < p->card->heats; j++) {
            char text[24];
            hb_card_way(p->card->distance[i][j], p->us, text, sizeof text);
            cell(p, first + each * j, each, height, text);
        }
        p->y += height;
        rule_at(p, p->y, 0.3);
    }
    char unseen[64], text[TEXT_SIZE];
    hb_quantity_text(p->card->unseen, HOBBLE_UNIT_KILOMETRE, p->us, 0, unseen, sizeof unseen);
    snprintf(text, sizeof text,
             "From the warning on; take off what you have driven since. The %s that may have been "
             "driven flat before it are off already. The worse wheel counts.",
             unseen);
    p->y += 0.4 * p->size->body;
    line(p, text, 0.9 * p->size->body, false);
    call(p);
}

static void list(struct pen *p, const char *title, const char *const *text)
{
    const double size = p->size->body, indent = 1.2 * size;
    line(p, title, 1.1 * size, true);
    for (int i = 0; text[i]; i++) {
        put(p, 0.0, p->y, "•", size, false, indent);
        p->y += put(p, indent, p->y, text[i], size, false, p->width - indent) + 0.15 * size;
    }
    p->y += 0.4 * size;
}

static void afterwards(struct pen *p)
{
    line(p,
         p->card->scrap ? "Afterwards: scrap the tyre. No sign of damage is not proof."
                        : "Afterwards: off the rim and inspected, at the least.",
         1.1 * p->size->body, true);
}

static void front(struct pen *p)
{
    head(p);
    table(p);
    foot(p);
}

static void back(struct pen *p)
{
    list(p, "What to do", to_do);
    list(p, "Stop at once at", hb_stop_at_once);
    holds_while(p);
    afterwards(p);
    foot(p);
}

static void both(struct pen *p)
{
    head(p);
    table(p);
    list(p, "What to do", to_do);
    list(p, "Stop at once at", hb_stop_at_once);
    holds_while(p);
    afterwards(p);
    foot(p);
}

/* ---- sheets ---------------------------------------------------------------------------------- */

static void stroke(cairo_t *cairo, double x, double y, double dx, double dy)
{
    cairo_move_to(cairo, x, y);
    cairo_rel_line_to(cairo, dx, dy);
    cairo_stroke(cairo);
}

/* Cut marks stand outside the cards, or as short crosses where the cards fill the sheet. */
static void marks(cairo_t *cairo, const struct size *s, double left, double top)
{
    const double length = 4.0 * MM;
    cairo_set_line_width(cairo, 0.4);
    for (int i = 0; i <= s->across; i++)
        for (int j = 0; j <= s->down; j++) {
            const double x = left + i * s->width * MM, y = top + j * s->height * MM;
            const bool edge_x = i == 0 || i == s->across, edge_y = j == 0 || j == s->down;
            if (edge_y)
                stroke(cairo, x, y, 0.0, j == 0 ? -length : length);
            if (edge_x)
                stroke(cairo, x, y, i == 0 ? -length : length, 0.0);
            stroke(cairo, x - 0.4 * length, y, 0.8 * length, 0.0);
            stroke(cairo, x, y - 0.4 * length, 0.0, 0.8 * length);
        }
}

/* The size with letters so small that the card's text ends above its last line. */
static struct size fitted(const struct pen *pen, const struct size *s, void (*draw)(struct pen *p))
{
    struct size fit = *s;
    for (int i = 0; i < FIT_STEPS; i++) {
        struct pen p = *pen;
        cairo_surface_t *nowhere = cairo_recording_surface_create(CAIRO_CONTENT_COLOR_ALPHA, NULL);
        p.cairo = cairo_create(nowhere);
        p.size = &fit;
        p.y = 0.0;
        fit.body = s->body * (1.0 - 0.05 * i);
        fit.title = s->title * (1.0 - 0.05 * i);
        draw(&p);
        cairo_destroy(p.cairo);
        cairo_surface_destroy(nowhere);
        if (p.y <= p.foot)
            break;
    }
    return fit;
}

static void sheet(struct pen *p, const struct size *s, void (*draw)(struct pen *p))
{
    const double left = 0.5 * (210.0 - s->across * s->width) * MM;
    const double top = 0.5 * (297.0 - s->down * s->height) * MM;
    p->width = (s->width - 2.0 * s->margin) * MM;
    const struct size fit = fitted(p, s, draw);
    p->size = &fit;
    for (int i = 0; i < s->across * s->down; i++) {
        cairo_save(p->cairo);
        cairo_translate(p->cairo, left + ((i % s->across) * s->width + s->margin) * MM,
                        top + ((i / s->across) * s->height + s->margin) * MM);
        p->y = 0.0;
        draw(p);
        cairo_restore(p->cairo);
    }
    marks(p->cairo, s, left, top);
    cairo_show_page(p->cairo);
    p->size = s;
}

/* The day the card is made, the same for the same SOURCE_DATE_EPOCH, and a year later: tyres are
 * looked at once a year (common practice, no source). */
static void date_text(char day[DATE_SIZE], char until[DATE_SIZE], char stamp[DATE_SIZE])
{
    const char *fixed = getenv("SOURCE_DATE_EPOCH");
    char *end = NULL;
    const long long seconds = fixed ? strtoll(fixed, &end, 10) : 0;
    const bool good = fixed && *fixed && !*end && seconds >= 0 && seconds < 253370764800LL;
    const time_t now = good ? (time_t)seconds : time(NULL);
    struct tm tm;
    day[0] = until[0] = stamp[0] = '\0';
    if (gmtime_r(&now, &tm)) {
        strftime(day, DATE_SIZE, "%Y-%m-%d", &tm);
        strftime(stamp, DATE_SIZE, "%Y-%m-%dT%H:%M:%SZ", &tm);
        tm.tm_year++;
        if (tm.tm_mon == 1 && tm.tm_mday == 29) /* the next year has none */
            tm.tm_mday = 28;
        strftime(until, DATE_SIZE, "%Y-%m-%d", &tm);
    }
}

static cairo_status_t write_stream(void *closure, const unsigned char *bytes, unsigned length)
{
    return fwrite(bytes, 1, length, closure) == length ? CAIRO_STATUS_SUCCESS
                                                       : CAIRO_STATUS_WRITE_ERROR;
}

static enum hobble_status draw_all(FILE *f, const hobble_case *c, const struct hb_card *card,
                                   bool us)
{
    char day[DATE_SIZE], until[DATE_SIZE], stamp[DATE_SIZE];
    date_text(day, until, stamp);
    cairo_surface_t *surface =
        cairo_pdf_surface_create_for_stream(write_stream, f, 210.0 * MM, 297.0 * MM);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, "Glove-box card");
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, stamp);
    struct pen p = {.cairo = cairo_create(surface),
                    .c = c,
                    .card = card,
                    .date = day,
                    .until = until,
                    .us = us};
    p.layout = pango_cairo_create_layout(p.cairo);
    cairo_font_options_t *font = cairo_font_options_create();
    cairo_font_options_set_hint_style(font, CAIRO_HINT_STYLE_NONE); /* paper, not a screen's dots */
    cairo_font_options_set_hint_metrics(font, CAIRO_HINT_METRICS_OFF);
    pango_cairo_context_set_font_options(pango_layout_get_context(p.layout), font);
    pango_layout_context_changed(p.layout);
    cairo_font_options_destroy(font);
    sheet(&p, &pocket, front);
    sheet(&p, &pocket, back);
    sheet(&p, &a6, both);
    g_object_unref(p.layout);
    cairo_status_t status = cairo_status(p.cairo);
    cairo_destroy(p.cairo);
    cairo_surface_finish(surface);
    status = status == CAIRO_STATUS_SUCCESS ? cairo_surface_status(surface) : status;
    cairo_surface_destroy(surface);
    return status == CAIRO_STATUS_SUCCESS     ? HOBBLE_OK
           : status == CAIRO_STATUS_NO_MEMORY ? HOBBLE_E_MEMORY
                                              : HOBBLE_E_WRITE;
}

enum hobble_status hb_card_write(const char *path, const hobble_case *c, const struct hb_card *card,
                                 bool us)
{
    struct hb_out out;
    enum hobble_status status = hb_out_open(&out);
    if (status != HOBBLE_OK)
        return status;
    status = draw_all(out.stream, c, card, us);
    if (status == HOBBLE_OK)
        return hb_out_close(&out, path);
    hb_out_drop(&out);
    return status;
}

#endif
