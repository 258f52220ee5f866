/* SPDX-License-Identifier: GPL-3.0-or-later */
/* profile_rows.c - which profiles there are, what one sets, its faults, and what can be set. */
#include "report/describe/profile_rows.h"
#include "report/describe/answers.h"
#include "report/describe/evidence_rows.h"
#include "report/describe/word_lists.h"

#include "input/profile_dir.h"

#include <math.h>
#include <string.h>

/* Kinds of files; the first of them are profiles, which have values to show. */
static const char *const kinds[] = {"tyre", "vehicle", "rules", "bench", "fleet", "journey"};
enum { PROFILES = 4, KINDS = sizeof kinds / sizeof *kinds };

static const char *file_kind(int place)
{
    return place < KINDS ? kinds[place] : NULL;
}

static const char *profile_kind(int place)
{
    return place < PROFILES ? kinds[place] : NULL;
}

/* ---- list -------------------------------------------------------------------------------------
 */

static const struct hb_profile_entry *entry(const struct hb_scope *s)
{
    return s->of;
}

static const struct hb_profile_entry *shown_entry(const struct hb_profile_listed *all, size_t place)
{
    for (size_t i = 0; i < all->count; i++)
        if (!all->entry[i].hidden && place-- == 0)
            return &all->entry[i];
    return NULL;
}

static size_t entries(const struct hb_scope *s)
{
    size_t n = 0;
    while (shown_entry(s->of, n))
        n++;
    return n;
}

HB_ITEM(entry_item, shown_entry(s->of, place))
HB_GET(entry_kind, text, entry(s)->kind)
HB_GET(entry_name, text, entry(s)->name)
HB_GET(entry_title, text, entry(s)->title)
HB_GET(entry_path, text, entry(s)->path)

static const struct hb_row entry_rows[] = {
    {"kind", HB_WORD, .get = entry_kind, .word = file_kind, .meaning = "of the file"},
    {"name", HB_TEXT, .get = entry_name, .meaning = "by which it is found"},
    {"title", HB_TEXT, .get = entry_title, .meaning = "as the file says it; empty for none"},
    {"path", HB_TEXT, .get = entry_path, .meaning = "of the file"},
    {"without_fault", HB_TRUTH_AT(struct hb_profile_entry, good), .meaning = "it can be read"},
    {0}};

static const struct hb_row list_rows[] = {
    {"action", HB_TEXT, .get = hb_get_which, .meaning = "what was asked"},
    {"profiles", HB_LIST, .count = entries, .item = entry_item, .of = entry_rows,
     .meaning = "every profile that its name finds"},
    {0}};

/* ---- show -------------------------------------------------------------------------------------
 */

static const struct hb_profile_shown *shown(const struct hb_scope *s)
{
    return s->of;
}

HB_GET(shown_kind, text, hobble_group_word(shown(s)->kind))

static const struct hobble_param *param_of(enum hobble_group group, size_t place)
{
    size_t rows;
    const struct hobble_param *p = hobble_param_table(&rows);
    for (size_t i = 0; i < rows; i++)
        if (p[i].group == group && place-- == 0)
            return &p[i];
    return NULL;
}

static size_t values(const struct hb_scope *s)
{
    size_t n = 0;
    while (param_of(shown(s)->kind, n))
        n++;
    return n;
}

HB_ITEM(value_item, param_of(shown(s)->kind, place))
HB_WHEN(of_a_tyre, shown(s)->kind == HOBBLE_TYRE || shown(s)->kind == HOBBLE_BENCH)

static const struct hb_row show_rows[] = {
    {"action", HB_TEXT, .get = hb_get_which, .meaning = "what was asked"},
    {"name", HB_TEXT_AT(struct hb_profile_shown, name), .meaning = "as given"},
    {"kind", HB_WORD, .get = shown_kind, .word = profile_kind, .meaning = "of the profile"},
    {"values", HB_LIST, .count = values, .item = value_item, .of = hb_value_rows, .least = 1,
     .most = HUGE_VAL, .meaning = "every row of that kind"},
    {"evidence", HB_LIST, .count = hb_count_evidence, .item = hb_nth_evidence,
     .of = hb_evidence_rows, .when = of_a_tyre, .most = HOBBLE_EVIDENCE_MAX,
     .meaning = "what is known of the tyre beside them"},
    {0}};

