#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""What stands where in an answer, its numbers apart: layout.py [--write] FILE.txt...

A file holds questions, each "$ COMMAND LINE" and the lines that it prints, with every number as 0 (what numbers
say is read back, see readback.py); "= FROM TO" are lines of the question before. Of a picture that a question
writes (X.svg) the commands to gnuplot stand there, which run.sh keeps, without what is computed; of a sheet or
card (X.pdf) its lines with their places in points, and whatever else is drawn. It fails on any other line: a
sentence that is gone, is new, or stands with another question than it did. --write (make docs) writes the files
anew: read the difference before it is kept. Source: common practice, none for the layout itself."""
import difflib
import html
import json
import math
import os
import re
import subprocess
import sys

NUMBER = re.compile(r"[0-9]+(?:\.[0-9]+)?(?:e[-+]?[0-9]+)?")


def beyond(line, data, axes):
    """Whether what a plot line shows lies beyond an axis, or takes less than a third of it."""
    shown = {}
    for name, columns in re.findall(r"(\$\w+) using (\d+(?::\d+)+)", line):
        for axis, column in zip("xyy", map(int, columns.split(":"))):
            shown.setdefault(axis, []).extend(float(row[column - 1]) for row in data[name]
                                              if len(row) >= column and row[column - 1] != "NaN")
    for axis, values in shown.items():
        least, most = axes.get(axis, (-math.inf, math.inf))
        if values and math.isfinite(most - least):
            rounding = 1e-5 * max(abs(least), abs(most))  # an axis has six digits
            if min(values) < least - rounding or max(values) > most + rounding:
                yield "beyond the axis: " + axis
            if 3 * (max(values) - min(values)) < most - least:
                yield "in little of the axis: " + axis


def lists(node, path=""):
    """Every list of numbers in an answer, also that of a key in a list of objects, with its name."""
    if isinstance(node, dict):
        for key, value in node.items():
            yield from lists(value, path + "." + key if path else key)
    elif isinstance(node, list) and node and all(isinstance(item, dict) for item in node):
        for key in node[0]:
            yield from lists([item.get(key) for item in node], path + "." + key)
    elif isinstance(node, list) and all(isinstance(item, (int, float)) for item in node):
        yield path, node


def named(column, answer):
    """The answer's list that a column of data shows, whatever its unit; "?" where the answer has none."""
    values = [float(v) for v in column]
    turns = (lambda v: v, lambda v: 100.0 * v, lambda v: v / 1.609344, lambda v: 1.8 * v + 32.0,
             lambda v: max(v, 1.0), lambda v: max(v, 1.0) / 1.609344)  # mile: 1959; an axis of powers begins at a km
    return next((path for path, numbers in lists(answer) if len(numbers) == len(values) > 2 for turn in turns
                 if all(math.isclose(turn(n), v, rel_tol=1e-6) for n, v in zip(numbers, values))), "?")


def told(block, rows, answer):
    columns = list(zip(*rows)) if rows and all(len(row) == len(rows[0]) for row in rows) else []
    return "%s: %d columns: %s" % (block, len(rows[0]) if rows else 0, ", ".join(named(c, answer) for c in columns))


def script(answer):
    """The commands for a picture. Texts lose their numbers, and so does what goes by the computed values: places
    on the axes, ranges, tics and levels; a block of data is told by the answer's
    lists that it shows, and whether it fits its axes."""
    lines, data, block, axes = [], {}, None, {}
    for line in open("X.gp", encoding="utf-8").read().splitlines():
        if block is not None:
            if line == "EOD":
                lines.append(told(block, data[block], answer))
                block = None
            else:
                data[block].append(line.split())
            continue
        if line.endswith("<< EOD"):
            block = line.split()[0]
            data[block] = []
            continue
        axes.update((axis, (float(least), float(most)))
                    for axis, least, most in re.findall(r"([xy])range \[([-0-9.e]+):([-0-9.e]+)\]", line))
        if line.startswith("plot "):
            lines += beyond(line, data, axes)
        line = re.sub(r"'([^#,'][^']*)'", lambda m: "'%s'" % NUMBER.sub("0", m.group(1)), line)
        line = re.sub(r"\[[-0-9.e]+:[-0-9.e]+\]", "[]", line)
        line = re.sub(r"(first )[-0-9.e]+", r"\1_", line)
        line = re.sub(r"(graph )0\.[0-9]+", r"\1_", line)  # beside a curve; 0, 1 and beyond are chosen
        lines.append(re.sub(r"((?:tics|discrete|levels) )[-0-9.,e ]+", r"\1_", line))
    return lines


