/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Words of the public lists. */
#include "hobble.h"

const char *hobble_version(void)
{
    return PACKAGE_VERSION;
}

static const struct {
    const char *word, *sentence, *remedy;
} stops[] = {
#define STOP_ROW(code, word, sentence, remedy) {word, sentence, remedy},
    HOBBLE_STOP_LIST(STOP_ROW)
#undef STOP_ROW
};

const char *hobble_stop_word(enum hobble_stop reason)
{
    return (unsigned)reason < HOBBLE_STOP_COUNT ? stops[reason].word : "unknown";
}

const char *hobble_stop_sentence(enum hobble_stop reason)
{
    return (unsigned)reason < HOBBLE_STOP_COUNT ? stops[reason].sentence : "";
}

const char *hobble_stop_remedy(enum hobble_stop reason)
{
    return (unsigned)reason < HOBBLE_STOP_COUNT ? stops[reason].remedy : "";
}

const char *hobble_verdict_word(enum hobble_verdict verdict)
{
    static const char *const words[] = {"stop", "go", "go_then_stop"};
    return (unsigned)verdict <= HOBBLE_GO_THEN_STOP ? words[verdict] : "unknown";
}

const char *hobble_limit_word(enum hobble_limit limit)
{
    static const char *const words[] = {"range", "rule", "maker", "stop", "construction", "fleet"};
    return (unsigned)limit < HOBBLE_LIMIT_COUNT ? words[limit] : "unknown";
}

const char *hobble_end_word(enum hobble_end end)
{
    static const char *const words[] = {"none", "horizon", "life", "heat", "rim", "shoulder"};
    return (unsigned)end < HOBBLE_END_COUNT ? words[end] : "unknown";
}
