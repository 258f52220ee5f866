/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/paper/card_draw.h"

#include "report/describe/answers.h"
#include "report/describe/card.h"
#include "report/describe/message.h"
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
    const struct hb_scope *scope; /* of the card's rows */
    const hobble_case *c;
    const struct hb_card *card;
    double y, width, foot; /* points; foot: where the last line begins */
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

/* A sentence of the card on lines of its own. */
static void say(struct pen *p, enum hb_message id, double size, bool bold)
{
    char text[TEXT_SIZE];
    hb_say(id, p->scope, text, sizeof text);
    line(p, text, size, bold);
}

/* ---- texts ----------------------------------------------------------------------------------- */

static bool invented(const struct pen *p)
{
    return (p->card->fleet && strstr(p->card->fleet, "invented")) ||
           strstr(hobble_case_text(p->c, hobble_param_find("vehicle_name")), "invented") ||
           strstr(hobble_case_text(p->c, hobble_param_find("tyre_name")), "invented");
}

static void head(struct pen *p)
{
    char text[TEXT_SIZE];
    say(p, HB_SAY_CARD_TITLE, p->size->title, true);
    size_t place = 0;
    if (hb_changed_by_hand(p->c, &place))
        say(p, HB_SAY_CARD_CHANGED, p->size->body, true);
    else if (p->card->example)
        say(p, HB_SAY_CARD_EXAMPLE, p->size->body, true);
    else if (invented(p))
        say(p, HB_SAY_CARD_INVENTED, p->size->body, true);
    pango_layout_set_ellipsize(p->layout, PANGO_ELLIPSIZE_END);
    pango_layout_set_height(p->layout, -2); /* lines */
    say(p, p->card->rear ? HB_SAY_CARD_TWO_TYRES : HB_SAY_CARD_ONE_TYRE, p->size->body, false);
    pango_layout_set_ellipsize(p->layout, PANGO_ELLIPSIZE_NONE);
    if (p->card->fleet)
        say(p, HB_SAY_CARD_RULE_OF, 0.9 * p->size->body, false);
    for (int i = 0; i < p->card->rules; i++) {
        hb_lettering_keep(p->card->rule[i], text, sizeof text);
        line(p, text, p->size->body, true);
    }
}

static void foot(struct pen *p)
{
    char text[TEXT_SIZE];
    const double size = 0.85 * p->size->body;
    hb_say(HB_SAY_CARD_FOOT, p->scope, text, sizeof text);
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
    struct hb_scope list;
    const struct hb_row *columns = hb_row_find("columns", 7, p->scope, &list);
    const struct hb_scope item = hb_row_inside(columns, &list, (size_t)column);
    hb_say(p->card->season[column] ? HB_SAY_CARD_SEASON : HB_SAY_CARD_AIR, &item, buf, size);
}

static void table_head(struct pen *p, double first, double each)
{
    char text[160], title[160];
    hb_say(p->card->season[0] ? HB_SAY_CARD_HEAD : HB_SAY_CARD_HEAD_AIR, p->scope, title,
           sizeof title);
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
    return !isnan(hobble_case_number(c, hobble_param_find("age"))) &&
           hobble_case_number(c, hobble_param_find("ran_flat")) == 1.0 &&
           hobble_case_number(c, hobble_param_find("repaired")) == 1.0;
}

/* What the figures rest on: a card lies in its box for years. */
static void holds_while(struct pen *p)
{
    const bool stated = stated_good(p->c) && (!p->card->rear || stated_good(p->card->rear));
    say(p, stated || p->card->example ? HB_SAY_CARD_HOLDS_WHILE : HB_SAY_CARD_NOT_STATED,
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
            hb_card_cell(p->scope, i, j, text, sizeof text);
            cell(p, first + each * j, each, height, text);
        }
        p->y += height;
        rule_at(p, p->y, 0.3);
    }
    p->y += 0.4 * p->size->body;
    say(p, HB_SAY_CARD_FROM_WARNING, 0.9 * p->size->body, false);
    say(p, HB_SAY_CARD_CALL, p->size->body, true);
}

static void item(struct pen *p, const char *text)
{
    const double size = p->size->body, indent = 1.2 * size;
    put(p, 0.0, p->y, "•", size, false, indent);
    p->y += put(p, indent, p->y, text, size, false, p->width - indent) + 0.15 * size;
}

static void to_do(struct pen *p)
{
    static const enum hb_message what[] = {HB_SAY_CARD_SLOW, HB_SAY_CARD_OFF_ROAD,
                                           HB_SAY_CARD_WORKSHOP, HB_SAY_CARD_NOT_ON};
    say(p, HB_SAY_CARD_TO_DO, 1.1 * p->size->body, true);
    for (size_t i = 0; i < sizeof what / sizeof *what; i++)
        item(p, hb_message_text(what[i]));
    p->y += 0.4 * p->size->body;
}

static void stop_at_once(struct pen *p)
{
    say(p, HB_SAY_CARD_STOP_AT_ONCE, 1.1 * p->size->body, true);
    for (size_t i = 0; hb_watch(i); i++)
        item(p, hb_watch(i));
    p->y += 0.4 * p->size->body;
}

static void back(struct pen *p)
{
    to_do(p);
    stop_at_once(p);
    holds_while(p);
    say(p, p->card->scrap ? HB_SAY_CARD_SCRAP : HB_SAY_CARD_INSPECT, 1.1 * p->size->body, true);
    foot(p);
}

static void front(struct pen *p)
{
    head(p);
    table(p);
    foot(p);
}

static void both(struct pen *p)
{
    head(p);
    table(p);
    back(p);
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
    struct hb_card dated = *card;
    dated.day = day;
    dated.until = until;
    const struct hb_scope scope = hb_answer_scope(&hb_card_answer, c, &dated, us);
    struct pen p = {.cairo = cairo_create(surface), .scope = &scope, .c = c, .card = &dated};
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
