/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fuzz_profile.c - any bytes as a profile: refused with a reason and nothing changed, or read as a
 * case that is written and read back the same. Then the same bytes as a --set option. */
#include "fuzz.h"
#include "input/profile.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void need(bool held)
{
    if (!held)
        abort();
}

static bool same(double a, double b)
{
    return (a != a && b != b) || (a >= b && a <= b);
}

static void check_same_readings(const struct hobble_readings *a, const struct hobble_readings *b)
{
    need(a->count == b->count && a->count <= HOBBLE_READINGS_MAX);
    need(same(a->offset, b->offset) && same(a->scatter, b->scatter));
    for (int i = 0; i < a->count; i++)
        need(same(a->time[i], b->time[i]) && same(a->celsius[i], b->celsius[i]));
}

static void check_same_item(const struct hobble_evidence *a, const struct hobble_evidence *b)
{
    need(a->kind == b->kind && strcmp(a->source, b->source) == 0 && a->specimens == b->specimens);
    need(same(a->load_share, b->load_share) && same(a->speed, b->speed));
    need(same(a->ambient, b->ambient) && same(a->distance, b->distance) && same(a->age, b->age));
    need(a->of == b->of && a->on == b->on && a->outcome == b->outcome);
    need(same(a->reading_error, b->reading_error) && same(a->correlation, b->correlation));
    for (int i = 0; i < HOBBLE_CHANNELS; i++)
        check_same_readings(&a->channel[i], &b->channel[i]);
}

static void check_same(const hobble_case *a, const hobble_case *b)
{
    size_t rows;
    need(hobble_case_evidence_count(a) == hobble_case_evidence_count(b));
    for (size_t i = 0; i < hobble_case_evidence_count(a); i++)
        check_same_item(hobble_case_evidence_at(a, i), hobble_case_evidence_at(b, i));
    hobble_param_table(&rows);
    for (int i = 0; i < (int)rows; i++) {
        need(same(hobble_case_number(a, i), hobble_case_number(b, i)));
        need(same(hobble_case_spread(a, i), hobble_case_spread(b, i)));
        need(hobble_case_given(a, i) == hobble_case_given(b, i));
        need(hobble_case_provenance(a, i) == hobble_case_provenance(b, i));
        need(strcmp(hobble_case_text(a, i), hobble_case_text(b, i)) == 0);
        need(strcmp(hobble_case_source(a, i), hobble_case_source(b, i)) == 0);
    }
}

static void check_round_trip(const hobble_case *c, enum hobble_group kind)
{
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    hobble_case *back = hobble_case_new();
    need(out != NULL && back != NULL);
    need(hb_profile_write(out, c, kind) == HOBBLE_OK);
    (void)fclose(out);
    need(hb_profile_read_text(text, size, "again", HB_ANY_KIND, back, NULL, NULL) == HOBBLE_OK);
    check_same(c, back);
    hobble_case_free(back);
    free(text);
}

static void check_faults(const struct hobble_faults *faults, enum hobble_status status)
{
    need(faults->count > 0 && faults->item[0].status == status);
    for (size_t i = 0; i < faults->count && i < HOBBLE_FAULTS_KEPT; i++)
        need(faults->item[i].allowed[0] != '\0' && faults->item[i].file[0] != '\0');
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static struct hobble_faults faults;
    hobble_case *c = hobble_case_new(), *before = hobble_case_new();
    char *text = malloc(size + 1);
    enum hobble_group kind = HOBBLE_STUDY;
    faults.count = 0;
    need(c != NULL && before != NULL && text != NULL);
    if (size > 0)
        memcpy(text, data, size);
    text[size] = '\0';
    enum hobble_status status =
        hb_profile_read_text((const char *)data, size, "fuzz", HB_ANY_KIND, c, &kind, &faults);
    if (status == HOBBLE_OK) {
        need(faults.count == 0);
        check_round_trip(c, kind);
    } else {
        check_faults(&faults, status);
        check_same(c, before);
    }
    faults.count = 0;
    status = hb_set_option(before, text, &faults);
    if (status != HOBBLE_OK)
        check_faults(&faults, status);
    hobble_case_free(c);
    hobble_case_free(before);
    free(text);
    return 0;
}
