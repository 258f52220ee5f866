/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/answers.h"
#include "report/describe/words.h"
#include "report/text/answers.h"
#include "report/text/lines.h"

#include <math.h>

static const struct hb_replay_report *of(const struct hb_scope *s)
{
    return s->whole;
}

static bool is_measured(const struct hb_scope *s)
{
    for (int i = 0; i < HOBBLE_CHANNELS; i++)
        if (of(s)->replay.misfit[i].count > 0)
            return true;
    return false;
}

static bool is_odd(const struct hb_scope *s)
{
    for (int i = 0; i < HOBBLE_LOG_ODDITIES; i++)
        if (of(s)->tally.count[i] > 0)
            return true;
    return false;
}

HB_WHEN(is_not_measured, !is_measured(s))
HB_WHEN(has_no_air, !of(s)->replay.pressure_logged)
HB_WHEN(is_low, !isnan(of(s)->replay.low_at))
HB_WHEN(is_flat, !isnan(of(s)->replay.flat_at))
HB_WHEN(is_warned, !isnan(of(s)->replay.warned_at))
HB_WHEN(is_ended, of(s)->replay.tyre_ended)
HB_WHEN(has_unseen, !isnan(of(s)->replay.unseen))
HB_WHEN(has_names, of(s)->tally.recognised[0] != '\0')
HB_WHEN(has_points, of(s)->replay.points > 0)

static void few(FILE *f, const struct hb_scope *s)
{
    hb_caution_few(f, of(s)->replay.counted);
}

static const struct hb_line lines[] = {
    {HB_TITLE, .say = HB_SAY_REPLAY_DRIVE},
    {HB_LINE, .say = HB_SAY_REPLAY_SAMPLES},
    {HB_LINE, .say = HB_SAY_REPLAY_TIME},
    {HB_LINE, .say = HB_SAY_REPLAY_WAY},
    {HB_LINE, .say = HB_SAY_REPLAY_LOW, .when = is_low},
    {HB_LINE, .say = HB_SAY_REPLAY_FLAT, .when = is_flat},
    {HB_LINE, .say = HB_SAY_REPLAY_WARNED, .when = is_warned},
    {HB_LINE, .say = HB_SAY_REPLAY_UNSEEN, .when = has_unseen},
    {HB_LINE, .say = HB_SAY_REPLAY_ENDED, .when = is_ended},
    {HB_WRAP, .say = HB_SAY_REPLAY_RECOGNISED, .when = has_names},
    {HB_WRAP, .say = HB_SAY_REPLAY_NO_AIR, .when = has_no_air},
    {HB_TITLE, .say = HB_SAY_REPLAY_ALONG, .when = has_points},
    {HB_LINE, .say = HB_SAY_REPLAY_TITLES, .when = has_points},
    {HB_LINE, .say = HB_SAY_REPLAY_LINE, .each = "lines"},
    {HB_TITLE, .say = HB_SAY_REPLAY_MISFIT, .when = is_measured},
    {HB_LINE, .say = HB_SAY_REPLAY_MISFIT_TITLES, .when = is_measured},
    {HB_LINE, .say = HB_SAY_REPLAY_MISFIT_LINE, .each = "misfit"},
    {HB_WRAP, .say = HB_SAY_REPLAY_NO_HEAT, .when = is_not_measured},
    {HB_TITLE, .say = HB_SAY_REPLAY_ODD, .when = is_odd},
    {HB_BULLET, .say = HB_SAY_REPLAY_ODD_LINE, .each = "oddities"},
    {HB_TITLE, .say = HB_SAY_CAUTIONS},
    {HB_PRINTED, .print = few},
    {HB_PRINTED, .print = hb_lines_cautions},
    {0}};

void hb_replay_text(FILE *f, const hobble_case *c, const struct hb_replay_report *report, bool us)
{
    const struct hb_scope scope = hb_answer_scope(&hb_replay_answer, c, report, us);
    hb_lines_print(f, lines, &scope);
}
