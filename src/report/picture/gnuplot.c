/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/picture/gnuplot.h"

#include "report/out.h"

#include <errno.h>
#include <fcntl.h>
#include <math.h>
#include <spawn.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

/* ---- kinds of files, and the look ------------------------------------------------------------ */

struct bytes {
    const char *at;
    size_t size;
};
#define BYTES(text)                                                                                \
    {                                                                                              \
        (text), sizeof(text) - 1                                                                   \
    }

struct hb_gnuplot_kind {
    const char *ending;
    const char *terminal;    /* sets terminal and fonts, from wide and high in 1/96 inch */
    struct bytes head, tail; /* what a whole file begins and ends with */
    bool space_after;        /* white space may follow the tail */
};

/* Heads and tails: XML 1.0, 2.8 with SVG 1.1, 5.1; PNG (2nd edition), 5.2 and 11.2.5; ISO 32000-1,
 * 7.5.2 and 7.5.5. A gnuplot without cairo draws PNG with gd; it cannot draw PDF. */
static const struct hb_gnuplot_kind kinds[] = {
    {".svg",
     "font_head = ',17'; font_small = ',11'\n"
     "set terminal svg name 'hobble' size wide,high dynamic font 'sans-serif,13' "
     "background rgb 'white' noenhanced butt dashlength 0.8\n",
     BYTES("<?xml "), BYTES("</svg>"), true},
    {".png",
     "font_head = ',12.75'; font_small = ',8.25'\n"
     "if (strstrt(GPVAL_TERMINALS, 'pngcairo') > 0) {\n"
     "set terminal pngcairo size 2*wide,2*high font 'sans-serif,9.75' fontscale 2 linewidth 2 "
     "background rgb 'white' noenhanced butt dashlength 1.6\n"
     "} else {\n"
     "set terminal png size 2*wide,2*high font 'sans-serif,9.75' fontscale 2 linewidth 2 "
     "background rgb 'white' noenhanced butt\n"
     "}\n",
     BYTES("\x89PNG\r\n\x1A\n"), BYTES("\0\0\0\0IEND\xAE\x42\x60\x82"), false},
    {".pdf",
     "font_head = ',12.75'; font_small = ',8.25'\n"
     "set terminal pdfcairo size wide/96.0,high/96.0 font 'sans-serif,9.75' fontscale 0.75 "
     "background rgb 'white' noenhanced butt dashlength 1.6 linewidth 1.6\n",
     BYTES("%PDF-"), BYTES("%%EOF"), true},
};

/* The inks keep their order of lightness for eyes that miss red or green, and in grey. */
static const char look[] =
    "ink_text = '#22282C'; ink_quiet = '#5C656B'; ink_grid = '#E4E6E4'\n"
    "ink_heat = '#9C4A24'; ink_heat_tint = '#F3DDCB'\n"
    "ink_life = '#1F5A70'; ink_life_tint = '#D3E3E8'; ink_third = '#6E6413'\n"
    "dash_edge = 2; dash_low = 3; dash_third = 4; dash_mark = 5\n"
    "set dashtype 2 (8,4); set dashtype 3 (2,3); set dashtype 4 (10,3,2,3); set dashtype 5 (14,5)\n"
    "set palette defined (0 '#FBF6E9', 0.25 '#E3CFA6', 0.5 '#B08F6E', 0.75 '#5F6270', 1 "
    "'#1E2A44')\n"
    "set border 3 lc rgb ink_quiet\n"
    "set tics out nomirror scale 0.5 textcolor rgb ink_text\n"
    "set grid lt 1 lw 0.6 lc rgb ink_grid\n"
    "unset key\n";

static const struct hb_gnuplot_kind *kind_of(const char *path)
{
    const size_t length = strlen(path);
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        const size_t ending = strlen(kinds[i].ending);
        if (length > ending && strcasecmp(path + length - ending, kinds[i].ending) == 0)
            return &kinds[i];
    }
    return NULL;
}

bool hb_gnuplot_draws(const char *path)
{
    return kind_of(path) != NULL;
}

/* ---- the commands ---------------------------------------------------------------------------- */

enum hobble_status hb_gnuplot_open(struct hb_gnuplot *g, const char *path, int width, int height)
{
    *g = (struct hb_gnuplot){.path = path, .kind = kind_of(path)};
    if (!g->kind)
        return HOBBLE_E_SYNTAX;
    if (width < 100 || width > 4000 || height < 100 || height > 4000)
        return HOBBLE_E_RANGE;
    g->plain = newlocale(LC_NUMERIC_MASK, "C", (locale_t)0);
    g->script = open_memstream(&g->text, &g->size);
    if (!g->script || g->plain == (locale_t)0) {
        hb_gnuplot_drop(g);
        return HOBBLE_E_MEMORY;
    }
    hb_gnuplot_say(g, "set encoding utf8\nwide = %d; high = %d\n%s%s", width, height,
                   g->kind->terminal, look);
    return HOBBLE_OK;
}

