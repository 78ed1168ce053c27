"""Opens what `runnel ... --format html` prints in Chromium: pages_test.py RUNNEL SOURCE_DIR

Looked at: the console, requests, widths, what is largest, contrast, names as text, every figure
against the JSON output, and how many sheets of paper it takes. Says what is wrong and ends with 1.
"""

import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
import xml.dom.minidom

from browser import Browser

sys.path.insert(0, os.path.join(sys.argv[2], "tests/outputs"))
from runs import RUN_BY_HAND, Runs

WIDTHS_PX = (360, 768, 1280)
PAPERS_IN = {"A4": (8.27, 11.69), "Letter": (8.5, 11.0)}  # ISO 216; ANSI/ASME Y14.1
LEAST_CONTRAST = 4.5  # WCAG 2.1, success criterion 1.4.3

POINTED = """[...document.querySelectorAll('[data-json]')].filter(e => e.localName != 'g').map(
  e => [e.dataset.json, e.textContent, e.localName == 'data' ? e.value : null])"""
TOO_WIDE = """[...document.querySelectorAll('body *')].filter(
  e => e.getBoundingClientRect().right > document.documentElement.clientWidth + 0.5 &&
       !e.closest('.names')).map(e => e.outerHTML.slice(0, 80))"""
SIZES = """(() => { const size = e => parseFloat(getComputedStyle(e).fontSize);
  const all = [...document.querySelectorAll('body *')].filter(
    e => !e.closest('td.minutes') && e.getClientRects().length > 0);
  return [Math.min(...[...document.querySelectorAll('td.minutes:not(.off)')].map(size)),
          Math.max(...all.map(size))]; })()"""
COLOURS = """(() => { const of = e => getComputedStyle(e);
  const own = e => !['title', 'desc'].includes(e.localName) && [...e.childNodes].some(n => n.nodeType == 3 && n.data.trim());
  const paper = of(document.documentElement).backgroundColor;
  return [...new Set([...document.querySelectorAll('body *')].filter(own).map(
    e => (e.namespaceURI.endsWith('svg') ? of(e).fill : of(e).color) + ' on ' + paper))]; })()"""
NAMES = "[...document.querySelectorAll('bdi')].map(e => e.textContent)"

faults = []


def check(good, *says):
    if not good:
        faults.append(" ".join(str(part) for part in says))
        print("FAULT:", faults[-1])


def rounded(value, like):
    """The value with as many decimals as the text shows."""
    decimals = len(like.partition(".")[2])
    text = f"{value:.{decimals}f}"
    return text[1:] if float(text) == 0 and text.startswith("-") else text


def at_pointer(document, pointer):
    for step in pointer.split("/")[1:]:
        document = document[int(step)] if isinstance(document, list) else document[step]
    return document