/* ---- check ------------------------------------------------------------------------------------
 */

static const struct hobble_faults *faults(const struct hb_scope *s)
{
    return ((const struct hb_profile_checked *)s->of)->faults;
}

static const struct hobble_fault *fault(const struct hb_scope *s)
{
    return s->of;
}

static size_t kept(const struct hb_scope *s)
{
    const size_t all = faults(s)->count;
    return all < HOBBLE_FAULTS_KEPT ? all : HOBBLE_FAULTS_KEPT;
}

HB_ITEM(fault_item, &faults(s)->item[place])
HB_GET(found, count, (int)faults(s)->count)
HB_GET(fault_file, text, fault(s)->file)
HB_GET(fault_key, text, fault(s)->key)
HB_GET(fault_given, text, fault(s)->given)
HB_GET(fault_allowed, text, fault(s)->allowed)
HB_WHEN(has_meant, *fault(s)->meant)
HB_GET(fault_meant, text, fault(s)->meant)

static const struct hb_row fault_rows[] = {
    {"file", HB_TEXT, .get = fault_file, .meaning = "in which it stands"},
    {"line", HB_COUNT_AT(struct hobble_fault, line), .most = HUGE_VAL, .meaning = "of the file"},
    {"key", HB_TEXT, .get = fault_key, .meaning = "that was being set"},
    {"given", HB_TEXT, .get = fault_given, .meaning = "what was found"},
    {"allowed", HB_TEXT, .get = fault_allowed, .meaning = "what would have been taken"},
    {"did_you_mean", HB_TEXT, .get = fault_meant, .when = has_meant, .least = 1, .most = HUGE_VAL,
     .meaning = "the name that is nearest to what was given"},
    {0}};

static const struct hb_row check_rows[] = {
    {"action", HB_TEXT, .get = hb_get_which, .meaning = "what was asked"},
    {"name", HB_TEXT_AT(struct hb_profile_checked, name), .meaning = "as given"},
    {"faults_found", HB_COUNT, .get = found, .most = HUGE_VAL,
     .meaning = "faults in all; not all of many are listed"},
    {"faults", HB_LIST, .count = kept, .item = fault_item, .of = fault_rows,
     .meaning = "in the file's order"},
    {0}};

/* ---- keys -------------------------------------------------------------------------------------
 */

static const struct hobble_param *param(const struct hb_scope *s)
{
    return s->of;
}

HB_GET(key_group, text, hobble_group_word(param(s)->group))

static const char *key_kind_word(int place)
{
    static const char *const word[] = {
        [HOBBLE_NUMBER] = "number", [HOBBLE_WORD] = "word", [HOBBLE_TEXT] = "text"};
    return place < (int)(sizeof word / sizeof *word) ? word[place] : NULL;
}

HB_WHEN(is_word, param(s)->kind == HOBBLE_WORD)
HB_WHEN(has_built_in, param(s)->kind != HOBBLE_TEXT)
HB_WHEN(is_drawn_number, hb_param_is_number(s) && hb_param_is_drawn(s))

static void built_in(const struct hb_scope *s, struct hb_value *v)
{
    if (hb_param_is_number(s)) {
        hb_value_number(v, param(s)->value);
        return;
    }
    hobble_param_word_at(param(s), (int)param(s)->value, v->room, sizeof v->room);
    hb_value_text(v, v->room);
}

static void word_at(const struct hb_scope *s, struct hb_value *v)
{
    hobble_param_word_at(param(s), (int)s->place, v->room, sizeof v->room);
    hb_value_text(v, v->room);
}

static size_t words(const struct hb_scope *s)
{
    struct hb_scope at = *s;
    struct hb_value word;
    for (at.place = 0; word_at(&at, &word), *word.room; at.place++)
        continue;
    return at.place;
}

