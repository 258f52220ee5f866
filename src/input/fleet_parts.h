/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fleet_parts.h - the readers of a fleet file's parts. */
#ifndef HB_INPUT_FLEET_PARTS_H
#define HB_INPUT_FLEET_PARTS_H

#include "input/fleet_reading.h"

/* The lists. */
void hb_fleet_vehicles(struct hb_fleet_reading *r, config_setting_t *list);
void hb_fleet_loads(struct hb_fleet_reading *r, config_setting_t *list);
void hb_fleet_help(struct hb_fleet_reading *r, config_setting_t *group);
/* Seasons by months and heat out of the weather files of sites, or from their own table. */
void hb_fleet_climate(struct hb_fleet_reading *r, config_setting_t *seasons,
                      config_setting_t *sites);

#endif