void hb_gnuplot_drop(struct hb_gnuplot *g)
{
    if (g->script)
        fclose(g->script);
    if (g->plain != (locale_t)0)
        freelocale(g->plain);
    free(g->text);
    *g = (struct hb_gnuplot){0};
}

void hb_gnuplot_say(struct hb_gnuplot *g, const char *format, ...)
{
    va_list list;
    const locale_t before = uselocale(g->plain);
    va_start(list, format);
    vfprintf(g->script, format, list); /* the stream's error is looked at by close */
    va_end(list);
    uselocale(before);
}

void hb_gnuplot_quote(struct hb_gnuplot *g, const char *text)
{
    static const struct {
        char from;
        const char *to;
    } harmless[] = {
        {'\'', "\u2019"},
        {'"', "\u201D"},
        {'`', "\u2018"},
        {'\\', "/"},
    };
    char clean[HOBBLE_FAULT_TEXT];
    hobble_fault_text(clean, text);
    fputc('\'', g->script);
    for (const char *c = clean; *c; c++) {
        size_t i = 0;
        while (i < sizeof harmless / sizeof harmless[0] && harmless[i].from != *c)
            i++;
        if (i < sizeof harmless / sizeof harmless[0])
            fputs(harmless[i].to, g->script);
        else
            fputc(*c, g->script);
    }
    fputc('\'', g->script);
}

void hb_gnuplot_block_begin(struct hb_gnuplot *g, const char *name)
{
    hb_gnuplot_say(g, "$%s << EOD\n", name);
}

void hb_gnuplot_row(struct hb_gnuplot *g, const double *value, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (isfinite(value[i]))
            hb_gnuplot_say(g, "%.9g ", value[i]);
        else
            hb_gnuplot_say(g, "NaN ");
    hb_gnuplot_say(g, "\n");
}

void hb_gnuplot_block_end(struct hb_gnuplot *g)
{
    hb_gnuplot_say(g, "EOD\n");
}

/* ---- the child process ----------------------------------------------------------------------- */

/* What gnuplot and the libraries under it need to find programs, fonts and their caches. The rest
 * stays out: gnuplot's own variables would choose a terminal, a start-up file or a driver. */
static const char *const passed_on[] = {
    "PATH",
    "HOME",
    "TMPDIR",
    "LD_LIBRARY_PATH",
    "XDG_CACHE_HOME",
    "XDG_DATA_HOME",
    "XDG_DATA_DIRS",
    "XDG_CONFIG_HOME",
    "FONTCONFIG_FILE",
    "FONTCONFIG_PATH",
    "FONTCONFIG_SYSROOT",
};
enum { PASSED_ON = sizeof passed_on / sizeof passed_on[0] };

extern char **environ;

static void choose_environment(char *first, char *chosen[static PASSED_ON + 2])
{
    size_t n = 0;
    chosen[n++] = first;
    for (size_t i = 0; i < PASSED_ON; i++)
        for (char **e = environ; e && *e; e++) {
            const size_t length = strlen(passed_on[i]);
            if (strncmp(*e, passed_on[i], length) == 0 && (*e)[length] == '=') {
                chosen[n++] = *e;
                break;
            }
        }
    chosen[n] = NULL;
}

/* Moves a descriptor out of the way of the child's 0, 1 and 2 and keeps it from other children. */
static int out_of_the_way(int fd)
{
    const int moved = fd >= 0 ? fcntl(fd, F_DUPFD_CLOEXEC, 3) : -1;
    if (fd >= 0)
        close(fd);
    return moved;
}

/* Starts gnuplot reading from in and writing to out, its complaints going nowhere: no name of a
 * file and no shell is involved. -d: no start-up files. */
static enum hobble_status start(int in, int out, pid_t *child)
{
    char name[] = "gnuplot", plain[] = "-d", locale[] = "LC_ALL=C.UTF-8";
    char *argument[] = {name, plain, NULL};
    char *environment[PASSED_ON + 2];
    posix_spawn_file_actions_t action;
    choose_environment(locale, environment);
    if (posix_spawn_file_actions_init(&action) != 0)
        return HOBBLE_E_MEMORY;
    int fault = posix_spawn_file_actions_adddup2(&action, in, 0);
    if (fault == 0)
        fault = posix_spawn_file_actions_adddup2(&action, out, 1);
    if (fault == 0)
        fault = posix_spawn_file_actions_addopen(&action, 2, "/dev/null", O_WRONLY, 0);
    if (fault == 0)
        fault = posix_spawnp(child, name, &action, NULL, argument, environment);
    posix_spawn_file_actions_destroy(&action);
    return fault == 0 ? HOBBLE_OK : fault == ENOMEM ? HOBBLE_E_MEMORY : HOBBLE_E_NO_INPUT;
}

