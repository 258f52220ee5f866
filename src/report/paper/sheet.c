/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/paper/sheet.h"

#include "report/describe/answers.h"
#include "report/describe/message.h"
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

/* The pen: where the next line goes. */
struct pen {
    cairo_t *cairo;
    PangoLayout *layout;
    struct hb_scope scope; /* of the answer's rows */
    double y;
};

static const struct hobble_condition_answer *of(const struct pen *p)
{
    return p->scope.of;
}

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

/* A sentence of the answer, or of an item in it. */
static void say_line(struct pen *p, enum hb_message say, double size, bool bold)
{
    char text[2 * LINE_SIZE];
    hb_say(say, &p->scope, text, sizeof text);
    line(p, text, size, bold);
}

static void heading(struct pen *p, enum hb_message say)
{
    p->y += 6.0;
    line(p, hb_message_text(say), HEAD, true);
    cairo_set_line_width(p->cairo, 0.5);
    cairo_move_to(p->cairo, MARGIN, p->y - 1.0);
    cairo_line_to(p->cairo, PAGE_WIDTH - MARGIN, p->y - 1.0);
    cairo_stroke(p->cairo);
    p->y += 2.0;
}

/* A list of the answer: how many it has, and the scope of each. */
struct list {
    const struct hb_row *row;
    struct hb_scope in;
    size_t count;
};

static struct list list_of(const struct pen *p, const char *name)
{
    struct list l = {0};
    l.row = hb_row_find(name, strlen(name), &p->scope, &l.in);
    l.count = l.row ? l.row->count(&l.in) : 0;
    return l;
}

static void say_item(const struct list *l, size_t place, enum hb_message say, char *buf,
                     size_t size)
{
    const struct hb_scope item = hb_row_inside(l->row, &l->in, place);
    hb_say(say, &item, buf, size);
}

/* What the case is called, beside the title; its height. */
static double put_job(struct pen *p)
{
    char text[LINE_SIZE];
    if (!*hobble_case_text(p->scope.c, hobble_param_find("job")))
        return 0.0;
    hb_say(HB_SAY_SHEET_JOB, &p->scope, text, sizeof text);
    return put(p, MARGIN + 0.5 * INNER, p->y, text, HEAD, true, 0.5 * INNER) + 2.0;
}

static void head(struct pen *p)
{
    p->y = MARGIN;
    put(p, MARGIN, p->y, hb_message_text(HB_SAY_SHEET_TITLE), TITLE, true, INNER);
    p->y += fmax(26.0, put_job(p));
    say_line(p, HB_SAY_SHEET_TYRE, BODY, false);
    say_line(p, of(p)->loosened_count > 0 ? HB_SAY_SHEET_LOOSER : HB_SAY_SHEET_LIMITS, BODY, false);
    say_line(p, HB_SAY_SHEET_NO_RELEASE, BODY, true);
}

/* White on black when the tyre is scrap, black in a frame when it is to be inspected. */
static void verdict(struct pen *p)
{
    const bool scrap = of(p)->verdict == HOBBLE_SCRAP;
    const double top = p->y + 4.0, pad = 8.0;
    char headline[LINE_SIZE], meaning[LINE_SIZE];
    hb_say(HB_SAY_CONDITION_HEADLINE, &p->scope, headline, sizeof headline);
    hb_say(HB_SAY_CONDITION_MEANING, &p->scope, meaning, sizeof meaning);
    const double height = 22.0 + lay(p, meaning, BODY, false, INNER - 2 * pad) + 14.0;
    cairo_rectangle(p->cairo, MARGIN, top, INNER, height);
    cairo_set_line_width(p->cairo, 2.0);
    if (scrap)
        cairo_fill(p->cairo);
    else
        cairo_stroke(p->cairo);
    cairo_set_source_rgb(p->cairo, scrap, scrap, scrap);
    put(p, MARGIN + pad, top + 5.0, headline, TITLE, true, INNER);
    put(p, MARGIN + pad, top + 29.0, meaning, BODY, false, INNER - 2 * pad);
    cairo_set_source_rgb(p->cairo, 0, 0, 0);
    p->y = top + height + 2.0;
}

/* How many rules found no room: only the drawing knows. */
static const struct hb_row left_rows[] = {{"left", HB_COUNT, .at = 0}, {0}};

static void rules(struct pen *p)
{
    char text[2 * LINE_SIZE], source[LINE_SIZE];
    const double end = p->y + RULES_MOST;
    const struct list l = list_of(p, "rules");
    size_t i = 0;
    heading(p, HB_SAY_CONDITION_RULES);
    for (; i < l.count; i++) {
        say_item(&l, i, HB_SAY_SHEET_RULE, text, sizeof text);
        say_item(&l, i, HB_SAY_SHEET_SOURCE, source, sizeof source);
        if (p->y + lay(p, text, BODY, false, INNER) + lay(p, source, SMALL, false, INNER) > end)
            break;
        line(p, text, BODY, false);
        line(p, source, SMALL, false);
    }
    const int left = (int)(l.count - i);
    hb_say(HB_SAY_SHEET_MORE, &(struct hb_scope){.rows = left_rows, .of = &left}, text,
           sizeof text);
    if (left > 0)
        line(p, text, BODY, true);
}

