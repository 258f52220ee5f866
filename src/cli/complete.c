/* SPDX-License-Identifier: GPL-3.0-or-later */
/* complete.c - completion for bash, zsh and fish, written from the tables of commands and options.
 */
#include "cli/complete.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

enum { SHORT_SIZE = 72 };

/* What may stand as an option's value or as a command's first word. */
enum value { NO_VALUE, FREE, WORDS, NAMES, FILES, FOLDERS };

struct script {
    FILE *f;
    const struct command *command; /* the first of count */
    size_t count;
    const struct command *at; /* whose options are being written */
    char seen[8192];          /* " --name" of options whose values are written already */
};

/* "a|b c" is of words when all before the space is in small letters. */
static bool is_words(const char *text)
{
    const size_t length = strcspn(text, " ");
    return memchr(text, '|', length) != NULL &&
           strspn(text, "abcdefghijklmnopqrstuvwxyz0123456789_-|") >= length;
}

static enum value value_of(const char *argument)
{
    if (!argument)
        return NO_VALUE;
    return is_words(argument)                                         ? WORDS
           : strstr(argument, "NAME|") || strstr(argument, "PROFILE") ? NAMES
           : strstr(argument, "FILE") || strstr(argument, ".cfg")     ? FILES
           : strcmp(argument, "DIR") == 0                             ? FOLDERS
                                                                      : FREE;
}

/* Words of "a|b|c ..." with spaces between. */
static void put_words(FILE *f, const char *text)
{
    for (; *text && *text != ' '; text++)
        fputc(*text == '|' ? ' ' : *text, f);
}

/* Which profiles an option takes; "" for any. */
static const char *kind_of(const char *option)
{
    static const char *const kinds[] = {"tyre", "vehicle", "rules"};
    for (size_t i = 0; option && i < sizeof kinds / sizeof *kinds; i++)
        if (strcmp(option, kinds[i]) == 0)
            return kinds[i];
    return "";
}

/* The first part of an explanation, without what shells would read: cut at a word's end. */
static void put_short(FILE *f, const char *text)
{
    char out[SHORT_SIZE];
    size_t n = 0, end = strcspn(text, ";:\v(\n");
    for (; n < end && n < sizeof out - 1; n++)
        out[n] = strchr("'[]`\\\"$", text[n]) ? ' ' : text[n];
    if (n < end)
        while (n > 1 && out[n] != ' ')
            n--;
    while (n > 0 && strchr(" ,.", out[n - 1]))
        n--;
    fprintf(f, "%.*s", (int)n, out);
}

static bool may_repeat(const char *name)
{
    return strcmp(name, "leg") == 0 || strcmp(name, "set") == 0 || strcmp(name, "profile") == 0;
}

/* ---- bash ------------------------------------------------------------------------------------ */

static void bash_name(void *into, const struct argp_option *o)
{
    const struct script *s = into;
    fprintf(s->f, " --%s", o->name);
}

/* Values do not depend on the command, so each option is written once. */
static void bash_value(void *into, const struct argp_option *o)
{
    struct script *s = into;
    char name[64];
    const size_t used = strlen(s->seen);
    snprintf(name, sizeof name, " --%s ", o->name);
    if (!o->arg || strstr(s->seen, name) || used + sizeof name > sizeof s->seen)
        return;
    snprintf(s->seen + used, sizeof s->seen - used, "%s", name);
    fprintf(s->f, "    --%s", o->name);
    if (isalpha(o->key))
        fprintf(s->f, " | -%c", o->key);
    fputs(") ", s->f);
    switch (value_of(o->arg)) {
    case WORDS:
        fputs("_hobble_words '", s->f);
        put_words(s->f, o->arg);
        fputs("'; ", s->f);
        break;
    case NAMES:
        fprintf(s->f, "_hobble_files -f; _hobble_names '%s'; ", kind_of(o->name));
        break;
    case FILES:
        fputs("_hobble_files -f; ", s->f);
        break;
    case FOLDERS:
        fputs("_hobble_files -d; ", s->f);
        break;
    default:
        break;
    }
    fputs("return ;;\n", s->f);
}