def run(*words):
    return subprocess.run(words, capture_output=True, text=True, encoding="utf-8").stdout


def drawn(pdf):
    """Of every page the lines of text, with left, top and height, and all that is drawn beside them."""
    lines = []
    for number, page in enumerate(run("pdftotext", "-bbox-layout", pdf, "-").split("<page ")[1:], 1):
        lines.append("page " + " by ".join("%.0f" % float(v) for v in re.findall(r'(?:width|height)="([^"]*)"', page)[:2]))
        for place, inside in re.findall(r"<line ([^>]*)>(.*?)</line>", page, re.S):
            left, top, _, bottom = (float(v) for v in re.findall(r'"([^"]*)"', place))
            words = html.unescape(" ".join(re.findall(r">([^<]+)</word>", inside)))
            lines.append("%.0f %.0f %.0f: %s" % (left, top, bottom - top, NUMBER.sub("0", words)))
        run("pdftocairo", "-svg", "-f", str(number), "-l", str(number), pdf, "page.svg")
        svg = re.sub(r"<defs>.*?</defs>", "", open("page.svg", encoding="utf-8").read(), flags=re.S)
        for inside in re.findall(r"<(?:path|rect|image)\b([^>]*)>", svg):
            style = re.search(r'style="([^"]*)"', inside)
            kept = [v for v in (style.group(1).strip("; ").split(";") if style else []) if re.match(r"\s*(?:fill|stroke|stroke-width):", v)]
            points = re.search(r'\bd="([^"]*)"', inside)
            way = re.sub(r"[0-9.]+", lambda m: "%.0f" % float(m.group()), points.group(1).strip()) if points else ""
            lines.append("%s %s" % (",".join(v.strip() for v in kept), way if len(way) < 200 else way[:200] + " ..."))
    return lines


def printed(question):
    """Lines that a question prints and writes, and how it ended where that is no success."""
    done = subprocess.run(["bash", "-c", question], stdin=subprocess.DEVNULL, capture_output=True, text=True,
                          encoding="utf-8")
    here = os.environ["TOP_SRCDIR"]
    lines = [NUMBER.sub("0", line.replace(here, "$src")) for line in done.stdout.splitlines() + done.stderr.splitlines()]
    asked = question.replace("--plot X.svg", "--json")
    answer = json.loads(run("bash", "-c", asked)) if asked != question else {}
    for name, look in (("X.gp", lambda: script(answer)), ("X.pdf", lambda: drawn("X.pdf"))):
        if os.path.exists(name):
            lines += look()
            os.unlink(name)
    lines = [re.sub(r" +", " ", line).rstrip() for line in lines if line.strip()]
    return lines + (["status %d" % done.returncode] if done.returncode else [])


def read(path):
    """Comments at the head; then (question, lines) in turn."""
    head, blocks, before = [], [], []
    for line in open(path, encoding="utf-8").read().splitlines():
        if line.startswith("$ "):
            before = blocks[-1][1] if blocks else []
            blocks.append((line[2:], []))
        elif line.startswith("= "):
            start, end = map(int, line.split()[1:])
            blocks[-1][1].extend(before[start - 1:end])
        elif blocks:
            blocks[-1][1].append(line.removeprefix("| "))
        else:
            head.append(line)
    return head, blocks


def written(lines, before):
    """What of the answer before stands here again is not written out."""
    out = []
    for what, a, b, c, d in difflib.SequenceMatcher(None, before, lines, autojunk=False).get_opcodes():
        if what == "equal" and b - a > 2:
            out.append("= %d %d" % (a + 1, b))
        else:
            out += ["| " + line for line in lines[c:d]]
    return out


def differs(then, now):
    gone, new = [l for l in then if l not in now], [l for l in now if l not in then]
    return ["gone: " + l for l in gone] + ["new: " + l for l in new] + ([] if gone or new else ["another order"])


def main():
    write = sys.argv[1:2] == ["--write"]
    asked = failed = 0
    for path in sys.argv[1 + write:]:
        head, blocks = read(path)
        now = [(question, printed(question)) for question, _ in blocks]
        asked += len(blocks)
        if write:
            with open(path, "w", encoding="utf-8") as file:
                print(*head, sep="\n", file=file)
                for (question, lines), (_, before) in zip(now, [("", [])] + now):
                    print("$ " + question, *written(lines, before), sep="\n", file=file)
            continue
        for (question, then), (_, lines) in zip(blocks, now):
            if then != lines:
                failed += 1
                print("fault: %s: %s" % (os.path.basename(path), question), *differs(then, lines), sep="\n    ")
    print("%d questions, %d faults" % (asked, failed))
    return not asked or bool(failed)


sys.exit(main())
