/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/json/answers.h"
#include "report/json/json.h"

#include "input/profile_dir.h"

#include <stdlib.h>
#include <string.h>

static json_t *begin(const char *action)
{
    json_t *o = hb_json_begin("profile");
    if (o)
        hb_json_text(o, "action", action);
    return o;
}

static json_t *entry_json(const struct hb_profile_entry *e)
{
    json_t *o = json_object();
    hb_json_text(o, "kind", e->kind);
    hb_json_text(o, "name", e->name);
    hb_json_text(o, "title", e->title);
    hb_json_text(o, "path", e->path);
    hb_json_bool(o, "without_fault", e->good);
    return o;
}

json_t *hb_profile_list_json(void)
{
    struct hb_profile_entry *entry;
    size_t count;
    json_t *o = begin("list"), *list = json_array();
    if (!o || !list || hb_profile_scan(&entry, &count) != HOBBLE_OK) {
        json_decref(o);
        json_decref(list);
        return NULL;
    }
    for (size_t i = 0; i < count; i++)
        if (!entry[i].hidden)
            json_array_append_new(list, entry_json(&entry[i]));
    free(entry);
    json_object_set_new(o, "profiles", list);
    return o;
}

json_t *hb_profile_show_json(const char *name, enum hobble_group kind, const hobble_case *c)
{
    json_t *o = begin("show");
    if (!o)
        return NULL;
    hb_json_text(o, "name", name);
    hb_json_text(o, "kind", hobble_group_word(kind));
    json_object_set_new(o, "values", hb_explain_json(c, (int)kind));
    return o;
}

static json_t *fault_json(const struct hobble_fault *fault)
{
    json_t *o = json_object();
    hb_json_text(o, "file", fault->file);
    hb_json_int(o, "line", fault->line);
    hb_json_text(o, "key", fault->key);
    hb_json_text(o, "given", fault->given);
    hb_json_text(o, "allowed", fault->allowed);
    if (*fault->meant)
        hb_json_text(o, "did_you_mean", fault->meant);
    return o;
}

json_t *hb_profile_check_json(const char *name, const struct hobble_faults *faults)
{
    json_t *o = begin("check"), *list = json_array();
    if (!o || !list) {
        json_decref(o);
        json_decref(list);
        return NULL;
    }
    hb_json_text(o, "name", name);
    hb_json_int(o, "faults_found", (int)faults->count);
    for (size_t i = 0; i < faults->count && i < HOBBLE_FAULTS_KEPT; i++)
        json_array_append_new(list, fault_json(&faults->item[i]));
    json_object_set_new(o, "faults", list);
    return o;
}

/* "a|b|c" as a list. */
static json_t *words_json(const struct hobble_param *p)
{
    char word[HOBBLE_FAULT_TEXT];
    json_t *list = json_array();
    for (int i = 0; list; i++) {
        hobble_param_word_at(p, i, word, sizeof word);
        if (!*word)
            break;
        json_array_append_new(list, json_string(word));
    }
    return list;
}

static json_t *key_json(const struct hobble_param *p)
{
    static const char *const kind[] = {
        [HOBBLE_NUMBER] = "number", [HOBBLE_WORD] = "word", [HOBBLE_TEXT] = "text"};
    char word[HOBBLE_FAULT_TEXT];
    json_t *o = json_object();
    hb_json_text(o, "key", p->key);
    hb_json_text(o, "group", hobble_group_word(p->group));
    hb_json_text(o, "kind", kind[p->kind]);
    hb_json_text(o, "meaning", p->meaning);
    if (p->kind == HOBBLE_WORD) {
        hobble_param_word_at(p, (int)p->value, word, sizeof word);
        hb_json_text(o, "built_in", word);
        json_object_set_new(o, "words", words_json(p));
    }
    if (p->kind != HOBBLE_NUMBER)
        return o;
    hb_json_real(o, "built_in", p->value);
    hb_json_text(o, "unit", hobble_unit_symbol(p->unit));
    hb_json_real(o, "least", p->min);
    hb_json_real(o, "most", p->max);
    hb_json_text(o, "known", hobble_provenance_word(p->provenance));
    hb_json_text(o, "source", p->source);
    if (p->stage != HOBBLE_NOT_DRAWN) {
        hb_json_text(o, "drawn_with", p->stage == HOBBLE_WITH_TYPE ? "type" : "unit");
        hb_json_text(o, "shape", p->shape == HOBBLE_LOGNORMAL ? "lognormal" : "normal");
        hb_json_real(o, "spread", p->spread);
    }
    return o;
}

json_t *hb_profile_keys_json(void)
{
    size_t count;
    const struct hobble_param *p = hobble_param_table(&count);
    json_t *o = begin("keys"), *list = json_array();
    if (!o || !list) {
        json_decref(o);
        json_decref(list);
        return NULL;
    }
    for (size_t i = 0; i < count; i++)
        json_array_append_new(list, key_json(&p[i]));
    json_object_set_new(o, "keys", list);
    return o;
}
