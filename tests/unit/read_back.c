/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "read_back.h"

#include <check.h>
#include <ctype.h>
#include <math.h>
#include <stdlib.h>

double told_length(double si, bool us)
{
    return si / (us ? 1609.344 : 1000.0); /* the international mile */
}

double told_pace(double si, bool us)
{
    return si / (us ? 0.44704 : 1.0 / 3.6);
}

double told_degrees(double kelvin, bool us)
{
    return us ? (kelvin - 273.15) * 1.8 + 32.0 : kelvin - 273.15;
}

double told_force(double newton, bool us)
{
    return us ? newton / 4.4482216152605 : newton;
}

static void check_number(const char *line, double told, const struct expected *e)
{
    const double hair = 1e-6 * fmax(1.0, fabs(e->value));
    const double step = e->step > 0.0 ? e->step : e->value < 10.0 ? 0.1 : 1.0;
    const double over = told - e->value;
    const bool good = e->side == EXACT  ? fabs(over) < 1e-9
                      : e->side == DOWN ? over <= hair && over > -step - hair
                      : e->side == UP   ? over >= -hair && over < step + hair
                                        : fabs(over) <= 0.5 * step + hair;
    ck_assert_msg(good, "%s: told %g for %.9g", line, told, e->value);
}

void read_numbers(const char *text, const struct expected *e, int count)
{
    int n = 0;
    for (const char *p = text; *p;) {
        char *end = NULL;
        const bool begins =
            isdigit((unsigned char)*p) || (*p == '-' && isdigit((unsigned char)p[1]));
        if (!begins) {
            p++;
            continue;
        }
        const double told = strtod(p, &end);
        ck_assert_msg(n < count, "%s: %g was not expected", text, told);
        check_number(text, told, &e[n++]);
        p = end;
    }
    ck_assert_msg(n == count, "%s: %d numbers, expected %d", text, n, count);
}