static void model(struct pen *p)
{
    if (!of(p)->drive.run)
        return;
    heading(p, HB_SAY_CONDITION_DRIVE);
    say_line(p, HB_SAY_SHEET_DRIVE, BODY, false);
}

static void facts(struct pen *p)
{
    const double width = INNER / FACT_COLUMNS, step = 9.6;
    const struct list l = list_of(p, "stated");
    const size_t lines = (l.count + FACT_COLUMNS - 1) / FACT_COLUMNS;
    heading(p, HB_SAY_SHEET_STATED);
    for (size_t i = 0; i < l.count; i++) {
        char name[LINE_SIZE], said[LINE_SIZE];
        const double x = MARGIN + (double)(i / lines) * width;
        const double y = p->y + (double)(i % lines) * step;
        say_item(&l, i, HB_SAY_SHEET_NAME, name, sizeof name);
        say_item(&l, i, HB_SAY_SHEET_SAID, said, sizeof said);
        const bool known = strcmp(said, hb_message_text(HB_SAY_CONDITION_NOT_KNOWN)) != 0;
        put(p, x, y, name, SMALL, false, 0.62 * width);
        put(p, x + 0.62 * width, y, known ? said : hb_message_text(HB_SAY_SHEET_NOT_KNOWN), SMALL,
            known, 0.36 * width);
    }
    p->y += (double)lines * step + 2.0;
}

static void checks(struct pen *p)
{
    const struct list l = list_of(p, "still_to_check");
    heading(p, HB_SAY_CONDITION_CHECKS);
    for (size_t i = 0; i < l.count; i++) {
        char text[LINE_SIZE];
        say_item(&l, i, HB_SAY_ITEM, text, sizeof text);
        cairo_set_line_width(p->cairo, 0.8);
        cairo_rectangle(p->cairo, MARGIN + 0.5, p->y + 2.0, 7.0, 7.0);
        cairo_stroke(p->cairo);
        p->y += put(p, MARGIN + 14.0, p->y, text, BODY, false, INNER - 14.0) + 2.0;
    }
}

/* What is not known, by name, where there is room left. */
static void find_out(struct pen *p)
{
    char text[3 * LINE_SIZE] = "";
    const struct list l = list_of(p, "find_out");
    for (size_t i = 0; i < l.count; i++) {
        char name[64];
        const size_t used = strlen(text);
        say_item(&l, i, HB_SAY_SHEET_NAME, name, sizeof name);
        snprintf(text + used, sizeof text - used, "%s%s", i > 0 ? ", " : "", name);
    }
    if (!*text || p->y + 30.0 + lay(p, text, SMALL, false, INNER) > SIGNING_TOP)
        return;
    heading(p, HB_SAY_CONDITION_FIND_OUT);
    line(p, text, SMALL, false);
}

static void signing(struct pen *p)
{
    static const enum hb_message label[] = {HB_SAY_SHEET_WHO, HB_SAY_SHEET_WHERE,
                                            HB_SAY_SHEET_SIGNATURE};
    const double gap = 14.0, width = (INNER - 2.0 * gap) / 3.0;
    put(p, MARGIN, SIGNING_TOP, hb_message_text(HB_SAY_SHEET_DONE), HEAD, true, INNER);
    cairo_set_line_width(p->cairo, 0.5);
    for (int i = 1; i <= 2; i++) {
        cairo_move_to(p->cairo, MARGIN, SIGNING_TOP + 14.0 + 20.0 * i);
        cairo_line_to(p->cairo, PAGE_WIDTH - MARGIN, SIGNING_TOP + 14.0 + 20.0 * i);
    }
    for (int i = 0; i < 3; i++) {
        const double x = MARGIN + i * (width + gap);
        cairo_move_to(p->cairo, x, SIGNING_TOP + 84.0);
        cairo_line_to(p->cairo, x + width, SIGNING_TOP + 84.0);
        put(p, x, SIGNING_TOP + 86.0, hb_message_text(label[i]), SMALL, false, width);
    }
    cairo_stroke(p->cairo);
    put(p, MARGIN, PAGE_HEIGHT - MARGIN - 2.0, hb_message_text(HB_SAY_SHEET_FOOT), BODY, true,
        INNER);
}

/* The day of the inspection, so that the same answer gives the same bytes. */
static void set_metadata(cairo_surface_t *surface, const hobble_case *c)
{
    char when[HOBBLE_FAULT_TEXT + 16];
    const char *day = hobble_case_text(c, hobble_param_find("inspection_date"));
    snprintf(when, sizeof when, "%sT00:00:00Z", *day ? day : "2000-01-01");
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE,
                                   hb_message_text(HB_SAY_SHEET_TITLE));
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
    struct pen p = {.scope = hb_answer_scope(&hb_condition_answer, c, answer, us)};
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
