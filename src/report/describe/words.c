/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/words.h"

#include "report/describe/message.h"
#include "report/describe/word_lists.h"

#include "input/quantity.h"

#include <langinfo.h>
#include <math.h>
#include <string.h>

const char *hb_watch(size_t place)
{
    static const enum hb_message all[] = {HB_SAY_WATCH_VIBRATION, HB_SAY_WATCH_SMELL,
                                          HB_SAY_WATCH_PULLING, HB_SAY_WATCH_NOISE};
    return place < HB_COUNT_ROWS(all) ? hb_message_text(all[place]) : NULL;
}

const char *hb_caution(size_t place)
{
    static const enum hb_message all[] = {HB_SAY_CAUTION_MAKERS, HB_SAY_CAUTION_DRIVING,
                                          HB_SAY_CAUTION_COMPUTED};
    return place < HB_COUNT_ROWS(all) ? hb_message_text(all[place]) : NULL;
}

void hb_words_spaced(const char *word, char *buf, size_t size)
{
    size_t i = 0;
    for (; i + 1 < size && word[i]; i++)
        buf[i] = word[i] == '_' ? ' ' : word[i];
    buf[i] = '\0';
}

/* The library's sentences are ASCII; where it can be shown, the degree has its sign. */
static int print_word(FILE *f, const char *word, size_t length)
{
    const char *degree = hb_degree();
    if (*degree && length >= 4 && strncmp(word, "degC", 4) == 0) {
        fprintf(f, "%sC%.*s", degree, (int)length - 4, word + 4);
        return (int)length - 2;
    }
    return fprintf(f, "%.*s", (int)length, word);
}

void hb_print_wrapped(FILE *f, const char *first, int indent, const char *text)
{
    int column = fprintf(f, "%s", first);
    while (*text) {
        const size_t word = strcspn(text, " ");
        if (column + 1 + (int)word > 78 && column > indent) {
            fputc('\n', f);
            column = 0;
        }
        if (column == 0)
            column = fprintf(f, "%*s", indent, "");
        else if (column > indent)
            column += fprintf(f, " ");
        column += print_word(f, text, word);
        text += word + strspn(text + word, " ");
    }
    fputc('\n', f);
}

const char *hb_degree(void)
{
    return strcmp(nl_langinfo(CODESET), "UTF-8") == 0 ? "\u00B0" : "";
}

void hb_shown_text(double shown, enum hobble_unit unit, bool us, int decimals, char *buf,
                   size_t size)
{
    double unused = 0.0;
    const char *symbol = us ? hb_quantity_us(unit, &unused) : hobble_unit_symbol(unit);
    char number[40];
    const double scale = pow(10.0, decimals);
    hb_number_print(round(shown * scale) / scale, 15, number, sizeof number);
    snprintf(buf, size, "%s%s%s%s", number, *symbol ? " " : "",
             unit == HOBBLE_UNIT_CELSIUS ? hb_degree() : "", symbol);
}

void hb_quantity_text(double si, enum hobble_unit unit, bool us, int decimals, char *buf,
                      size_t size)
{
    double shown = hobble_unit_from_si(unit, si);
    if (us)
        hb_quantity_us(unit, &shown);
    hb_shown_text(shown, unit, us, decimals, buf, size);
}

/* Whether a key is what the option before it says: "--load: load". */
static bool same_name(const char *option, const char *key)
{
    if (strncmp(option, "--", 2) != 0)
        return false;
    for (option += 2; *option && (*option == *key || (*option == '-' && *key == '_')); option++)
        key++;
    return *option == '\0' && *key == '\0';
}

static void print_fault(FILE *f, const struct hobble_fault *fault)
{
    fputs("hobble: ", f);
    if (fault->file[0])
        fprintf(f, "%s:", fault->file);
    if (fault->line > 0)
        fprintf(f, "%d:", fault->line);
    if (fault->file[0] || fault->line > 0)
        fputc(' ', f);
    if (fault->key[0] && !same_name(fault->file, fault->key))
        fprintf(f, "%s: ", fault->key);
    fputs(hobble_status_text(fault->status), f);
    if (fault->given[0])
        fprintf(f, "; given '%s'", fault->given);
    if (fault->column > 0)
        fprintf(f, ", character %d", fault->column);
    if (fault->allowed[0])
        fprintf(f, "; allowed: %s", fault->allowed);
    if (fault->meant[0])
        fprintf(f, "; did you mean %s?", fault->meant);
    fputc('\n', f);
}

void hb_print_faults(FILE *f, const struct hobble_faults *faults)
{
    const size_t kept = faults->count < HOBBLE_FAULTS_KEPT ? faults->count : HOBBLE_FAULTS_KEPT;
    for (size_t i = 0; i < kept; i++)
        print_fault(f, &faults->item[i]);
    if (faults->count > kept)
        fprintf(f, "hobble: and %zu more\n", faults->count - kept);
}

