/* SPDX-License-Identifier: GPL-3.0-or-later */
/* profile_new.c - files to begin with, of the kinds that are more than rows of the parameter table.
 * What is left empty in them is refused by hobble profile check, line by line, until it is filled
 * in. */
#include "input/profile.h"
#include "input/profile_dir.h"
#include "input/quantity.h"

#include <string.h>

static const char fleet_head[] =
    "# A fleet for hobble policy. FILL IN what is empty or 0; hobble profile check names each "
    "line.\n"
    "# Lines behind # show what else may stand here, with the built-in value where there is one.\n"
    "kind = \"fleet\";\n"
    "fleet_name = \"\"; # FILL IN: whose vehicles these are\n"
    "money = \"EUR\";\n"
    "\n"
    "# One group for each kind of vehicle. vehicle and tyres: a name that hobble profile list "
    "shows, or\n"
    "# a file beside this one, begun with hobble profile new vehicle, and new tyre.\n"
    "vehicles = (\n"
    "    { name = \"\"; # FILL IN: as the drivers call it\n"
    "      count = 0; # FILL IN: how many there are\n"
    "      year = \"0 km\"; # FILL IN: what one of them drives in a year\n"
    "      vehicle = \"\"; # FILL IN: such as vehicle.cfg\n"
    "      tyres = \"\"; # FILL IN: such as tyre.cfg; rear_tyres where they differ\n"
    "      # What is not stated of the tyres counts against them.\n"
    "      # stated = { age = \"2 years\"; ran_flat = \"no\"; repaired = \"no\"; };\n"
    "    }\n"
    ");\n"
    "\n"
    "# Who and what is in them: people, or seats as a share; shares of the kilometres add up to "
    "1.\n"
    "loads = (\n"
    "    { name = \"driver alone\"; people = 1; luggage = \"15 kg\"; share = 0.7; },\n"
    "    { name = \"every seat\"; seats = 1.0; luggage = \"50 kg\"; share = 0.3; }\n"
    ");\n"
    "\n"
    "# Air outside by season; shares of the year add up to 1. Weather files: docs/policy.md, "
    "sites.\n"
    "seasons = (\n"
    "    { name = \"winter\"; ambient = \"0 C\"; share = 0.4; },\n"
    "    { name = \"summer\"; ambient = \"25 C\"; share = 0.5; },\n"
    "    { name = \"heat\"; ambient = \"35 C\"; share = 0.1; }\n"
    ");\n"
    "\n"
    "# FILL IN: how far the nearest help is, on the mean; or help = { file = \"incidents.csv\"; "
    "};\n"
    "help = { mean = \"0 km\"; };\n";

enum hobble_status hb_fleet_new(FILE *out)
{
    size_t rows;
    const struct hobble_fleet_row *row = hobble_fleet_table(&rows);
    fputs(fleet_head, out);
    for (size_t i = 0; i < rows; i++) {
        char least[40], most[40], value[40];
        const char *unit = *row[i].shown ? row[i].shown : hobble_unit_symbol(row[i].unit);
        hb_number_print(row[i].min, 9, least, sizeof least);
        hb_number_print(row[i].max, 9, most, sizeof most);
        hb_number_print(row[i].value, 9, value, sizeof value);
        fprintf(out, "\n# %s\n# allowed: %s to %s%s%s\n# %s = %s;\n", row[i].meaning, least, most,
                *unit ? " " : "", unit, row[i].key, value);
    }
    return fflush(out) == 0 && !ferror(out) ? HOBBLE_OK : HOBBLE_E_WRITE;
}

/* What a bench case says besides the rows of its own group. */
static const char bench_head[] =
    "# One tyre on the bench, for hobble condition --case FILE. FILL IN the marking; take the # "
    "away\n"
    "# from each line that is known. What is not stated counts at its worst.\n"
    "kind = \"bench\";\n"
    "marking = \"\"; # FILL IN: as on the sidewall, such as 205/55 RF16 91V\n"
    "\n"
    "# as the papers or the sidewall say; unknown counts as conventional\n"
    "# allowed: unknown|self_supporting|extended_mobility|sealant_lined|conventional\n"
    "# construction = \"unknown\";\n"
    "\n"
    "# load on the wheel; or a vehicle's keys with people and luggage\n"
    "# allowed: 200 to 30000 N, kg\n"
    "# load = \"400 kg\";\n"
    "\n"
    "# air temperature outside\n"
    "# allowed: -40 to 60 C\n"
    "# ambient = \"25 C\";\n"
    "\n"
    "# whether it ever ran below 70 kPa before, and was ever repaired\n"
    "# allowed: unknown|no|yes\n"
    "# ran_flat = \"unknown\";\n"
    "# repaired = \"unknown\";\n";

enum hobble_status hb_bench_new(FILE *out)
{
    hobble_case *c = hobble_case_new();
    if (!c)
        return HOBBLE_E_MEMORY;
    fputs(bench_head, out);
    const enum hobble_status status = hb_rows_write(out, c, HOBBLE_BENCH);
    hobble_case_free(c);
    return status;
}
