/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/words.h"

#include "input/quantity.h"

#include <langinfo.h>
#include <math.h>
#include <string.h>

const char *const hb_stop_at_once[] = {
    "vibration or thumping that grows",
    "smell of hot rubber, or smoke",
    "the car pulls or swims more than before",
    "a new noise, or metal on the road",
    NULL,
};

const char *const hb_cautions[] = {
    "The makers of tyre and vehicle, the law of the place and the people who come to help decide; "
    "where they say less than this, they are right.",
    "No hard braking, no fast bends, no kerbs; keep off the motorway if you can. Do not stop on a "
    "carriageway to read this.",
    "Distances are computed, with the uncertainty shown; they promise nothing. See SAFETY.md.",
    NULL,
};

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
    if (!colon || strncmp(origin, "--", 2) == 0 || !colon[1] ||
        colon[1 + strspn(colon + 1, "0123456789")] != '\0')
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
    fprintf(f, "CHANGED BY HAND:");
    for (; key; key = hb_changed_by_hand(c, &place))
        fprintf(f, " %s", key);
    fputc('\n', f);
}

void hb_print_heading(FILE *f, const hobble_case *c, const struct hb_heading *h)
{
    char marking[64], name[HOBBLE_FAULT_TEXT];
    hb_print_changed(f, c);
    hobble_marking_print(h->marking, marking, sizeof marking);
    if (h->example) {
        fprintf(f, "EXAMPLE, not your tyre: built-in values, %s\n\n", marking);
        return;
    }
    if (h->example_load)
        fprintf(f, "EXAMPLE, not your load: %.0f %% of the index is built in\n",
                100.0 * h->load_share);
    hobble_fault_text(name, hobble_case_text(c, hobble_param_find("tyre_name")));
    fprintf(f, "Tyre: %s%s%s\n\n", marking, *name ? ", " : "", name);
}

void hb_print_cautions(FILE *f)
{
    for (int i = 0; hb_cautions[i]; i++)
        hb_print_wrapped(f, "  ", 2, hb_cautions[i]);
}

void hb_caution_few(FILE *f, int counted)
{
    char text[160];
    snprintf(text, sizeof text,
             "Only %d tyres stand behind this: too few for advice. Ask with more --members.",
             counted);
    if (hobble_too_few(counted))
        hb_print_wrapped(f, "  ", 2, text);
}

int hb_counted(const hobble_case *c, int passed)
{
    return passed > 0 ? passed : (int)hobble_case_number(c, hobble_param_find("members"));
}

void hb_cautions_of_study(FILE *f, int counted)
{
    fprintf(f, "\nCautions\n");
    hb_caution_few(f, counted);
    hb_print_wrapped(
        f, "  ", 2,
        "No advice: it counts on the approval mark, and on nothing else standing in the "
        "way, such as a trailer, a second flat tyre or the maker's word. hobble range "
        "says how far a tyre is advised.");
    hb_print_cautions(f);
}
