/* SPDX-License-Identifier: GPL-3.0-or-later */
/* answer.c - asks libhobble the driver's question about a tyre and a vehicle from profiles.
 *
 *   cc answer.c $(pkg-config --cflags --libs libhobble) -lm -o answer
 *   ./answer TYRE.cfg VEHICLE.cfg
 *
 * Ends with 0 on GO, 1 on STOP, and the library's exit status on faults. */
#include <hobble.h>

#include <math.h>
#include <stdio.h>

static int complain(const struct hobble_faults *faults, enum hobble_status status)
{
    for (size_t i = 0; i < faults->count && i < HOBBLE_FAULTS_KEPT; i++) {
        const struct hobble_fault *f = &faults->item[i];
        fprintf(stderr, "%s:%d: %s: %s; given '%s'; allowed: %s\n", f->file, f->line, f->key,
                hobble_status_text(f->status), f->given, f->allowed);
    }
    return hobble_status_exit(status);
}

int main(int argc, char **argv)
{
    static struct hobble_faults faults; /* zero to begin with */
    static struct hobble_answer answer;
    if (argc != 3) {
        fprintf(stderr, "usage: answer TYRE.cfg VEHICLE.cfg\n");
        return hobble_status_exit(HOBBLE_E_USAGE);
    }
    hobble_case *c = hobble_case_new();
    if (!c)
        return complain(&faults, HOBBLE_E_MEMORY);
    enum hobble_status status = hobble_profile_read(argv[1], HOBBLE_TYRE, c, &faults);
    if (status == HOBBLE_OK)
        status = hobble_profile_read(argv[2], HOBBLE_VEHICLE, c, &faults);
    /* what is not stated counts against the tyre */
    static const char *const said[][2] = {{"people", "2"},
                                          {"ambient", "35 C"},
                                          {"age", "2 years"},
                                          {"ran_flat", "no"},
                                          {"repaired", "no"}};
    for (size_t i = 0; i < sizeof said / sizeof *said && status == HOBBLE_OK; i++)
        status = hobble_case_set(c, said[i][0], said[i][1], "answer.c", &faults);
    if (status == HOBBLE_OK)
        status = hobble_range(c, 0, &answer, &faults);
    hobble_case_free(c);
    if (status != HOBBLE_OK)
        return complain(&faults, status);
    if (answer.verdict == HOBBLE_STOP) {
        puts("STOP");
        return 1;
    }
    /* cut, never rounded up */
    printf("GO at most %.0f km/h, at most %.1f km\n", answer.advised_speed * 3.6,
           floor(answer.advised_distance / 100.0) / 10.0);
    return 0;
}
