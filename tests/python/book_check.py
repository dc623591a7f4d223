"""Outside check of the finished book with two PDF readers that share no code: pypdf (Python) and PDFium.

In:  the terminal program and a folder of plan files. For each plan the program writes its book twice: from the plan
     file, and again from the book itself.
Out: one line for each kind of check with the number of comparisons. Exit status 1 if any fails.

Checks: both readers open the book and count the same pages; every page has text in both, and every solved number
(`turnleaf numbers --json`) that the book prints is found by both; every page's box is A4 or Letter within a tenth of a
point; the plan file carried inside is the only attachment and is a plan; the book made from the book is the same,
byte for byte; lists as CSV, read by Python's csv module, have as many cells in every row as in the first.

    pip install -r tests/python/book_requirements.txt
    python tests/python/book_check.py PROGRAM demo
"""

import csv
import json
import pathlib
import subprocess
import sys
import tempfile

import pypdf
import pypdfium2

# ISO 216 and ANSI/ASME Y14.1, in points of 1/72 in.
PAPERS = [(210 / 25.4 * 72, 297 / 25.4 * 72), (8.5 * 72, 11 * 72)]
counted, failures = {}, []


def check(kind, holds, where):
    counted[kind] = counted.get(kind, 0) + 1
    if not holds:
        failures.append(f"{kind}: {where}")


def folded(text):
    return " ".join(text.replace("\u00a0", " ").split())


def main(program, folder):
    plans = sorted(pathlib.Path(folder).glob("*.json"))
    with tempfile.TemporaryDirectory() as work:
        work = pathlib.Path(work)
        for plan in plans:
            run = lambda *words: subprocess.run([program, *map(str, words)], check=True, capture_output=True).stdout
            first, second = work / f"{plan.stem}.pdf", work / f"{plan.stem}-again.pdf"
            run("book", plan, "-o", first)
            run("book", first, "-o", second)
            check("a book made from a book is the same", first.read_bytes() == second.read_bytes(), plan.stem)
            one, two = pypdf.PdfReader(first), pypdfium2.PdfDocument(first)
            check("both readers count the same pages", len(one.pages) == len(two), plan.stem)
            texts = ([], [])
            for k in range(len(two)):
                box = one.pages[k].mediabox
                sides = sorted((float(box.width), float(box.height)))
                near = any(abs(sides[0] - w) < 0.1 and abs(sides[1] - h) < 0.1 for w, h in PAPERS)
                check("pages are A4 or Letter", near, f"{plan.stem} page {k + 1}: {sides}")
                page = two[k].get_textpage().get_text_bounded()
                texts[0].append(one.pages[k].extract_text())
                texts[1].append(page)
                check("pages have text", bool(texts[0][k].strip()) and bool(page.strip()), f"{plan.stem} page {k + 1}")
            texts = [folded(" ".join(t)) for t in texts]
            # Blanks may be lost between pieces of a line; digits and signs may not.
            bare = [t.replace(" ", "") for t in texts]
            for number in json.loads(run("numbers", plan, "--json")):
                if number["unit"] != "mm":
                    continue
                wanted = number["text"].split(" (")[0].replace("\u00a0", " ").replace(" ", "")
                for name, text in zip(("pypdf", "PDFium"), bare):
                    check("solved numbers are found", wanted in text, f"{plan.stem} {name}: {number['id']} {wanted}")
            files = one.attachments
            check("one plan is carried", len(files) == 1, f"{plan.stem}: {list(files)}")
            for contents in files.values():
                check("what is carried is a plan", json.loads(contents[0])["format"] == "turnleaf-plan", plan.stem)
            lists = work / f"{plan.stem}-lists"
            run("lists", plan, "--csv", lists)
            for file in sorted(lists.glob("*.csv")):
                rows = list(csv.reader(file.open(encoding="utf-8", newline="")))
                check("rows of lists are whole", len({len(r) for r in rows}) == 1, f"{plan.stem} {file.name}")
    for kind, count in counted.items():
        print(f"{kind}: {count}")
    for failure in failures:
        print(f"FAILED {failure}")
    if failures or not plans:
        sys.exit(1)


main(sys.argv[1], sys.argv[2])
