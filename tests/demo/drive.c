/* SPDX-License-Identifier: GPL-3.0-or-later */
/* drive.c - writes the demo drive: a shuttle of Alder Lakes Home Care, which is invented, loses the
 * air of a tyre that never was. Its temperatures are those of the model's second implementation
 * (tests/unit/rebuilt.c) with an offset a sensor and noise a reading; the track lies in the middle
 * of an ocean. Usage: drive FOLDER: shuttle.csv, .gpx, .nmea and .jsonl in it. */
#include "rebuilt.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* What happens: speed from a moment on, until the next. */
static const struct {
    double kmh, seconds;
    double kpa, slowness; /* set at its beginning; below 0: as it is */
} part[] = {
    {100, 480, -1, 0},   /* well */
    {100, 200, 230, 90}, /* a nail: the air goes within minutes */
    {70, 420, -1, 90},   /* slower, after the warning */
    {30, 10, -1, 90},    {0, 80, -1, 90},  {30, 10, -1, 90}, /* lights */
    {70, 690, -1, 90},   {30, 10, -1, 90}, {0, 20, -1, 90},  /* stops for good */
};
enum { PARTS = sizeof part / sizeof *part, STEP = 2, EVERY = 20, MOST = 1000 };

#define BEGINS  1777651200.0 /* 2026-05-01T16:00:00Z */
#define NEWTON  4523.0
#define CELSIUS 18.0
enum { WARNED = 640, LOST_FROM = 1080, LOST_TO = 1170, STUCK_FROM = 900, STOPPED = 1904 };

struct moment {
    int time;
    double kmh, kpa, inner, outer, cavity, north, east;
    const char *mark;
};

static uint64_t state = 20260501;

/* splitmix64: G. Steele, D. Lea, C. Flood, OOPSLA 2014; the sum of twelve, less six. */
static double noise(double size)
{
    double sum = -6.0;
    for (int i = 0; i < 12; i++) {
        uint64_t z = (state += 0x9E3779B97F4A7C15u);
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9u;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EBu;
        sum += (double)((z ^ (z >> 31)) >> 11) * 0x1p-53;
    }
    return size * sum;
}

static double kmh_at(double time)
{
    for (int i = 0; i < PARTS; i++) {
        if (time < part[i].seconds)
            return part[i].kmh;
        time -= part[i].seconds;
    }
    return 0.0;
}

/* The model at a moment: all legs up to it. */
static struct rebuilt_end model_at(const struct rebuilt *tyre, double time)
{
    struct rebuilt_leg leg[PARTS];
    int legs = 0;
    for (int i = 0; i < PARTS && time > 0.0; i++) {
        leg[legs++] =
            (struct rebuilt_leg){part[i].kmh, NEWTON, CELSIUS,         fmin(time, part[i].seconds),
                                 part[i].kpa, 0.0,    part[i].slowness};
        time -= part[i].seconds;
    }
    return rebuilt_drive(tyre, leg, legs, true);
}

static int simulate(struct moment *m)
{
    const struct rebuilt tyre = rebuilt_plain(205.0, 55.0, 16.0, 615.0);
    double all = 0.0, way = 0.0;
    int n = 0;
    for (int i = 0; i < PARTS; i++)
        all += part[i].seconds;
    struct rebuilt_end from = model_at(&tyre, 0.5), to = from;
    for (int t = 0; t <= (int)all; t += STEP) {
        if (t % EVERY == 0) {
            from = to;
            to = model_at(&tyre, fmin((double)t + EVERY, all));
        }
        const double share = (double)(t % EVERY) / EVERY;
        way += kmh_at(t) / 3.6 * STEP;
        if (t > LOST_FROM && t < LOST_TO)
            continue;
        struct moment *at = &m[n++];
        const double inner = from.inner + share * (to.inner - from.inner) - 273.15;
        const double outer = from.outer + share * (to.outer - from.outer) - 273.15;
        const double cavity = from.cavity + share * (to.cavity - from.cavity) - 273.15;
        const double kpa = from.kpa + share * (to.kpa - from.kpa);
        *at = (struct moment){.time = t,
                              .kmh = fmax(kmh_at(t) + (kmh_at(t) > 0.0 ? noise(0.4) : 0.0), 0.0),
                              .kpa = fmax(kpa + noise(0.7), 0.0),
                              .inner = inner - 2.0 + noise(0.4),
                              .outer = t < STUCK_FROM ? outer + 1.5 + noise(0.4) : 0.0,
                              .cavity = cavity - 1.0 + noise(0.3),
                              .north = 45.0 + 0.5 * way / 111100.0 + noise(1e-5),
                              .east = -30.0 + 0.866 * way / 78800.0 + noise(1e-5),
                              .mark = t == WARNED    ? "warning came"
                                      : t == STOPPED ? "stopped"
                                                     : ""};
        if (t >= STUCK_FROM) /* the sensor's last word */
            at->outer = at[-1].outer;
    }
    return n;
}