def luminance(colour):  # WCAG 2.1, "relative luminance"
    parts = [int(part) / 255 for part in re.findall(r"\d+", colour)[:3]]
    red, green, blue = (p / 12.92 if p <= 0.03928 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(pair):
    lighter, darker = sorted(map(luminance, pair.split(" on ")), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


class Sheet:
    def __init__(self, name, folder, runnel, arguments):
        self.name = name
        self.path = os.path.join(folder, name + ".html")
        output = {form: subprocess.run([runnel, *arguments, "--format", form],
                                       capture_output=True, check=False)
                  for form in ("html", "json")}
        for form, result in output.items():
            check(result.returncode in (0, 1), name, form, result.stderr.decode())
        self.json = json.loads(output["json"].stdout)
        with open(self.path, "wb") as file:
            file.write(output["html"].stdout)
        xml.dom.minidom.parseString(
            output["html"].stdout.decode().removeprefix("<!DOCTYPE html>"))

    def names(self):
        return [self.json["garden"]] + [zone["zone"] for zone in self.json["zones"]]

    def check_loading(self, browser):
        browser.open(self.path)
        kinds = [event["method"] for event in browser.events]
        for kind in ("Log.entryAdded", "Runtime.consoleAPICalled", "Runtime.exceptionThrown",
                     "Page.javascriptDialogOpening"):
            check(kind not in kinds, self.name, kind, browser.events)
        requested = [event["params"]["request"]["url"] for event in browser.events
                     if event["method"] == "Network.requestWillBeSent"]
        check([url for url in requested if not url.startswith("data:")] ==
              ["file://" + self.path], self.name, "requests:", requested)

    def check_screens(self, browser):
        for width in WIDTHS_PX:
            for dark in (False, True):
                browser.width(width)
                browser.dark(dark)
                self.check_loading(browser)
                where = (self.name, "at", width, "dark" if dark else "light")
                scroll = browser.evaluate("document.documentElement.scrollWidth")
                check(scroll <= width, *where, "scrolls:", scroll)
                check(browser.evaluate(TOO_WIDE) == [], *where, browser.evaluate(TOO_WIDE))
                browser.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
                check(browser.evaluate(TOO_WIDE) == [], *where, browser.evaluate(TOO_WIDE))
                least, others = browser.evaluate(SIZES)
                check(least > others, *where, "minutes", least, "px, others", others)
                for pair in browser.evaluate(COLOURS):
                    check(contrast(pair) >= LEAST_CONTRAST, *where, pair, contrast(pair))

    def check_words(self, browser):
        pointed = browser.evaluate(POINTED)
        check(len(pointed) > 50, self.name, "figures:", len(pointed))
        for pointer, shown, value in pointed:
            exact = at_pointer(self.json, pointer)
            if isinstance(exact, str):
                check(shown == exact, self.name, pointer, shown)
            else:
                check(shown == rounded(exact, shown), self.name, pointer, shown, exact)
                check(value is None or float(value) == exact, self.name, pointer, value)
        shown = browser.evaluate(NAMES)
        for name in self.names():
            check(name in shown, self.name, "does not show", name)
        print(f"{self.name}: {len(pointed)} figures and texts as in the JSON")

    def check_paper(self, browser, pages):
        for paper, size in PAPERS_IN.items():
            found = len(re.findall(rb"/Type\s*/Page[^s]", browser.pdf(*size)))
            print(f"{self.name}: {found} printed on {paper}")
            check(pages is None or found == pages, self.name, "takes", found, "sheets of", paper)
        browser.call("Emulation.setEmulatedMedia", media="print")
        least, others = browser.evaluate(SIZES)
        check(least > others, self.name, "on paper: minutes", least, "px, others", others)
        browser.call("Emulation.setEmulatedMedia", media="")

    def check_all(self, browser, pages):
        self.check_screens(browser)
        self.check_words(browser)
        self.check_paper(browser, pages)


def look_again(runnel, source, folder, hours=None):
    """The garden of eight valves after three days hotter than its plan took them.

    hours: of watering, from then on; too few of them for all valves."""
    own = os.path.join(folder, "again-short" if hours else "again")
    shutil.copytree(os.path.join(source, "tests/pages/eight"), own)
    garden = os.path.join(own, "garden.yaml")
    subprocess.run([runnel, "plan", garden, "--save", garden + ".monday"], check=True,
                   capture_output=True)
    with open(os.path.join(own, "happened.csv"), encoding="utf-8") as happened, \
            open(os.path.join(own, "weather.csv"), "a", encoding="utf-8") as weather:
        weather.writelines(line for line in happened if line.startswith("2027"))
    os.replace(os.path.join(own, "expected.csv"), os.path.join(own, "forecast.csv"))
    if hours:
        change_hours(garden, garden, hours)
    return garden


def change_hours(garden, to, hours):
    with open(garden, encoding="utf-8") as file:
        text = file.read()
    with open(to, "w", encoding="utf-8") as file:
        file.write(text.replace('["04:00-09:00", "20:00-23:00"]', hours))


def main(runnel, source):
    with tempfile.TemporaryDirectory() as folder:
        own = os.path.join(folder, "eight")
        shutil.copytree(os.path.join(source, "tests/pages/eight"), own)
        garden = os.path.join(own, "garden.yaml")
        short = os.path.join(own, "short.yaml")
        change_hours(garden, short, '["06:00-07:10"]')  # too little time for all eight
        again = look_again(runnel, source, folder)
        again_short = look_again(runnel, source, folder, '["06:00-07:10"]')
        heat = Runs(runnel, source, tempfile.mkdtemp(dir=folder)).folder + "/story"
        examples = os.path.join(source, "examples")
        browser = Browser()
        try:
            for name, arguments in {
                    "eight": ["plan", garden],
                    "eight-short": ["plan", short],
                    "eight-compare": ["compare", garden],
                    "eight-again": ["replan", again, "--after", again + ".monday"],
                    "eight-again-short": ["replan", again_short, "--after",
                                          again_short + ".monday"],
                    "heatwave": ["replan", heat + "/garden.yaml", "--after",
                                 heat + "/monday.yaml"],
                    "heatwave-after": ["plan", heat + "/garden.yaml", "--after",
                                       heat + "/wednesday.yaml", "--from", RUN_BY_HAND],
                    "away": ["plan", examples + "/terrace/away.yaml", "--until", "2027-08-08"],
                    "eight-away": ["plan", garden, "--until", "2027-07-25"],
                    "terrace": ["plan", examples + "/terrace/garden.yaml"],
                    "short-morning": ["plan", examples + "/terrace/short-morning.yaml"],
                    "kitchen": ["plan", examples + "/kitchen/garden.yaml"]}.items():
                Sheet(name, folder, runnel, arguments).check_all(browser, pages=1)
        finally:
            browser.close()
    print("no fault" if not faults else f"{len(faults)} faults")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
