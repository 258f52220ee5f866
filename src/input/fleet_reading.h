/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fleet_reading.h - what the readers of a fleet file share. */
#ifndef HB_INPUT_FLEET_READING_H
#define HB_INPUT_FLEET_READING_H

#include "hobble.h"

#include <libconfig.h>

/* What is being read: every function reports its own faults and counts them by the status. */
struct hb_fleet_reading {
    const char *file;
    struct hobble_fleet *fleet;
    enum hobble_status first;
    struct hobble_faults *sink;
};

/* A key that a group may have. */
struct hb_fleet_key {
    const char *name;
    bool needed;
};

void hb_fleet_count(struct hb_fleet_reading *r, enum hobble_status status);
/* Reports a fault of a setting (NULL: of the file); given NULL: what it is by type. */
void hb_fleet_complain(struct hb_fleet_reading *r, enum hobble_status status,
                       const config_setting_t *s, const char *key, const char *given,
                       const char *allowed);
/* Fills member[i] with the setting of key[i] or NULL; reports unknown and missing ones. group: name
 * before the dot. False when it is no group. */
bool hb_fleet_members(struct hb_fleet_reading *r, config_setting_t *s, const char *group,
                      const struct hb_fleet_key *key, int count, config_setting_t *member[]);
/* A number in a unit, from a number or a text with a unit, within limits; false after a fault. */
bool hb_fleet_number(struct hb_fleet_reading *r, const config_setting_t *s, const char *key,
                     enum hobble_unit unit, double least, double most, double *value);
/* A text of up to size - 1 bytes, not empty; false after a fault. */
bool hb_fleet_text(struct hb_fleet_reading *r, const config_setting_t *s, const char *key,
                   char *buf, size_t size);
/* A list of least..most groups; 0 after a fault. */
int hb_fleet_list(struct hb_fleet_reading *r, const config_setting_t *s, const char *key, int least,
                  int most);
/* A path beside the fleet file, unless it is a whole one. */
void hb_fleet_beside(const struct hb_fleet_reading *r, const char *name, char *path, size_t size);
/* Whether shares add up to 1; else a fault. */
void hb_fleet_whole(struct hb_fleet_reading *r, const config_setting_t *s, const char *key,
                    double sum);

#endif