/* What a driver may well state of a tyre; everything else of it is the model's. */
static bool is_stated(const char *key)
{
    static const char *const stated[] = {"age", "maker_distance"};
    for (size_t i = 0; i < sizeof stated / sizeof *stated; i++)
        if (strcmp(stated[i], key) == 0)
            return true;
    return false;
}

/* Length of the file's name in an origin "FILE:LINE"; 0 for one that is no place in a file. */
static size_t file_of(const char *origin)
{
    const char *colon = strrchr(origin, ':');
    if (!colon || !colon[1] || colon[1 + strspn(colon + 1, "0123456789")] != '\0')
        return 0;
    return (size_t)(colon - origin);
}

/* A tyre's profile says what the tyre is and which one: both in one file. */
static bool of_the_profile(const hobble_case *c, int row)
{
    const char *marking = hobble_case_origin(c, hobble_param_find("marking"));
    const char *origin = hobble_case_origin(c, row);
    const size_t length = file_of(marking);
    return hobble_param_table(NULL)[row].group == HOBBLE_TYRE && length > 0 &&
           file_of(origin) == length && strncmp(origin, marking, length) == 0;
}

const char *hb_changed_by_hand(const hobble_case *c, size_t *place)
{
    size_t count;
    const struct hobble_param *row = hobble_param_table(&count);
    for (size_t i = (*place)++; i < count; i = (*place)++) {
        const bool model = row[i].kind == HOBBLE_NUMBER &&
                           (row[i].group == HOBBLE_TYRE || row[i].stage != HOBBLE_NOT_DRAWN);
        if (model && !is_stated(row[i].key) && hobble_case_given(c, (int)i) &&
            !of_the_profile(c, (int)i))
            return row[i].key;
    }
    return NULL;
}

void hb_print_changed(FILE *f, const hobble_case *c)
{
    size_t place = 0;
    const char *key = hb_changed_by_hand(c, &place);
    if (!key)
        return;
    fputs(hb_message_text(HB_SAY_CHANGED_BY_HAND), f);
    for (; key; key = hb_changed_by_hand(c, &place))
        fprintf(f, " %s", key);
    fputc('\n', f);
}

static const struct hb_heading *heading(const struct hb_scope *s)
{
    return s->of;
}

static void heading_marking(const struct hb_scope *s, struct hb_value *v)
{
    hb_get_marking(heading(s)->marking, v);
}

static void heading_name(const struct hb_scope *s, struct hb_value *v)
{
    hobble_fault_text(v->room, hobble_case_text(s->c, hobble_param_find("tyre_name")));
    hb_value_text(v, v->room);
}

static const struct hb_row heading_rows[] = {
    {"marking", HB_TEXT, .get = heading_marking},
    {"name", HB_TEXT, .get = heading_name},
    {"load_share", HB_REAL_AT(struct hb_heading, load_share, NONE), .shown = HB_SHARE_WHOLE_NEAR},
    {0}};

void hb_print_heading(FILE *f, const hobble_case *c, const struct hb_heading *h)
{
    const struct hb_scope scope = {.rows = heading_rows, .c = c, .of = h};
    const bool named = *hobble_case_text(c, hobble_param_find("tyre_name"));
    char text[HB_VALUE_TEXT];
    hb_print_changed(f, c);
    if (!h->example && h->example_load) {
        hb_say(HB_SAY_HEADING_EXAMPLE_LOAD, &scope, text, sizeof text);
        fprintf(f, "%s\n", text);
    }
    hb_say(h->example ? HB_SAY_HEADING_EXAMPLE
           : named    ? HB_SAY_HEADING_NAMED_TYRE
                      : HB_SAY_HEADING_TYRE,
           &scope, text, sizeof text);
    fprintf(f, "%s\n\n", text);
}

void hb_print_cautions(FILE *f)
{
    for (size_t i = 0; hb_caution(i); i++)
        hb_print_wrapped(f, "  ", 2, hb_caution(i));
}

static const struct hb_row few_rows[] = {{"counted", HB_COUNT, .at = 0}, {0}};

void hb_caution_few(FILE *f, int counted)
{
    const struct hb_scope scope = {.rows = few_rows, .of = &counted};
    char text[HB_VALUE_TEXT];
    if (!hobble_too_few(counted))
        return;
    hb_say(HB_SAY_FEW_TYRES, &scope, text, sizeof text);
    hb_print_wrapped(f, "  ", 2, text);
}

int hb_counted(const hobble_case *c, int passed)
{
    return passed > 0 ? passed : (int)hobble_case_number(c, hobble_param_find("members"));
}

void hb_cautions_of_study(FILE *f, int counted)
{
    fprintf(f, "\n%s\n", hb_message_text(HB_SAY_CAUTIONS));
    hb_caution_few(f, counted);
    hb_print_wrapped(f, "  ", 2, hb_message_text(HB_SAY_NO_ADVICE));
    hb_print_cautions(f);
}