HB_GET(key_unit, text, hobble_unit_symbol(param(s)->unit))

static const char *stage_word(int place)
{
    static const char *const word[] = {"type", "unit"};
    return place < 2 ? word[place] : NULL;
}

HB_GET(drawn_with, text, stage_word(param(s)->stage == HOBBLE_WITH_TYPE ? 0 : 1))

#define P struct hobble_param
static const struct hb_row key_words[] = {{NULL, HB_TEXT, .get = word_at}};
static const struct hb_row key_rows[] = {
    {"key", HB_TEXT_AT(P, key), .meaning = "as after --set"},
    {"group", HB_WORD, .get = key_group, .word = hb_group_word, .meaning = "to which it belongs"},
    {"kind", HB_WORD_AT(P, kind, key_kind_word), .meaning = "of its value"},
    {"meaning", HB_TEXT_AT(P, meaning), .meaning = "what it is"},
    {"built_in", HB_ANY, .get = built_in, .when = has_built_in, .forms = HB_NULLABLE,
     .meaning = "value where none is given; null where there is none"},
    {"words", HB_LIST, .count = words, .of = key_words, .when = is_word, .least = 2,
     .most = HUGE_VAL, .meaning = "that it may be"},
    {"unit", HB_TEXT, .get = key_unit, .when = hb_param_is_number,
     .meaning = "of its values; empty for a pure number"},
    {"least", HB_REAL_AT(P, min, NONE), .when = hb_param_is_number, .meaning = "that it may be"},
    {"most", HB_REAL_AT(P, max, NONE), .when = hb_param_is_number, .meaning = "that it may be"},
    {"known", HB_WORD_AT(P, provenance, hb_provenance_word), .when = hb_param_is_number,
     .meaning = "how the built-in value is known"},
    {"source", HB_TEXT_AT(P, source), .when = hb_param_is_number,
     .meaning = "of the built-in value"},
    {"drawn_with", HB_WORD, .get = drawn_with, .word = stage_word, .when = is_drawn_number,
     .meaning = "every type of tyre, or every one of a type, has its own"},
    {"shape", HB_WORD, .get = hb_get_param_shape, .word = hb_shape_word, .when = is_drawn_number,
     .meaning = "of the spread"},
    {"spread", HB_REAL_AT(P, spread, NONE), .when = is_drawn_number, .most = HUGE_VAL,
     .meaning = "normal: in the unit; lognormal: of the natural logarithm"},
    {0}};
#undef P

static size_t keys(const struct hb_scope *s)
{
    size_t rows;
    (void)s;
    hobble_param_table(&rows);
    return rows;
}

HB_ITEM(key_item, &hobble_param_table(NULL)[place])

static const struct hb_row keys_rows[] = {
    {"action", HB_TEXT, .get = hb_get_which, .meaning = "what was asked"},
    {"keys", HB_LIST, .count = keys, .item = key_item, .of = key_rows, .least = 1, .most = HUGE_VAL,
     .meaning = "everything that can be set, with its limits"},
    {"evidence", HB_LIST, .count = hb_count_evidence_keys, .item = hb_nth_evidence_key,
     .of = hb_evidence_key_rows, .least = 1, .most = HUGE_VAL,
     .meaning = "what can be said in a tyre's list of evidence"},
    {0}};

#define NUMBERS_STAND "A number stands in the unit beside it."
const struct hb_answer hb_profile_list_answer = {
    .command = "profile", .which = "list", .about = "Profiles in the folders.", .row = list_rows};
const struct hb_answer hb_profile_show_answer = {
    .command = "profile", .which = "show", .about = NUMBERS_STAND, .row = show_rows};
const struct hb_answer hb_profile_check_answer = {.command = "profile",
                                                  .which = "check",
                                                  .about = "Faults of a file.",
                                                  .noted = true,
                                                  .row = check_rows};
const struct hb_answer hb_profile_keys_answer = {
    .command = "profile", .which = "keys", .about = NUMBERS_STAND, .row = keys_rows};
