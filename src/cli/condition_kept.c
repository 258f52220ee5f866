/* SPDX-License-Identifier: GPL-3.0-or-later */
/* condition_kept.c - the file of a case: its name, what is found under it, and how it is written.
 */
#include "cli/condition.h"

#include "input/profile.h"
#include "report/describe/words.h"
#include "report/out.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

/* Cases of one name: offered at most; looked for at most; and the longest part of the name that
 * the file's has, so that a temporary name has room beside it. */
enum { OFFERED_MOST = 8, SAME_NAME_MOST = 99, PART_SIZE = 81, WHEN_SIZE = 64 };

static int job_row(void)
{
    return hobble_param_find("job");
}

void hb_kept_part(const char *job, char *part, size_t size)
{
    size_t n = 0;
    bool gap = false;
    for (const unsigned char *p = (const unsigned char *)job; *p && n + 4 < size; p++) {
        const bool letter = (*p >= 'a' && *p <= 'z') || (*p >= 'A' && *p <= 'Z');
        const bool figure = *p >= '0' && *p <= '9';
        if (*p < 0x80 && !letter && !figure) {
            gap = n > 0;
            continue;
        }
        if (gap)
            part[n++] = '-';
        gap = false;
        if (*p >= 0x80)
            n += (size_t)snprintf(part + n, 3, "%02x", *p);
        else
            part[n++] = (char)(*p >= 'A' && *p <= 'Z' ? *p + ('a' - 'A') : *p);
    }
    part[n] = '\0';
}

/* The n-th file of a name. '.' is in no part, so no other name has the same file. */
static void path_of(const char *part, int n, char path[HB_KEPT_PATH])
{
    if (n == 1)
        snprintf(path, HB_KEPT_PATH, "case-%s.cfg", part);
    else
        snprintf(path, HB_KEPT_PATH, "case-%s.%d.cfg", part, n);
}

enum hobble_status hb_kept_write(const struct hb_asking *a)
{
    struct stat seen;
    struct hb_out out;
    if (lstat(a->path, &seen) == 0 && !S_ISREG(seen.st_mode)) /* a device, or a link to elsewhere */
        return HOBBLE_E_WRITE;
    enum hobble_status status = hb_out_open(&out);
    if (status != HOBBLE_OK)
        return status;
    status = hb_case_write(out.stream, a->c);
    if (status == HOBBLE_OK)
        return hb_out_close(&out, a->path);
    hb_out_drop(&out);
    return status;
}

/* "AB 123", last written 2026-03-31 14:02, inspected 2026-03-31 */
static void print_case(FILE *out, const char *path, const hobble_case *c)
{
    struct stat seen;
    struct tm local;
    char job[HOBBLE_FAULT_TEXT], day[HOBBLE_FAULT_TEXT], when[WHEN_SIZE] = "";
    hobble_fault_text(job, hobble_case_text(c, job_row()));
    hobble_fault_text(day, hobble_case_text(c, hobble_param_find("inspection_date")));
    if (stat(path, &seen) == 0 && localtime_r(&seen.st_mtime, &local))
        strftime(when, sizeof when, "%Y-%m-%d %H:%M", &local);
    if (*job)
        fprintf(out, "\"%s\"", job);
    else
        fprintf(out, "without a name");
    fprintf(out, " (%s), last written %s", path, *when ? when : "at an unknown time");
    if (*day)
        fprintf(out, ", inspected %s", day);
}

void hb_kept_tell(FILE *out, const char *path, const hobble_case *c)
{
    fprintf(out, "Going on with the case ");
    print_case(out, path, c);
    fprintf(out, ".\n");
}

/* ---- what is there ------------------------------------------------------------------------ */

/* The cases of a name that can be gone on with. */
struct found {
    int number[OFFERED_MOST], count;
    int free; /* the first number that nothing is under; 0: none */
};