#define SAID                                                                                       \
    "SIMULATED, not measured: a drive that never was, of an invented fleet, Alder Lakes Home Care"

static void stamp(int time, char to[32])
{
    snprintf(to, 32, "2026-05-01T%02d:%02d:%02dZ", 16 + time / 3600, time / 60 % 60, time % 60);
}

static void csv(FILE *f, const struct moment *m, int count)
{
    fprintf(f, "# " SAID "\ntime,speed_kmh,lat,lon,pressure_kpa,inner_c,outer_c,cavity_c,mark\n");
    for (int i = 0; i < count; i++) {
        char at[32];
        stamp(m[i].time, at);
        fprintf(f, "%s,%.1f,%.6f,%.6f,%.0f,%.1f,%.1f,%.1f,%s\n", at, m[i].kmh, m[i].north,
                m[i].east, m[i].kpa, m[i].inner, m[i].outer, m[i].cavity, m[i].mark);
    }
}

static void gpx(FILE *f, const struct moment *m, int count)
{
    fprintf(f, "<!-- " SAID " -->\n<gpx version=\"1.1\" creator=\"hobble, tests/demo/drive.c\" "
               "xmlns=\"http://www.topografix.com/GPX/1/1\" xmlns:t=\"urn:hobble:tyre\">\n"
               "<trk><trkseg>\n");
    for (int i = 0; i < count; i++) {
        char at[32];
        stamp(m[i].time, at);
        if (i > 0 && m[i].time - m[i - 1].time > STEP)
            fprintf(f, "</trkseg><trkseg>\n");
        fprintf(f, "<trkpt lat=\"%.6f\" lon=\"%.6f\"><time>%s</time>", m[i].north, m[i].east, at);
        if (m[i].mark[0])
            fprintf(f, "<cmt>%s</cmt>", m[i].mark);
        fprintf(f,
                "<extensions><t:pressure_kpa>%.0f</t:pressure_kpa><t:cavity_c>%.1f</t:cavity_c>"
                "</extensions></trkpt>\n",
                m[i].kpa, m[i].cavity);
    }
    fprintf(f, "</trkseg></trk>\n</gpx>\n");
}

static void sentence(FILE *f, const char *body)
{
    unsigned sum = 0;
    for (const char *c = body; *c; c++)
        sum ^= (unsigned char)*c;
    fprintf(f, "$%s*%02X\r\n", body, sum);
}

static void nmea(FILE *f, const struct moment *m, int count)
{
    fprintf(f, "# " SAID "\r\n");
    for (int i = 0; i < count; i++) {
        char body[120];
        const double north = m[i].north, east = -m[i].east;
        snprintf(body, sizeof body,
                 "GPRMC,%02d%02d%02d,A,%02d%07.4f,N,%03d%07.4f,W,%.2f,60.0,010526,,,A",
                 16 + m[i].time / 3600, m[i].time / 60 % 60, m[i].time % 60, (int)north,
                 60.0 * (north - floor(north)), (int)east, 60.0 * (east - floor(east)),
                 m[i].kmh / 1.852);
        sentence(f, body);
        snprintf(body, sizeof body, "YXXDR,P,%.3f,B,TYRE,C,%.1f,C,CAVITY", m[i].kpa / 100.0,
                 m[i].cavity);
        sentence(f, body);
        snprintf(body, sizeof body, "GPTXT,01,01,07,%s", m[i].mark);
        if (m[i].mark[0])
            sentence(f, body);
    }
}

static void jsonl(FILE *f, const struct moment *m, int count)
{
    fprintf(f, "{\"note\": \"" SAID "\"}\n");
    for (int i = 0; i < count; i++) {
        char at[32];
        stamp(m[i].time, at);
        fprintf(f,
                "{\"time\": \"%s\", \"id\": \"a1\", \"speed_kmh\": %.1f, \"pressure_kPa\": %.0f, "
                "\"temperature_C\": %.1f",
                at, m[i].kmh, m[i].kpa, m[i].cavity);
        fprintf(f, m[i].mark[0] ? ", \"mark\": \"%s\"}\n" : "}\n", m[i].mark);
    }
}

static const struct {
    const char *name;
    void (*write)(FILE *f, const struct moment *m, int count);
} file[] = {
    {"shuttle.csv", csv}, {"shuttle.gpx", gpx}, {"shuttle.nmea", nmea}, {"shuttle.jsonl", jsonl}};

int main(int argc, char **argv)
{
    static struct moment m[MOST];
    const int count = simulate(m);
    if (argc != 2)
        return 64;
    for (size_t i = 0; i < sizeof file / sizeof *file; i++) {
        char path[4096];
        snprintf(path, sizeof path, "%s/%s", argv[1], file[i].name);
        FILE *f = fopen(path, "wb");
        if (!f)
            return 66;
        file[i].write(f, m, count);
        if (fclose(f) != 0)
            return 74;
    }
    return 0;
}
