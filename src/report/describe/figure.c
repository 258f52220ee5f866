/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/figure.h"

#include "report/describe/words.h"

#include "input/quantity.h"

#include <math.h>

#define HAIR 1e-9 /* what is a whole step but for the last bits is that step */

static double to_step(double value, double step, bool up)
{
    const double steps = value / step;
    return (up ? ceil(steps - HAIR) : floor(steps + HAIR)) * step + 0.0; /* no "-0" */
}

enum side { DOWN, UP, NEAR };

static const struct style {
    enum side side;
    double step, fine_below;
} styles[] = {
#define STYLE(id, side, step, fine) [HB_##id] = {side, step, fine},
    HB_SHOWN_LIST(STYLE)
#undef STYLE
};

static void share(double value, enum hb_shown shown, char buf[static HB_FIGURE])
{
    const struct style *s = &styles[shown];
    const double per_cent =
        s->side == NEAR ? 100.0 * value : to_step(100.0 * value, s->step, s->side == UP);
    if (shown == HB_SHARE_STATED)
        snprintf(buf, HB_FIGURE, "%.4g %%", per_cent);
    else
        snprintf(buf, HB_FIGURE, "%.*f %%", s->step < 0.1 ? 2 : s->step < 1.0, per_cent);
}

/* With two decimals below 9.95 %, one above. */
static void chance(double value, enum hb_shown shown, char buf[static HB_FIGURE])
{
    const struct style *s = &styles[shown];
    const bool fine = 100.0 * value < s->fine_below;
    double per_cent = 100.0 * value;
    if (s->side != NEAR)
        per_cent = to_step(per_cent, fine ? 0.1 * s->step : s->step, s->side == UP);
    if (value <= 0.0)
        snprintf(buf, HB_FIGURE, "0 %%");
    else if (value < 1e-4)
        snprintf(buf, HB_FIGURE, "<0.01 %%");
    else
        snprintf(buf, HB_FIGURE, "%.*f %%", fine ? 2 : 1, per_cent);
}

/* Pure numbers of statistics. */
static const char *const pure[] = {
    [HB_ONE_DECIMAL] = "%.1f", [HB_TWO_PLACES] = "%.2f",   [HB_SIGNED] = "%+.2f",
    [HB_TWO_DIGITS] = "%.2g",  [HB_THREE_DIGITS] = "%.3g", [HB_FOUR_DIGITS] = "%.4g"};

void hb_figure(double si, enum hobble_unit unit, bool us, enum hb_shown how,
               char buf[static HB_FIGURE])
{
    const struct style *s = &styles[how];
    double shown = hobble_unit_from_si(unit, si);
    if (how >= HB_ONE_DECIMAL) {
        snprintf(buf, HB_FIGURE, pure[how], si);
        return;
    }
    if (how >= HB_SHARE_DOWN) {
        (how >= HB_CHANCE_UP ? chance : share)(si, how, buf);
        return;
    }
    if (us)
        hb_quantity_us(unit, &shown);
    if (how == HB_ONE_DIGIT) {
        snprintf(buf, HB_FIGURE, "%.0e", shown);
        return;
    }
    const double step = shown < s->fine_below - HAIR ? s->step / 10.0 : s->step;
    if (s->side != NEAR)
        shown = to_step(shown, step, s->side == UP);
    hb_shown_text(shown, unit, us, step < 0.1 ? 2 : step < 1.0, buf, HB_FIGURE);
}
