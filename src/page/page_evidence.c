/* SPDX-License-Identifier: GPL-3.0-or-later */
/* page_evidence.c - what is known of a tyre beside its rows: told item by item, with the checks
 * that a case has, and taken into the sample as the program takes it. */
#include "page/page_evidence.h"

#include "study/evidence_item.h"
#include "study/evidence_words.h"
#include "study/posterior.h"

#include <math.h>
#include <string.h>

/* ---- faults: the key is told; numbers are not, which would bring in all of printing -----------
 */

void hb_evidence_say_limits(const struct hobble_param *row, char *buf, size_t size)
{
    (void)row;
    memset(buf, 0, size);
}

void hb_evidence_say_number(const char *before, double value, const char *unit, char *buf,
                            size_t size)
{
    (void)before, (void)value, (void)unit;
    memset(buf, 0, size);
}

void hb_evidence_say_reading(size_t place, double value, const char *unit, char *buf, size_t size)
{
    (void)place, (void)value, (void)unit;
    memset(buf, 0, size);
}

/* ---- the list -------------------------------------------------------------------------------- */

static struct hobble_evidence list[HOBBLE_EVIDENCE_MAX], item;
static size_t items;

size_t hb_page_items(void)
{
    return items;
}

const struct hobble_evidence *hb_page_item(int place)
{
    return place >= 0 && (size_t)place < items ? &list[place] : NULL;
}

void hb_page_forget_items(void)
{
    items = 0;
}

/* An item is begun, said row by row, and added. */
HB_PAGE_EXPORT(int, page_item_begin, int kind)
{
    if (kind < 0 || kind >= HOBBLE_EVIDENCE_KINDS)
        return HOBBLE_E_RANGE;
    hobble_evidence_begin((enum hobble_evidence_kind)kind, &item);
    return HOBBLE_OK;
}

/* The row of the item's kind whose key stands in page_text: a number in SI units, or a word's
 * place. */
HB_PAGE_EXPORT(int, page_item_put, double value)
{
    size_t rows;
    const char *key = hb_page_look().text;
    const struct hobble_evidence_row *row = hobble_evidence_table(&rows);
    const int whole = value >= -1.0 && value <= 1e6 ? (int)value : -1;
    for (size_t i = 0; i < rows; i++) {
        if (row[i].place != HOBBLE_IN_ITEM || !(row[i].kinds >> item.kind & 1u) ||
            row[i].param.kind == HOBBLE_TEXT || strcmp(row[i].param.key, key) != 0)
            continue;
        char *at = (char *)&item + row[i].at;
        if (row[i].param.kind == HOBBLE_WORD || row[i].param.unit == HOBBLE_UNIT_WHOLE)
            memcpy(at, &whole, sizeof whole);
        else
            memcpy(at, &value, sizeof value);
        return HOBBLE_OK;
    }
    return HOBBLE_E_UNKNOWN;
}

/* Who says so, out of page_text; origin: where it stands. */
HB_PAGE_EXPORT(int, page_item_text, int origin)
{
    const char *text = hb_page_look().text;
    char *to = origin ? item.origin : item.source;
    const size_t size = origin ? sizeof item.origin : sizeof item.source;
    const size_t length = strlen(text);
    if (length >= size)
        return HOBBLE_E_TOO_LARGE;
    memcpy(to, text, length + 1);
    return HOBBLE_OK;
}

HB_PAGE_EXPORT(int, page_item_channel, int channel, double offset, double scatter)
{
    if (channel < 0 || channel >= HOBBLE_CHANNELS)
        return HOBBLE_E_RANGE;
    item.channel[channel].offset = offset;
    item.channel[channel].scatter = scatter;
    item.channel[channel].count = 0;
    return HOBBLE_OK;
}

/* The next reading of a channel: s from the loss of air, degrees Celsius. */
HB_PAGE_EXPORT(int, page_item_reading, int channel, double time, double celsius)
{
    if (channel < 0 || channel >= HOBBLE_CHANNELS)
        return HOBBLE_E_RANGE;
    struct hobble_readings *r = &item.channel[channel];
    if (r->count >= HOBBLE_READINGS_MAX)
        return HOBBLE_E_TOO_LARGE;
    r->time[r->count] = time;
    r->celsius[r->count++] = celsius;
    return HOBBLE_OK;
}

