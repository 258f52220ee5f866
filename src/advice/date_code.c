/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/date_code.h"

#include <string.h>

enum { YEAR_LEAST = 1900, YEAR_MOST = 2199 };

/* Number of count figures at text, or -1. */
static int figures(const char *text, int count)
{
    int value = 0;
    for (int i = 0; i < count; i++) {
        if (text[i] < '0' || text[i] > '9')
            return -1;
        value = 10 * value + (text[i] - '0');
    }
    return value;
}

static bool leap(int year)
{
    return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
}

static int month_length(int year, int month)
{
    static const int length[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    return length[month - 1] + (month == 2 && leap(year));
}

static long days_of(int year, int month, int day)
{
    long days = day - 1;
    for (int y = 1970; y < year; y++)
        days += leap(y) ? 366 : 365;
    for (int y = year; y < 1970; y++)
        days -= leap(y) ? 366 : 365;
    for (int m = 1; m < month; m++)
        days += month_length(year, m);
    return days;
}

bool hb_date_read(const char *text, long *days)
{
    if (strlen(text) != 10 || text[4] != '-' || text[7] != '-')
        return false;
    const int year = figures(text, 4), month = figures(text + 5, 2), day = figures(text + 8, 2);
    if (year < YEAR_LEAST || year > YEAR_MOST || month < 1 || month > 12 || day < 1 ||
        day > month_length(year, month))
        return false;
    *days = days_of(year, month, day);
    return true;
}

bool hb_date_code_read(const char *text, long *days)
{
    const size_t length = strlen(text);
    if (length != 3 && length != 4)
        return false;
    const int week = figures(text, 2);
    const int year = figures(text + 2, (int)length - 2);
    if (week < 1 || week > 53 || year < 0)
        return false;
    *days = days_of((length == 4 ? 2000 : 1980) + year - 1, 12, 29) + 7L * (week - 1);
    return true;
}
