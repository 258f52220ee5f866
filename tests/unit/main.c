/* SPDX-License-Identifier: GPL-3.0-or-later */
/* main.c - one runner for every suite; names as arguments run those suites alone. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

/* X(name): Suite *name_suite(void) in test_name.c */
#ifdef HB_WITH_SUNDIALS
#define SUNDIALS_SUITES(X) X(cvode)
#else
#define SUNDIALS_SUITES(X)
#endif

#define SUITES(X)                                                                                  \
    X(marking)                                                                                     \
    X(quantity)                                                                                    \
    X(near)                                                                                        \
    X(profile)                                                                                     \
    X(profile_dir)                                                                                 \
    X(journey)                                                                                     \
    X(status)                                                                                      \
    X(physics)                                                                                     \
    X(rebuilt)                                                                                     \
    X(reference)                                                                                   \
    X(advice)                                                                                      \
    X(stop)                                                                                        \
    X(case)                                                                                        \
    X(log)                                                                                         \
    X(log_sieve)                                                                                   \
    X(recording)                                                                                   \
    X(replay)                                                                                      \
    X(history)                                                                                     \
    X(question)                                                                                    \
    X(seen)                                                                                        \
    X(relation)                                                                                    \
    X(property)                                                                                    \
    X(study)                                                                                       \
    X(cube)                                                                                        \
    X(approval)                                                                                    \
    X(anchor)                                                                                      \
    X(levels)                                                                                      \
    X(spread)                                                                                      \
    X(study_json)                                                                                  \
    X(study_text)                                                                                  \
    X(condition)                                                                                   \
    X(condition_property)                                                                          \
    X(dialogue)                                                                                    \
    X(evidence)                                                                                    \
    X(likelihood)                                                                                  \
    X(reweigh)                                                                                     \
    X(item)                                                                                        \
    X(posterior)                                                                                   \
    X(calibration)                                                                                 \
    X(drawn)                                                                                       \
    X(chart)                                                                                       \
    X(rule)                                                                                        \
    X(policy)                                                                                      \
    X(policy_list)                                                                                 \
    X(policy_judge)                                                                                \
    X(policy_files)                                                                                \
    X(policy_rows)                                                                                 \
    X(policy_said)                                                                                 \
    X(card_rows)                                                                                   \
    X(kit)                                                                                         \
    X(map)                                                                                         \
    X(show)                                                                                        \
    X(told)                                                                                        \
    X(range_json)                                                                                  \
    X(learn)                                                                                       \
    X(learn_real)                                                                                  \
    X(shapley)                                                                                     \
    X(why)                                                                                         \
    X(ageing)                                                                                      \
    X(words)                                                                                       \
    SUNDIALS_SUITES(X)

#define DECLARE(name) Suite *name##_suite(void);
SUITES(DECLARE)

static const struct {
    const char *name;
    Suite *(*make)(void);
} suites[] = {
#define ROW(name) {#name, name##_suite},
    SUITES(ROW)};

static int wanted(const char *name, int argc, char **argv)
{
    for (int i = 1; i < argc; i++)
        if (strcmp(argv[i], name) == 0)
            return 1;
    return argc < 2;
}

int main(int argc, char **argv)
{
    SRunner *runner = srunner_create(NULL);
    int chosen = 0;
    for (size_t i = 0; i < sizeof suites / sizeof *suites; i++)
        if (wanted(suites[i].name, argc, argv)) {
            srunner_add_suite(runner, suites[i].make());
            chosen++;
        }
    srunner_run_all(runner, CK_NORMAL);
    const int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 && chosen > 0 && (argc < 2 || chosen == argc - 1) ? EXIT_SUCCESS
                                                                         : EXIT_FAILURE;
}