HB_PAGE_EXPORT(int, page_item_add, void)
{
    struct hobble_faults faults = {.count = 0};
    const enum hobble_status status = hb_evidence_check(&item, &faults);
    if (status == HOBBLE_OK && items == HOBBLE_EVIDENCE_MAX)
        return HOBBLE_E_TOO_LARGE;
    if (status == HOBBLE_OK)
        hb_evidence_clean(&item, &list[items++]);
    return (int)status;
}

/* ---- the sample ------------------------------------------------------------------------------ */

/* What came of taking it in, for the two sizes of sample that the page asks by turns: only another
 * tyre or other evidence makes it anew. */
enum { SIZES = 2 };
static struct kept {
    bool valid;
    size_t members, items;
    struct hobble_evidence list[HOBBLE_EVIDENCE_MAX];
    struct hb_settings settings;
    struct hobble_marking marking;
    double cube[HB_PAGE_MEMBERS_MAX * HB_DIMENSIONS_MAX];
    struct hb_taken_in taken;
} kept[SIZES];
static int oldest;

bool hb_page_same_items(const struct hobble_evidence *of, size_t count)
{
    return count == items && memcmp(of, list, items * sizeof *list) == 0;
}

size_t hb_page_copy_items(struct hobble_evidence *to)
{
    memcpy(to, list, items * sizeof *list);
    return items;
}

static struct kept *find(const struct hb_ensemble *e)
{
    for (int i = 0; i < SIZES; i++)
        if (kept[i].valid && kept[i].members == e->arrays.members &&
            hb_page_same_items(kept[i].list, kept[i].items) &&
            hb_page_same_tyre(&kept[i].settings, &kept[i].marking, e))
            return &kept[i];
    return NULL;
}

static enum hobble_status take_in(const double *cube, struct hb_ensemble *e, struct kept *k)
{
    const size_t members = e->arrays.members;
    k->valid = false;
    k->members = members;
    k->items = hb_page_copy_items(k->list);
    k->settings = *e->settings;
    memset(&k->marking, 0, sizeof k->marking);
    memcpy(&k->marking, &e->question->built.marking, sizeof k->marking);
    memcpy(k->cube, cube, members * (size_t)hb_param_dimensions() * sizeof *cube);
    enum hobble_status status = hb_ensemble_make(k->cube, e);
    if (status == HOBBLE_OK)
        status = hb_posterior_make(k->list, k->items, k->cube, e, &e->taken);
    k->taken = e->taken;
    k->valid = status == HOBBLE_OK;
    return status;
}

enum hobble_status hb_page_take_in(const double *cube, struct hb_ensemble *e)
{
    const struct kept *k = find(e);
    if (k) {
        const enum hobble_status status = hb_ensemble_make(k->cube, e);
        e->taken = k->taken;
        return status;
    }
    oldest = (oldest + 1) % SIZES;
    return take_in(cube, e, &kept[oldest]);
}

/* Whether the next answer of so many members need not take anything in that it does not have. */
bool hb_page_has_taken_in(const struct hb_ensemble *e)
{
    return items == 0 || find(e) != NULL;
}

/* What was taken in goes from one instance of this module to another as bytes: from the worker to
 * the page that waits for it. Where it stands for the question that was set (NULL: nowhere), where
 * another's may be put, and how large it is. */
HB_PAGE_EXPORT(int, page_kept_size, void)
{
    return (int)sizeof(struct kept);
}

HB_PAGE_EXPORT(void *, page_kept, int members)
{
    const struct hb_page_view v = hb_page_look();
    const struct hb_ensemble e = {.settings = v.settings,
                                  .question = v.question,
                                  .arrays = {.members = members > 0 ? (size_t)members : 0}};
    return items > 0 ? find(&e) : NULL;
}

HB_PAGE_EXPORT(void *, page_keep_here, void)
{
    oldest = (oldest + 1) % SIZES;
    return &kept[oldest];
}
