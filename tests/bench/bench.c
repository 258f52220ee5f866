/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench.c - journeys a second of the integrator against the reference solver and CVODE, all on the
 * same journeys in this one run: thousand approved-size types, flat from the start, until their
 * end. Prints a Markdown table; times are processor time of one thread unless said. */
#include "core/integrate.h"
#include "independent.h"
#include "solve/reference.h"
#include "solve/threads.h"
#include "study/study.h"

#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

enum { MEMBERS = 1000, SLOW = 40 /* journeys for the slow solvers */, ROUNDS = 7 };

struct bench {
    struct hb_study study;
    struct hb_plan plan;
    struct hb_journey journey;
    struct hb_outcome fast[MEMBERS];
    double exact[SLOW]; /* m, by the reference at 1e-10 */
};

static double now(clockid_t clock)
{
    struct timespec t;
    clock_gettime(clock, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static void die(const char *what)
{
    fprintf(stderr, "bench: %s\n", what);
    exit(1);
}

/* Best of several rounds, in journeys a second. */
static double integrate_rate(struct bench *b, hb_integrate_fn *integrate)
{
    const struct hb_step_control steps = hb_step_control_default();
    double best = 0.0;
    for (int round = 0; round < ROUNDS; round++) {
        const double from = now(CLOCK_PROCESS_CPUTIME_ID);
        integrate(&b->journey, &steps, b->study.ensemble.arrays.tyre, MEMBERS, b->fast, NULL);
        best = fmax(best, MEMBERS / (now(CLOCK_PROCESS_CPUTIME_ID) - from));
    }
    return best;
}

static double shared_rate(struct bench *b, int threads)
{
    const struct hb_step_control steps = hb_step_control_default();
    double best = 0.0;
    for (int round = 0; round < ROUNDS; round++) {
        const double from = now(CLOCK_MONOTONIC);
        for (int again = 0; again < 5; again++)
            hb_integrate_shared(&b->journey, &steps, b->study.ensemble.arrays.tyre, MEMBERS,
                                b->fast, NULL, threads);
        best = fmax(best, 5.0 * MEMBERS / (now(CLOCK_MONOTONIC) - from));
    }
    return best;
}

static double reference_rate(struct bench *b, double tolerance, double *miss)
{
    const struct hb_reference_options options = {HB_CELLS, tolerance};
    const double from = now(CLOCK_PROCESS_CPUTIME_ID);
    *miss = 0.0;
    for (int i = 0; i < SLOW; i++) {
        struct hb_outcome out;
        if (hb_reference_run(&b->journey, &b->study.ensemble.arrays.tyre[i], &options, &out,
                             NULL) != HOBBLE_OK)
            die("the reference did not converge");
        if (tolerance <= 1e-10)
            b->exact[i] = out.distance;
        *miss = fmax(*miss, fabs(out.distance / b->exact[i] - 1.0));
    }
    return SLOW / (now(CLOCK_PROCESS_CPUTIME_ID) - from);
}

static double integrate_miss(const struct bench *b)
{
    double miss = 0.0;
    for (int i = 0; i < SLOW; i++)
        miss = fmax(miss, fabs(b->fast[i].distance / b->exact[i] - 1.0));
    return miss;
}

#ifdef HB_WITH_SUNDIALS
static double cvode_rate(struct bench *b, double tolerance, double *miss)
{
    const double from = now(CLOCK_PROCESS_CPUTIME_ID);
    *miss = 0.0;
    for (int i = 0; i < SLOW; i++) {
        struct independent_solver o;
        independent_open(&o, &b->study.ensemble.arrays.tyre[i], &b->journey, tolerance);
        independent_travel(&o, &b->journey);
        *miss = fmax(*miss, fabs(o.distance / b->exact[i] - 1.0));
        independent_close(&o);
    }
    return SLOW / (now(CLOCK_PROCESS_CPUTIME_ID) - from);
}
#endif

static void row(const char *what, double rate, double miss, double fast)
{
    printf("| %s | %.0f | %.2f %% | %.2f |\n", what, rate, 100.0 * miss, fast / rate);
}

/* The loosest tolerance at which a solver's largest miss is no larger than the integrator's. */
static double equal_error(struct bench *b, double (*rate)(struct bench *, double, double *),
                          double wanted, double *tolerance, double *miss)
{
    double last = 0.0;
    for (double t = 1e-2; t > 1e-9; t /= 3.0) {
        last = rate(b, t, miss);
        *tolerance = t;
        if (*miss <= wanted)
            break;
    }
    return last;
}

static void compare(struct bench *b)
{
    double miss, tolerance;
    char name[80];
    const double fast = integrate_rate(b, hb_integrate_many);
    const double wanted = integrate_miss(b);
    for (const struct hb_integrate_path *p = hb_integrate_path;
         p < hb_integrate_path + hb_integrate_paths; p++) {
        snprintf(name, sizeof name, "integrator, %s", p->name);
        if (p->here())
            row(name, integrate_rate(b, p->integrate), integrate_miss(b), fast);
    }
    double rate = reference_rate(b, 1e-10, &miss);
    row("GSL reference, 1e-10", rate, miss, fast);
    rate = equal_error(b, reference_rate, wanted, &tolerance, &miss);
    snprintf(name, sizeof name, "GSL reference, equal error (%.0e)", tolerance);
    row(name, rate, miss, fast);
#ifdef HB_WITH_SUNDIALS
    rate = cvode_rate(b, 1e-10, &miss);
    row("CVODE, 1e-10", rate, miss, fast);
    rate = equal_error(b, cvode_rate, wanted, &tolerance, &miss);
    snprintf(name, sizeof name, "CVODE, equal error (%.0e)", tolerance);
    row(name, rate, miss, fast);
#endif
}

/* Wall time (best of five) and peak memory of a whole command, its output thrown away. */
static void time_command(const char *program, const char *const argument[])
{
    char *argv[8] = {(char *)(uintptr_t)program};
    double best = HUGE_VAL;
    struct rusage usage = {0};
    for (int i = 0; argument[i]; i++)
        argv[i + 1] = (char *)(uintptr_t)argument[i];
    fflush(stdout); /* or every child would print it again */
    for (int round = 0; round < 5; round++) {
        int status = 1;
        const double from = now(CLOCK_MONOTONIC);
        const pid_t child = fork();
        if (child == 0) {
            if (freopen("/dev/null", "w", stdout))
                execv(program, argv);
            _exit(127);
        }
        if (child < 0 || wait4(child, &status, 0, &usage) != child || status != 0)
            die("the command did not run");
        best = fmin(best, now(CLOCK_MONOTONIC) - from);
    }
    printf("| `hobble");
    for (int i = 0; argument[i]; i++)
        printf(" %s", argument[i]);
    printf("` | %.2f s | %.0f MB |\n", best, (double)usage.ru_maxrss / 1024.0);
}

static void time_commands(const char *program)
{
    static const char *const commands[][4] = {
        {"range", NULL},
        {"range", "--members", "10000", NULL},
        {"range", "--tyre", "known-16", NULL},
        {"rule", NULL},
        {"map", NULL},
        {"why", NULL},
    };
    printf("\n| command | wall, best of 5 | peak memory |\n|---|---|---|\n");
    for (size_t i = 0; i < sizeof commands / sizeof *commands; i++)
        time_command(program, commands[i]);
}

/* ---- reading a recorded drive ------------------------------------------------------------------
 */

enum { SAMPLES = 10000000, BLOCK = 100000 };

static enum hobble_status count_one(void *to, const struct hobble_sample *sample)
{
    (void)sample;
    ++*(size_t *)to;
    return HOBBLE_OK;
}

/* Lines of one block of samples from a time on, as a box writes them. */
static size_t write_block(char *text, size_t room, int from)
{
    size_t size = 0;
    for (int i = from; i < from + BLOCK; i++)
        size += (size_t)snprintf(text + size, room - size, "%d.0,%.2f,%.1f,%.2f,%.6f,%.6f\n",
                                 1700000000 + i, 80.0 + 0.1 * (i % 7), 230.0 - 1e-5 * i,
                                 60.0 + 0.02 * (i % 100), 47.0 + 1e-7 * i, -30.0 + 1e-7 * i);
    return size;
}

/* Ten million samples, written a block at a time; only reading is timed. */
static void time_reading(void)
{
    static const char head[] = "time_s,speed_kmh,p_kpa,inner_c,lat,lon\n";
    const size_t room = (size_t)BLOCK * 80;
    char *text = malloc(room);
    size_t taken = 0, lines = 0, bytes = 0;
    double reading = 0.0, counting = 0.0;
    const struct hobble_log_options options = {.format = HOBBLE_LOG_CSV};
    hobble_log *log = hobble_log_new(&options, count_one, &taken);
    if (!text || !log || hobble_log_begin(log, "bench", NULL) != HOBBLE_OK ||
        hobble_log_feed(log, head, sizeof head - 1, NULL) != HOBBLE_OK)
        die("no log");
    for (int from = 0; from < SAMPLES; from += BLOCK) {
        const size_t size = write_block(text, room, from);
        double start = now(CLOCK_PROCESS_CPUTIME_ID);
        if (hobble_log_feed(log, text, size, NULL) != HOBBLE_OK)
            die("the log was refused");
        reading += now(CLOCK_PROCESS_CPUTIME_ID) - start;
        start = now(CLOCK_PROCESS_CPUTIME_ID);
        for (const char *at = text; (at = memchr(at, '\n', size - (size_t)(at - text))); at++)
            lines++;
        counting += now(CLOCK_PROCESS_CPUTIME_ID) - start;
        bytes += size;
    }
    if (hobble_log_finish(log, NULL) != HOBBLE_OK || taken != SAMPLES || lines != SAMPLES)
        die("the log was not read whole");
    hobble_log_free(log);
    free(text);
    struct rusage usage;
    getrusage(RUSAGE_SELF, &usage);
    printf(
        "\nA recorded drive of %d samples as CSV (%.0f MB) is read in %.1f s: x %.0f of counting "
        "its lines. Peak memory of this run so far: %.0f MB.\n",
        SAMPLES, (double)bytes / 1e6, reading, reading / counting,
        (double)usage.ru_maxrss / 1024.0);
}

int main(int argc, char **argv)
{
    static struct bench b;
    double miss;
    hobble_case *c = hobble_case_new();
    gsl_set_error_handler_off();
    printf("# Performance\n\nWritten by `make bench`, all in one run. ");
    if (!c || hb_study_open(c, 0, &b.study, NULL) != HOBBLE_OK)
        die("no study");
    hb_plan_rule(&b.study.question, 80.0 / 3.6, 1e3, &b.plan);
    b.plan.leg[0].kind = HB_UNTIL_END;
    b.journey = b.plan.journey;
    reference_rate(&b, 1e-10, &miss);
    printf("Largest miss: in range, over the first %d journeys, against the GSL reference at "
           "1e-10.\n\n",
           SLOW);
    printf("| solver | journeys/s/core | largest miss | the best integrator is faster by "
           "|\n|---|---|---|---|\n");
    compare(&b);
    const double one = shared_rate(&b, 1), two = shared_rate(&b, 2);
    struct rusage usage;
    getrusage(RUSAGE_SELF, &usage);
    printf(
        "\nThreads 1 -> 2: x %.2f (%.0f -> %.0f journeys/s). Peak memory of this run: %.0f MB.\n",
        two / one, one, two, (double)usage.ru_maxrss / 1024.0);
    hb_study_close(&b.study);
    hobble_case_free(c);
    time_reading();
    if (argc > 1)
        time_commands(argv[1]);
    return 0;
}