/* A child that ends early closes its side: that must be an error and not a signal. */
static bool send_all(int to, const char *text, size_t size)
{
    while (size > 0) {
        const ssize_t sent = send(to, text, size, MSG_NOSIGNAL);
        if (sent < 0 && errno == EINTR)
            continue;
        if (sent <= 0)
            return false;
        text += sent;
        size -= (size_t)sent;
    }
    return true;
}

/* 127: how a posix_spawn that forks first tells that the program was not found. */
static enum hobble_status wait_for(pid_t child)
{
    int status = 0;
    pid_t ended;
    do
        ended = waitpid(child, &status, 0);
    while (ended < 0 && errno == EINTR);
    if (ended != child || !WIFEXITED(status))
        return HOBBLE_E_WRITE;
    return WEXITSTATUS(status) == 0     ? HOBBLE_OK
           : WEXITSTATUS(status) == 127 ? HOBBLE_E_NO_INPUT
                                        : HOBBLE_E_WRITE;
}

/* Runs gnuplot on the commands with its standard output going to out. */
static enum hobble_status run(const char *text, size_t size, int out)
{
    int side[2];
    pid_t child;
    if (socketpair(AF_UNIX, SOCK_STREAM, 0, side) != 0)
        return HOBBLE_E_MEMORY;
    side[0] = out_of_the_way(side[0]);
    side[1] = out_of_the_way(side[1]);
    enum hobble_status status =
        side[0] >= 0 && side[1] >= 0 ? start(side[0], out, &child) : HOBBLE_E_MEMORY;
    if (side[0] >= 0)
        close(side[0]);
    const bool sent = status == HOBBLE_OK && send_all(side[1], text, size);
    if (side[1] >= 0)
        close(side[1]);
    if (status == HOBBLE_OK)
        status = wait_for(child);
    return status == HOBBLE_OK && !sent ? HOBBLE_E_WRITE : status;
}

/* ---- the file -------------------------------------------------------------------------------- */

/* gnuplot ends with 0 when the disk is full, so the file has to show that it is whole. */
static bool whole(int fd, const struct hb_gnuplot_kind *kind)
{
    char buf[32];
    const off_t size = lseek(fd, 0, SEEK_END);
    if (size < (off_t)(kind->head.size + sizeof buf))
        return false;
    if (pread(fd, buf, kind->head.size, 0) != (ssize_t)kind->head.size ||
        memcmp(buf, kind->head.at, kind->head.size) != 0)
        return false;
    if (pread(fd, buf, sizeof buf, size - (off_t)sizeof buf) != (ssize_t)sizeof buf)
        return false;
    size_t end = sizeof buf;
    while (kind->space_after && end > 0 && strchr(" \r\n", buf[end - 1]) && buf[end - 1])
        end--;
    return end >= kind->tail.size &&
           memcmp(buf + end - kind->tail.size, kind->tail.at, kind->tail.size) == 0;
}

static enum hobble_status draw(const char *text, size_t size, const char *path,
                               const struct hb_gnuplot_kind *kind)
{
    char *temporary = hb_temporary_beside(path);
    if (!temporary)
        return HOBBLE_E_WRITE;
    const int fd = out_of_the_way(open(temporary, O_RDWR | O_CLOEXEC));
    enum hobble_status status = fd >= 0 ? run(text, size, fd) : HOBBLE_E_WRITE;
    if (status == HOBBLE_OK && !whole(fd, kind))
        status = HOBBLE_E_WRITE;
    if (fd >= 0)
        close(fd);
    if (status == HOBBLE_OK)
        return hb_rename_whole(temporary, path);
    unlink(temporary);
    free(temporary);
    return status;
}

enum hobble_status hb_gnuplot_close(struct hb_gnuplot *g)
{
    hb_gnuplot_say(g, "unset multiplot\n"); /* ends the page; harmless without one */
    const bool good = !ferror(g->script);
    const bool closed = fclose(g->script) == 0;
    g->script = NULL;
    enum hobble_status status = HOBBLE_E_MEMORY;
    if (good && closed)
        status = draw(g->text, g->size, g->path, g->kind);
    hb_gnuplot_drop(g);
    return status;
}