/* NULL where it cannot be read: which is said. */
static hobble_case *read_case(FILE *out, const char *path)
{
    static struct hobble_faults faults;
    hobble_case *c = hobble_case_new();
    memset(&faults, 0, sizeof faults);
    if (c && hb_profile_read_kind(path, HOBBLE_BENCH, c, NULL, &faults) == HOBBLE_OK)
        return c;
    fprintf(out, "%s is left as it is: it cannot be read.\n", path);
    hb_print_faults(out, &faults);
    hobble_case_free(c);
    return NULL;
}

/* Offers the newest ones when there are many. */
static void look(struct hb_asking *a, const char *part, struct found *f)
{
    *f = (struct found){.free = 0};
    for (int n = 1; n <= SAME_NAME_MOST; n++) {
        struct stat seen;
        char path[HB_KEPT_PATH];
        path_of(part, n, path);
        if (lstat(path, &seen) != 0) {
            f->free = f->free ? f->free : n;
            continue;
        }
        if (!S_ISREG(seen.st_mode)) {
            fprintf(a->out, "%s is left as it is: it is no plain file.\n", path);
            continue;
        }
        hobble_case *c = read_case(a->out, path);
        hobble_case_free(c);
        if (!c)
            continue;
        if (f->count == OFFERED_MOST)
            memmove(f->number, f->number + 1, (size_t)(--f->count) * sizeof *f->number);
        f->number[f->count++] = n;
    }
}

/* Puts the values that a case has over those of another. */
static void put_over(hobble_case *to, const hobble_case *from)
{
    size_t rows;
    const struct hobble_param *p = hobble_param_table(&rows);
    for (int i = 0; i < (int)rows; i++) {
        char word[64];
        const char *origin = hobble_case_origin(from, i);
        if (!hobble_case_given(from, i))
            continue;
        if (p[i].kind == HOBBLE_TEXT) {
            hobble_case_set_text(to, i, hobble_case_text(from, i), origin, NULL);
            continue;
        }
        if (p[i].kind == HOBBLE_WORD) {
            hobble_param_word_at(&p[i], (int)hobble_case_number(from, i), word, sizeof word);
            hobble_case_set_word(to, i, word, origin, NULL);
        } else {
            hobble_case_set_number(to, i, hobble_case_number(from, i), origin, NULL);
        }
        if (p[i].stage != HOBBLE_NOT_DRAWN)
            hobble_case_set_spread(to, i, hobble_case_spread(from, i), origin, NULL);
        hobble_case_set_provenance(to, i, hobble_case_provenance(from, i),
                                   hobble_case_source(from, i));
    }
}

static enum hobble_status go_on(struct hb_asking *a, const char *part, int n,
                                struct hobble_faults *sink)
{
    path_of(part, n, a->chosen);
    hobble_case *both = hobble_case_clone(a->c);
    if (!both)
        return HOBBLE_E_MEMORY;
    const enum hobble_status status =
        hb_profile_read_kind(a->chosen, HOBBLE_BENCH, both, NULL, sink);
    if (status == HOBBLE_OK) {
        put_over(both, a->c);
        hobble_case_assign(a->c, both);
        a->path = a->chosen;
    }
    hobble_case_free(both);
    return status;
}

/* Takes the first free name before anybody else does, and keeps the case in it. */
static enum hobble_status begin(struct hb_asking *a, const char *part, int n, const char *job,
                                struct hobble_faults *sink)
{
    const enum hobble_status status = hb_set_text(a->c, "job", job, "asked", sink);
    if (status != HOBBLE_OK)
        return status;
    path_of(part, 1, a->chosen); /* to be named where no number is free */
    for (a->path = a->chosen; n > 0 && n <= SAME_NAME_MOST; n++) {
        path_of(part, n, a->chosen);
        const int fd = open(a->chosen, O_CREAT | O_EXCL | O_WRONLY | O_CLOEXEC, 0666);
        if (fd >= 0) {
            close(fd);
            return hb_kept_write(a);
        }
        if (errno != EEXIST)
            break;
    }
    return HOBBLE_E_WRITE;
}