static const char bash_head[] =
    "# bash completion of hobble, written by: hobble --completion bash\n"
    "_hobble_words() { COMPREPLY+=($(compgen -W \"$1\" -- \"$cur\")); }\n"
    "_hobble_files() { compopt -o filenames 2>/dev/null; local IFS=$'\\n'; "
    "COMPREPLY+=($(compgen \"$1\" -- \"$cur\")); }\n"
    "_hobble_names() {\n"
    "    local kind name rest names=''\n"
    "    while IFS=$'\\t' read -r kind name rest; do\n"
    "        [ -n \"$1\" ] && [ \"$kind\" != \"$1\" ] || names+=\" $name\"\n"
    "    done < <(\"${program/#\\~/$HOME}\" profile list 2>/dev/null)\n"
    "    _hobble_words \"$names\"\n"
    "}\n"
    "_hobble() {\n"
    "    local program=$1 cur=$2 prev=$3 options='' words=''\n"
    "    COMPREPLY=()\n"
    "    # '=' is a word of its own here\n"
    "    [ \"$cur\" != = ] || cur=\n"
    "    [ \"$prev\" != = ] || prev=${COMP_WORDS[COMP_CWORD - 2]}\n";

static void bash(struct script *s)
{
    fputs(bash_head, s->f);
    fputs("    if [ \"$COMP_CWORD\" -eq 1 ]; then\n        _hobble_words '", s->f);
    for (size_t i = 0; i < s->count; i++)
        fprintf(s->f, "%s ", s->command[i].name);
    fputs("--help --version'\n        return\n    fi\n    case $prev in\n", s->f);
    for (size_t i = 0; i < s->count; i++)
        hb_options_each(&s->command[i], bash_value, s);
    fputs("    esac\n    case ${COMP_WORDS[1]} in\n", s->f);
    for (size_t i = 0; i < s->count; i++) {
        const char *argument = s->command[i].arguments;
        const enum value first = value_of(argument);
        fprintf(s->f, "    %s)\n        options='", s->command[i].name);
        hb_options_each(&s->command[i], bash_name, s);
        fputs("'\n", s->f);
        if (first == WORDS) {
            fputs("        words='", s->f);
            put_words(s->f, argument);
            fputs("'\n", s->f);
        }
        if (first == WORDS && strchr(argument, ' ')) /* and then a profile */
            fputs("        [ \"$COMP_CWORD\" -eq 2 ] || { words=''; [[ $cur == -* ]] || "
                  "{ _hobble_files -f; _hobble_names ''; }; }\n",
                  s->f);
        else if (first == NAMES || first == FILES)
            fprintf(s->f, "        [[ $cur == -* ]] || { _hobble_files -f%s; }\n",
                    first == NAMES ? "; _hobble_names ''" : "");
        fputs("        ;;\n", s->f);
    }
    fputs(
        "    esac\n    [[ $cur == -* || ( -z $words && ${#COMPREPLY[@]} -eq 0 ) ]] || options=''\n"
        "    _hobble_words \"$words $options\"\n}\ncomplete -F _hobble hobble\n",
        s->f);
}

/* ---- zsh ------------------------------------------------------------------------------------- */

static void zsh_action(FILE *f, const char *argument, const char *option)
{
    switch (value_of(argument)) {
    case WORDS:
        fputs("(", f);
        put_words(f, argument);
        fputs(")", f);
        break;
    case NAMES:
        fprintf(f, " _hobble_names \"%s\"", kind_of(option));
        break;
    case FILES:
        fputs("_files", f);
        break;
    case FOLDERS:
        fputs("_files -/", f);
        break;
    default:
        fputs(" ", f);
        break;
    }
}

static void zsh_option(void *into, const struct argp_option *o)
{
    const struct script *s = into;
    fprintf(s->f, " \\\n            '%s--%s%s[", may_repeat(o->name) ? "*" : "", o->name,
            o->arg ? "=" : "");
    put_short(s->f, o->doc ? o->doc : "");
    fputs("]", s->f);
    if (o->arg) {
        fputs(":value:", s->f);
        zsh_action(s->f, o->arg, o->name);
    }
    fputs("'", s->f);
}

