#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""What stands where in an answer, its numbers apart: layout.py [--write] FILE.txt...

A file holds questions, each "$ COMMAND LINE" and the lines that it prints, with every number as 0 (what numbers
say is read back, see readback.py); "= FROM TO" are lines of the question before. Of a picture that a question writes (X.svg) the labels stand there, of a sheet
or card (X.pdf) the words. It fails on any other line: a sentence that is gone, is new, or stands with another
question than it did. --write (make docs) writes the files anew: read the difference before it is kept.
Source: common practice, none for the layout itself."""
import difflib
import html
import os
import re
import subprocess
import sys

NUMBER = re.compile(r"[0-9]+(?:\.[0-9]+)?(?:e[-+]?[0-9]+)?")


def labels(svg):
    texts = [html.unescape(re.sub(r"<[^>]+>", "", t)).strip() for t in re.findall(r"<text[^>]*>(.*?)</text>", svg, re.S)]
    return [t for t in texts if not re.fullmatch(r"[-\u2212]?[0-9.]*", t)]  # but the ticks of axes


def printed(question):
    """Lines that a question prints and writes, and how it ended where that is no success."""
    done = subprocess.run(["bash", "-c", question], stdin=subprocess.DEVNULL, capture_output=True, text=True,
                          encoding="utf-8")
    lines = done.stdout.splitlines() + done.stderr.splitlines()
    if os.path.exists("X.svg"):
        lines += labels(open("X.svg", encoding="utf-8").read())
        os.unlink("X.svg")
    if os.path.exists("X.pdf"):
        words = subprocess.run(["pdftotext", "-layout", "X.pdf", "-"], capture_output=True, text=True, encoding="utf-8")
        lines += words.stdout.replace("\f", "").splitlines()
        os.unlink("X.pdf")
    lines = [re.sub(r" +", " ", NUMBER.sub("0", line)).rstrip() for line in lines if line.strip()]
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
