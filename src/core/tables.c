/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tables.c - the three tables that turn what is written on a sidewall into numbers. */
#include "core/tables.h"
#include "hobble.h"

/* Load index 50..125 in kg, ten to a row: ISO 4000-1 and the load-index annex of UN R30, by way
 * of secondary prints; 120..125 from memory, unconfirmed. */
enum { FIRST_LOAD_INDEX = 50, LAST_LOAD_INDEX = 125 };
static const unsigned short LOAD_KG[LAST_LOAD_INDEX - FIRST_LOAD_INDEX + 1] = {
    190,  195,  200,  206,  212,  218,  224,  230,  236,  243,  /*  50 */
    250,  257,  265,  272,  280,  290,  300,  307,  315,  325,  /*  60 */
    335,  345,  355,  365,  375,  387,  400,  412,  425,  437,  /*  70 */
    450,  462,  475,  487,  500,  515,  530,  545,  560,  580,  /*  80 */
    600,  615,  630,  650,  670,  690,  710,  730,  750,  775,  /*  90 */
    800,  825,  850,  875,  900,  925,  950,  975,  1000, 1030, /* 100 */
    1060, 1090, 1120, 1150, 1180, 1215, 1250, 1285, 1320, 1360, /* 110 */
    1400, 1450, 1500, 1550, 1600, 1650,                         /* 120 */
};

/* UN R30 section 2. N P Q R S T U H V W Y by way of secondary prints, J K L M from memory,
 * unconfirmed. H stands between U and V. */
static const struct {
    char symbol;
    unsigned short kmh;
} SPEEDS[] = {
    {'J', 100}, {'K', 110}, {'L', 120}, {'M', 130}, {'N', 140}, {'P', 150}, {'Q', 160}, {'R', 170},
    {'S', 180}, {'T', 190}, {'U', 200}, {'H', 210}, {'V', 240}, {'W', 270}, {'Y', 300},
};

/* Nominal rim diameter in mm for codes 13..24: UN R30, definition of the rim diameter code; from
 * memory, unconfirmed. Each is the code times 25.4 mm to the nearest millimetre. */
enum { FIRST_RIM = 13, LAST_RIM = 24 };
static const unsigned short RIM_MM[LAST_RIM - FIRST_RIM + 1] = {330, 356, 381, 406, 432, 457,
                                                                483, 508, 533, 559, 584, 610};

bool hb_width_allowed(int width_mm)
{
    return width_mm >= HB_WIDTH_MIN && width_mm <= HB_WIDTH_MAX && width_mm % 10 == 5;
}

bool hb_aspect_allowed(int aspect)
{
    return aspect >= HB_ASPECT_MIN && aspect <= HB_ASPECT_MAX && aspect % 5 == 0;
}

double hobble_load_index_kg(int load_index)
{
    if (load_index < FIRST_LOAD_INDEX || load_index > LAST_LOAD_INDEX)
        return 0.0;
    return LOAD_KG[load_index - FIRST_LOAD_INDEX];
}

double hobble_speed_symbol_kmh(char symbol)
{
    for (size_t i = 0; i < sizeof SPEEDS / sizeof SPEEDS[0]; i++)
        if (SPEEDS[i].symbol == symbol)
            return SPEEDS[i].kmh;
    return 0.0;
}

double hobble_rim_diameter(int rim_code)
{
    if (rim_code < FIRST_RIM || rim_code > LAST_RIM)
        return 0.0;
    return RIM_MM[rim_code - FIRST_RIM] / 1000.0;
}
