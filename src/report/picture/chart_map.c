/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/answers.h"
#include "report/describe/map_words.h"
#include "report/picture/chart_field.h"
#include "report/picture/chart_parts.h"
#include "report/picture/charts.h"
#include "report/picture/gnuplot.h"

#include <math.h>
#include <string.h>

enum { WIDTH = 900, HEIGHT = 760, LEVELS = 5, TILES = 24 /* at least, to a side */ };
static const double levels[LEVELS] = {20.0, 40.0, 80.0, 160.0, 320.0}; /* km, or mi */

static double metres(const struct hb_field_chart *f, double shown)
{
    return shown * (f->us ? 1609.344 : 1000.0);
}

/* Why cells are hatched, and the name of their strokes in the commands. */
enum hatching { RIM, OUTSIDE, ENDED, HATCHINGS };
static const char *const hatching_name[HATCHINGS] = {"rim", "outside", "ended"};

static bool hatched(const struct hobble_map *m, size_t cell, enum hatching why)
{
    return why == RIM       ? isnan(m->p5[cell])
           : why == OUTSIDE ? m->outside[cell] != 0
                            : m->p5[cell] < HB_MAP_LEAST_DRAWN;
}

/* Strokes from side to side of every second cell or part of one: rising where the rim carries,
 * falling where the answer is outside the checked range, level where nothing worth a colour is
 * left. */
static int say_hatching(struct hb_field_chart *f, enum hatching why)
{
    const struct hobble_map *m = f->map;
    const int nx = m->axis[0].count, ny = m->axis[1].count;
    const int partx = 1 + TILES / nx,
              party = 1 + TILES / ny; /* a coarse cell has several strokes */
    int strokes = 0;
    hb_gnuplot_block_begin(&f->g, hatching_name[why]);
    for (int y = 0; y < ny * party; y++)
        for (int x = 0; x < nx * partx; x++) {
            const size_t cell = (size_t)(y / party) * (size_t)nx + (size_t)(x / partx);
            const double left = fmax(((double)x / partx - 0.5) / (nx - 1), 0.0);
            const double right = fmin((double)(x + 1) / partx - 0.5, nx - 1.0) / (nx - 1);
            const double low = fmax(((double)y / party - 0.5) / (ny - 1), 0.0);
            const double high = fmin((double)(y + 1) / party - 0.5, ny - 1.0) / (ny - 1);
            if (!hatched(m, cell, why) || (x + y) % 2 != 0 || left >= right || low >= high)
                continue;
            const double middle = 0.5 * (low + high);
            const double starts = why == RIM ? low : why == OUTSIDE ? high : middle;
            const double ends = why == RIM ? high : why == OUTSIDE ? low : middle;
            const double from = hb_field_place(f, 1, starts);
            const double to = hb_field_place(f, 1, ends);
            const double row[] = {hb_field_place(f, 0, left), from,
                                  hb_field_place(f, 0, right) - hb_field_place(f, 0, left),
                                  to - from};
            hb_gnuplot_row(&f->g, row, 4);
            strokes++;
        }
    hb_gnuplot_block_end(&f->g);
    return strokes;
}

static void say_colours(struct hb_field_chart *f)
{
    double least = HUGE_VAL, most = 0.0;
    const int cells = f->map->axis[0].count * f->map->axis[1].count;
    for (int i = 0; i < cells; i++)
        if (!isnan(f->map->p5[i])) {
            least = fmin(least, f->map->p5[i]);
            most = fmax(most, f->map->p5[i]);
        }
    least = hb_shown(fmax(least, HB_MAP_LEAST_DRAWN), HOBBLE_UNIT_KILOMETRE, f->us);
    most = hb_shown(fmax(most, 2e3), HOBBLE_UNIT_KILOMETRE, f->us);
    least = fmin(least, 0.5 * most); /* no cell has a range */
    hb_gnuplot_say(&f->g,
                   "set logscale cb; set cbrange [%.6g:%.6g]\n"
                   "set cbtics (1,2,5,10,20,50,100,200,500,1000,2000) textcolor rgb ink_text\n"
                   "set colorbox user origin screen 0.845,screen 0.16 size screen 0.025,"
                   "screen 0.68 border\n",
                   least, fmax(most, 1.01 * least));
    hb_sheet_axis(&f->g, "cblabel", HB_SAY_MAP_SCALE, &f->scope);
}

/* Lines of equal range with their figures along the falling diagonal. Returns which there are. */
static unsigned say_levels(struct hb_field_chart *f)
{
    static const char *const names[LEVELS] = {"isoa", "isob", "isoc", "isod", "isoe"};
    static const double from[2] = {0.02, 0.02}, to[2] = {0.98, 0.98};
    unsigned there = 0;
    for (int i = 0; i < LEVELS; i++) {
        double at[2];
        char text[32];
        if (!hb_field_crossing(f->p5, metres(f, levels[i]), from, to, at))
            continue;
        hb_field_line(f, names[i], "field", metres(f, levels[i]));
        snprintf(text, sizeof text, "%.0f", levels[i]);
        hb_field_label(f, at, "font font_small textcolor rgb ink_text", text);
        there |= 1u << i;
    }
    return there;
}