static void zsh(struct script *s)
{
    fputs("#compdef hobble\n# zsh completion of hobble, written by: hobble --completion zsh\n"
          "_hobble_names() {\n    local kind name rest\n    local -a names\n"
          "    while IFS=$'\\t' read -r kind name rest; do\n"
          "        [[ -n $1 && $kind != $1 ]] || names+=($name)\n"
          "    done < <(hobble profile list 2>/dev/null)\n"
          "    compadd -a names\n    _files\n}\n"
          "_hobble() {\n    local -a commands\n    commands=(\n",
          s->f);
    for (size_t i = 0; i < s->count; i++) {
        fprintf(s->f, "        '%s:", s->command[i].name);
        put_short(s->f, s->command[i].about);
        fputs("'\n", s->f);
    }
    fputs(
        "    )\n    if (( CURRENT == 2 )); then\n        _describe command commands\n"
        "        _arguments '--help[the commands]' '--version[versions]'\n        return\n    fi\n"
        "    shift words\n    (( CURRENT-- ))\n    case $words[1] in\n",
        s->f);
    for (size_t i = 0; i < s->count; i++) {
        const char *argument = s->command[i].arguments;
        fprintf(s->f, "    %s)\n        _arguments", s->command[i].name);
        hb_options_each(&s->command[i], zsh_option, s);
        if (argument) {
            const bool more = strchr(argument, ' ') != NULL;
            fprintf(s->f,
                    " \\\n            '%s:word:", value_of(argument) == NAMES && !more ? "*" : "1");
            zsh_action(s->f, argument, NULL);
            fputs("'", s->f);
            if (more)
                fputs(" \\\n            '2:profile: _hobble_names \"\"'", s->f);
        }
        fputs("\n        ;;\n", s->f);
    }
    fputs("    esac\n}\n_hobble \"$@\"\n", s->f);
}

/* ---- fish ------------------------------------------------------------------------------------ */

static void fish_action(FILE *f, const char *argument, const char *option)
{
    switch (value_of(argument)) {
    case WORDS:
        fputs(" -x -a '", f);
        put_words(f, argument);
        fputs("'", f);
        break;
    case NAMES:
        fprintf(f, " -r -F -a '(__hobble_names %s)'", kind_of(option));
        break;
    case FILES:
        fputs(" -r -F", f);
        break;
    case FOLDERS:
        fputs(" -x -a '(__fish_complete_directories)'", f);
        break;
    case FREE:
        fputs(" -x", f);
        break;
    case NO_VALUE:
        break;
    }
}

static void fish_line(const struct script *s)
{
    fprintf(s->f, "complete -c hobble -n '__fish_seen_subcommand_from %s'", s->at->name);
}

static void fish_option(void *into, const struct argp_option *o)
{
    const struct script *s = into;
    fish_line(s);
    fprintf(s->f, " -l %s", o->name);
    if (isalpha(o->key))
        fprintf(s->f, " -s %c", o->key);
    fish_action(s->f, o->arg, o->name);
    fputs(" -d '", s->f);
    put_short(s->f, o->doc ? o->doc : "");
    fputs("'\n", s->f);
}

static void fish(struct script *s)
{
    fputs("# fish completion of hobble, written by: hobble --completion fish\n"
          "function __hobble_names\n"
          "    hobble profile list 2>/dev/null | while read -d \\t kind name rest\n"
          "        test -n \"$argv[1]\" -a \"$kind\" != \"$argv[1]\"; or echo $name\n"
          "    end\nend\n"
          "complete -c hobble -f\n"
          "complete -c hobble -n __fish_use_subcommand -l help -d 'the commands'\n"
          "complete -c hobble -n __fish_use_subcommand -l version -d 'versions'\n",
          s->f);
    for (size_t i = 0; i < s->count; i++) {
        s->at = &s->command[i];
        fprintf(s->f, "complete -c hobble -n __fish_use_subcommand -a %s -d '", s->at->name);
        put_short(s->f, s->at->about);
        fputs("'\n", s->f);
        if (s->at->arguments) {
            fish_line(s);
            fish_action(s->f, s->at->arguments, NULL);
            fputs("\n", s->f);
        }
        hb_options_each(s->at, fish_option, s);
    }
}

int hb_cli_complete(const char *shell, const struct command *command, size_t count)
{
    static const struct {
        const char *name;
        void (*write)(struct script *s);
    } shells[] = {{"bash", bash}, {"zsh", zsh}, {"fish", fish}};
    static struct script s;
    s = (struct script){.f = stdout, .command = command, .count = count};
    for (size_t i = 0; i < sizeof shells / sizeof *shells; i++)
        if (strcmp(shells[i].name, shell) == 0) {
            shells[i].write(&s);
            return hb_cli_finish();
        }
    fputs("hobble: --completion: one of bash, zsh or fish\n", stderr);
    return hobble_status_exit(HOBBLE_E_USAGE);
}