/* ---- the offer ---------------------------------------------------------------------------- */

static void print_offer(struct hb_asking *a, const char *part, const struct found *f)
{
    fprintf(a->out, "There %s already:\n",
            f->count == 1 ? "is a case of this name" : "are cases of this name");
    for (int i = 0; i < f->count; i++) {
        char path[HB_KEPT_PATH];
        path_of(part, f->number[i], path);
        hobble_case *c = read_case(a->out, path);
        fprintf(a->out, "  %d go on with the case ", i + 1);
        if (c)
            print_case(a->out, path, c);
        fprintf(a->out, "\n");
        hobble_case_free(c);
    }
    fprintf(a->out, "  %d begin a new one; what is there stays as it is\n", f->count + 1);
}

/* The number of the file to go on with; 0: a new one, or left. */
static int offer(struct hb_asking *a, const char *part, const struct found *f)
{
    char words[OFFERED_MOST * (HB_KEPT_PATH + 16) + 32] = "";
    size_t used = 0;
    for (int i = 0; i < f->count; i++) {
        char path[HB_KEPT_PATH];
        path_of(part, f->number[i], path);
        used += (size_t)snprintf(words + used, sizeof words - used, "go on with %s|", path);
    }
    snprintf(words + used, sizeof words - used, "begin a new one");
    print_offer(a, part, f);
    for (;;) {
        fprintf(a->out, "  > ");
        fflush(a->out);
        const char *text = hb_asking_line(a);
        if (!text)
            return 0;
        int place = hb_choice_read(words, text);
        if (place == HB_NO_CHOICE && hb_choice_read("new", text) == 0)
            place = f->count;
        if (place >= 0)
            return place < f->count ? f->number[place] : 0;
        hb_choice_refuse(a->out, words, text, place);
    }
}

/* Asks for a name that a file can have. A case that nobody names is called by the time. */
static bool ask_name(struct hb_asking *a, char job[HOBBLE_FAULT_TEXT], char *part)
{
    static struct hobble_faults faults;
    const struct hobble_param *p = &hobble_param_table(NULL)[job_row()];
    for (;;) {
        fprintf(a->out, "%c%s", p->meaning[0] - 'a' + 'A', p->meaning + 1);
        fprintf(a->out, "\n  [empty: called by day and time] > ");
        fflush(a->out);
        const char *text = hb_asking_line(a);
        if (!text)
            return false;
        const time_t now = time(NULL);
        struct tm local;
        if ((!*text || hb_choice_unknown(text)) && localtime_r(&now, &local)) {
            strftime(job, HOBBLE_FAULT_TEXT, "%Y-%m-%d %H:%M:%S", &local);
            hb_kept_part(job, part, PART_SIZE);
            return true;
        }
        hobble_case *trial = hobble_case_new();
        memset(&faults, 0, sizeof faults);
        const bool good = trial && hb_set_text(trial, "job", text, "asked", &faults) == HOBBLE_OK;
        hobble_case_free(trial);
        hb_kept_part(text, part, PART_SIZE);
        if (good && *part) {
            snprintf(job, HOBBLE_FAULT_TEXT, "%s", text);
            return true;
        }
        if (good)
            fprintf(a->out, "  A name needs a letter or a figure.\n");
        hb_print_faults(a->out, &faults);
    }
}

enum hobble_status hb_kept_choose(struct hb_asking *a, struct hobble_faults *sink)
{
    char job[HOBBLE_FAULT_TEXT], part[PART_SIZE];
    struct found found;
    snprintf(job, sizeof job, "%s", hobble_case_text(a->c, job_row()));
    hb_kept_part(job, part, sizeof part);
    if (!*part && !ask_name(a, job, part))
        return HOBBLE_OK;
    look(a, part, &found);
    const int number = found.count > 0 ? offer(a, part, &found) : 0;
    if (a->left)
        return HOBBLE_OK;
    return number > 0 ? go_on(a, part, number, sink) : begin(a, part, found.free, job, sink);
}