/* The rule's border, with its name where it runs; false when it is not on the map. */
static bool say_border(struct hb_field_chart *f)
{
    static const double way[][2][2] = {
        {{0.0, 0.78}, {1.0, 0.78}}, {{0.25, 0.0}, {0.25, 1.0}}, {{0.0, 0.25}, {1.0, 0.25}},
        {{0.75, 0.0}, {0.75, 1.0}}, {{0.0, 0.0}, {1.0, 1.0}},   {{0.0, 1.0}, {1.0, 0.0}},
    };
    for (size_t i = 0; i < sizeof way / sizeof *way; i++) {
        double at[2];
        char text[HB_VALUE_TEXT];
        if (!hb_field_crossing(f->reach, f->map->rule_distance, way[i][0], way[i][1], at))
            continue;
        at[0] = fmin(fmax(at[0], 0.12), 0.88);
        hb_say(HB_SAY_MAP_BORDER_NAME, &f->scope, text, sizeof text);
        hb_field_line(f, "border", "reach", f->map->rule_distance);
        hb_field_label(f, at, "textcolor rgb ink_text", text);
        return true;
    }
    return false;
}

/* Where the question stands, when it is on the map. */
static bool say_asked(struct hb_field_chart *f)
{
    double at[2];
    for (int a = 0; a < 2; a++) {
        const struct hobble_axis *axis = &f->map->axis[a];
        at[a] = (f->map->asked[a] - axis->from) / (axis->to - axis->from);
        if (!(at[a] >= 0.0 && at[a] <= 1.0))
            return false;
    }
    const double x = hb_field_place(f, 0, at[0]), y = hb_field_place(f, 1, at[1]);
    hb_gnuplot_say(&f->g, "$asked << EOD\n%.9g %.9g\nEOD\n", x, y);
    return true;
}

static void say_key(struct hb_field_chart *f, bool border, bool asked, const bool *hatch)
{
    const struct {
        enum hb_message say;
        bool is;
    } part[] = {{HB_SAY_MAP_THIN, true},
                {HB_SAY_MAP_RING, asked},
                {HB_SAY_MAP_LEVEL, hatch[ENDED]},
                {HB_SAY_MAP_RISING, hatch[RIM]},
                {HB_SAY_MAP_FALLING, hatch[OUTSIDE]}};
    char text[HB_VALUE_TEXT];
    size_t used = 0;
    hb_sheet_say(&f->g, 0.03, 0.052, "font font_small textcolor rgb ink_text",
                 border             ? HB_SAY_MAP_BORDER
                 : f->map->holds[0] ? HB_SAY_MAP_EVERYWHERE
                                    : HB_SAY_MAP_NOWHERE,
                 &f->scope);
    for (size_t i = 0; i < sizeof part / sizeof *part; i++)
        if (part[i].is) {
            hb_say(part[i].say, &f->scope, text + used, sizeof text - used);
            used += strlen(text + used);
        }
    hb_sheet_words(&f->g, 0.03, 0.022, "font font_small textcolor rgb ink_text", text);
}

static void say_plot(struct hb_field_chart *f, unsigned lines, bool border, bool asked,
                     const bool *hatch)
{
    static const char *const names[LEVELS] = {"isoa", "isob", "isoc", "isod", "isoe"};
    hb_gnuplot_say(&f->g, "plot $field using 1:2:($3 > 0 ? $3 : NaN) with image");
    for (int i = 0; i < LEVELS; i++)
        if (lines & 1u << i)
            hb_gnuplot_say(&f->g,
                           ", $%s with lines lw 2.4 lc rgb 'white'"
                           ", $%s with lines lw 1 lc rgb ink_text",
                           names[i], names[i]);
    if (hatch[ENDED])
        hb_gnuplot_say(&f->g, ", $ended with vectors nohead lw 1 lc rgb ink_text");
    if (hatch[RIM])
        hb_gnuplot_say(&f->g, ", $rim with vectors nohead lw 1 lc rgb ink_text");
    if (hatch[OUTSIDE])
        hb_gnuplot_say(&f->g, ", $outside with vectors nohead lw 1.6 lc rgb 'white'"
                              ", $outside with vectors nohead lw 0.7 lc rgb ink_text");
    if (border)
        hb_gnuplot_say(&f->g, ", $border with lines lw 6 lc rgb 'white'"
                              ", $border with lines lw 3.4 lc rgb ink_text");
    if (asked)
        hb_gnuplot_say(&f->g, ", $asked with points pt 7 ps 2.2 lc rgb 'white'"
                              ", $asked with points pt 6 ps 1.6 lw 2 lc rgb ink_text"
                              ", $asked with points pt 7 ps 0.6 lc rgb ink_text");
    hb_gnuplot_say(&f->g, "\n");
}

enum hobble_status hb_chart_map(const char *path, const hobble_case *c,
                                const struct hobble_map *map, bool us)
{
    struct hb_field_chart f = {
        .map = map, .scope = hb_answer_scope(&hb_map_answer, c, map, us), .us = us};
    const enum hobble_status status = hb_field_open(&f, path, WIDTH, HEIGHT);
    if (status != HOBBLE_OK)
        return status;
    hb_field_axes(&f);
    hb_field_data(&f, "field", f.p5);
    hb_field_data(&f, "reach", f.reach);
    const unsigned lines = say_levels(&f);
    const bool border = say_border(&f), asked = say_asked(&f);
    bool hatch[HATCHINGS];
    for (int why = 0; why < HATCHINGS; why++)
        hatch[why] = say_hatching(&f, (enum hatching)why) > 0;
    hb_sheet_title(&f.g, &f.scope, &map->marking, map->example, HB_SAY_MAP_PICTURE,
                   HB_SAY_MAP_PICTURE_OF);
    say_key(&f, border, asked, hatch);
    say_colours(&f);
    hb_sheet_panel(&f.g, 0.10, 0.82, 0.16, 0.84);
    say_plot(&f, lines, border, asked, hatch);
    return hb_field_close(&f);
}
