#!/usr/bin/python3 -B
"""Opens the program's pages in a headless Chromium, as a phone and as a desktop would show them.

  pages_test.py [--axe FILE] PROGRAM... -- COMMAND...

PROGRAM... is the program as words of a command; COMMAND... the commands whose pages are tested, or
`all`. With --axe, the path of axe-core's script (a public set of accessibility rules), its rules are asked too.
"""
import json
import os
import re
import subprocess
import sys
import tempfile
import unittest

from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

from browser import Browser

HERE = os.path.dirname(os.path.abspath(__file__))
PLANS = os.path.join(HERE, "..", "..", "datasets", "plans")
RECORDS = os.path.join(HERE, "..", "..", "datasets", "records")
DEMO = os.path.join(PLANS, "two-forest-camps.toml")
QUESTIONS = open(os.path.join(HERE, "questions.js"), encoding="utf-8").read()

PHONE, DESKTOP = 390, 1280
A4, LETTER = (8.27, 11.69), (8.5, 11.0)  # inches

HOSTILE = {
    "markup": "</script><script>alert(1)</script><img src=x onerror=alert(2)><h1>",
    "quotes": "\"double\" 'single' `back` \\ {{data}} ${x} -->",
    "right to left": "\u202eesrever \u05dc\u05d9\u05d3 \u05d4\u05e0\u05d4\u05e8 \u0645\u062e\u064a\u0645",
    "emoji": "\u26fa\U0001F32B\ufe0f\U0001F468\u200d\U0001F469\u200d\U0001F467 camp",
    "long": "a very long title " * 556,  # 10,000 characters
    "one long word": "w" * 10_000,
}

program = []
axe = None


def page_and_json(arguments, title=None):
    """The page and the JSON of one run."""
    folder = tempfile.mkdtemp(dir=workplace)
    page, result = os.path.join(folder, "page.html"), os.path.join(folder, "result.json")
    setting = [] if title is None else ["--set", "title=" + json.dumps(title, ensure_ascii=False)]
    subprocess.run([*program, *arguments, *setting, "--html", page, "--json", result], check=True,
                   stdout=subprocess.DEVNULL)
    with open(result, encoding="utf-8") as file:
        return page, json.load(file)


def numbers(cell):
    """Numbers of a table's cell with the decimals that each is printed to."""
    found = re.findall(r"[-\u2212+]?\d[\d,]*(?:\.\d+)?", cell)
    return [(float(text.replace(",", "").replace("\u2212", "-")),
             len(text.partition(".")[2])) for text in found]


def share(s, climate=False):
    return [100 * s["climate_low"], 100 * s["climate_high"]] if climate else [100 * s["p"]]


def interval(s):
    return [100 * s["low"], 100 * s["high"]]


class Pages:
    """What holds for the page of every command; `command` and `arguments` say which."""
    sheets = None  # A4 or letter pages that it prints on, at most

    @classmethod
    def setUpClass(cls):
        cls.page, cls.result = page_and_json(cls.arguments)
        cls.looks = {}

    def open(self, width, **how):
        browser.open(how.pop("page", self.page), width, **how)

    def ask(self, question):
        return browser.ask(QUESTIONS + f"; return questions.{question}();")

    def look(self, width, dark=False):
        """What the page is like in such a window; it is opened once for all who ask."""
        if (width, dark) not in self.looks:
            self.open(width, dark=dark)
            self.looks[width, dark] = {
                "console": browser.console(), "requests": browser.requests(),
                **{question: self.ask(question) for question in
                   ("charts", "tables", "outline", "overflow", "small_targets", "faint")}}
        return self.looks[width, dark]

    def test_charts_are_drawn_and_nothing_is_loaded_or_complained_of(self):
        for width in (PHONE, DESKTOP):
            for dark in (False, True):
                with self.subTest(width=width, dark=dark):
                    look = self.look(width, dark)
                    charts = look["charts"]
                    self.assertEqual({c["id"][:-len("-chart")] for c in charts},
                                     set(self.charts()))
                    for chart in charts:
                        self.assertTrue(chart["shown"], chart["id"])
                        self.assertTrue(chart["inside"], chart["id"])
                        self.assertGreater(chart["inked"], 0.01, chart["id"])
                        self.assertGreater(chart["colours"], 3, chart["id"])
                        self.assertGreater(len(chart["label"]), 5)
                        self.assertGreater(len(chart["says"]), 20)
                    self.assertEqual(look["console"], [])
                    self.assertEqual(look["requests"], [])

    def test_charts_draw_the_numbers_of_the_json(self):
        drawn = {c["id"][:-len("-chart")]: {s["label"]: s["data"] for s in c["sets"]}
                 for c in self.look(DESKTOP)["charts"]}
        for chart, sets in self.charts().items():
            for label, expected in sets.items():
                with self.subTest(chart=chart, set=label):
                    got = [v["y"] if isinstance(v, dict) else v for v in drawn[chart][label]]
                    self.assertEqual(len(got), len(expected))
                    for a, b in zip(got, expected):
                        if b is None:
                            self.assertIsNone(a)
                        else:  # pages hold six digits
                            self.assertAlmostEqual(a, b, delta=5.01e-6 * abs(b) + 1e-12)

    def test_tables_round_the_numbers_of_the_json(self):
        shown = self.look(DESKTOP)["tables"]
        for table, rows in self.tables().items():
            self.assertEqual(len(shown[table]), len(rows), table)
            for i, row in enumerate(rows):
                for column, expected in row.items():
                    with self.subTest(table=table, row=i, column=column):
                        cell = shown[table][i][column]
                        if expected is None:
                            self.assertEqual(cell, "\u2013")
                            continue
                        got = numbers(cell)
                        self.assertEqual(len(got), len(expected), cell)
                        for (value, decimals), right in zip(got, expected):
                            self.assertAlmostEqual(value, right,
                                                   delta=0.5 * 10.0 ** -decimals + 1e-9, msg=cell)

    def test_a_title_of_any_kind_is_text(self):
        tame = self.look(DESKTOP)["outline"]
        for kind, title in HOSTILE.items():
            with self.subTest(kind):
                page, _ = page_and_json(self.arguments, title)
                self.open(PHONE, page=page)
                hostile = self.ask("outline")
                self.assertEqual(hostile["scripts"], tame["scripts"])
                self.assertEqual(hostile["images"], tame["images"])
                self.assertEqual([level for level, _ in hostile["headings"]],
                                 [level for level, _ in tame["headings"]])
                self.check_title(title, hostile)
                self.assertLessEqual(self.ask("overflow"), 0)
                self.assertTrue(all(c["shown"] and c["inside"] for c in self.ask("charts")))
                self.assertEqual(browser.console(), [])
                self.assertLess(os.path.getsize(page), 400_000)

    def check_title(self, title, outline):
        kept = " ".join(title[:80].split())
        self.assertTrue(outline["title"].startswith(kept[:40]), outline["title"])
        self.assertTrue(outline["headings"][0][1].startswith(kept[:40]), outline["headings"][0])

    def test_it_fits_its_window(self):
        for width in (320, PHONE, 768, DESKTOP):  # 320: reflow, WCAG 2.2, 1.4.10
            with self.subTest(width):
                self.assertLessEqual(self.look(width)["overflow"], 0)
                self.assertEqual(self.look(width)["small_targets"], 0)

    def test_it_is_outlined_for_those_who_listen(self):
        outline = self.look(PHONE)["outline"]
        self.assertEqual(outline["lang"], "en")
        self.assertEqual(outline["landmarks"], [1, 1, 1])
        self.assertEqual(outline["unnamed"], 0)
        self.assertEqual(outline["untitled"], 0)
        self.assertEqual(len(outline["ids"]), len(set(outline["ids"])))
        levels = [level for level, _ in outline["headings"]]
        self.assertEqual(levels.count(1), 1)
        self.assertTrue(all(b <= a + 1 for a, b in zip(levels, levels[1:])), levels)
        second = [text for level, text in outline["headings"] if level == 2]
        self.assertEqual(second[1:], ["What to do", "Why", "What it does not know", "Cautions"])

    def test_its_colours_can_be_told_apart(self):
        for dark in (False, True):
            with self.subTest(dark=dark):
                self.assertEqual(self.look(DESKTOP, dark)["faint"], [])

    def test_a_keyboard_reaches_all_in_the_order_of_the_page(self):
        self.open(DESKTOP)
        expected = self.ask("reachable")
        self.assertGreater(len(expected), 2)
        reached = []
        for _ in range(len(expected)):
            browser.driver.switch_to.active_element.send_keys(Keys.TAB)
            focus = self.ask("focused")
            self.assertTrue(focus["outlined"])
            reached.append(focus["at"])
        self.assertEqual(reached, expected)
        summary = browser.driver.find_element(By.CSS_SELECTOR, "details > summary")
        is_open = lambda: summary.find_element(By.XPATH, "..").get_attribute("open") is not None
        before = is_open()
        summary.send_keys(Keys.ENTER)
        self.assertNotEqual(is_open(), before)

    def test_it_reads_with_scripts_off(self):
        self.open(PHONE, scripts=False)
        text = browser.text()
        for part in (self.result["verdict"].split(". ")[0], "What to do", "Cautions",
                     *self.result["notes"][:2]):
            self.assertIn(" ".join(part.split()), text)
        self.assertFalse(any(browser.shown("canvas")))
        self.assertTrue(all(browser.shown("summary")))
        self.assertEqual(browser.requests(), [])

    def test_it_prints_on_few_sheets(self):
        if self.sheets is None:
            self.skipTest("as many sheets as its places take")
        for size in (A4, LETTER):
            self.open(DESKTOP)
            self.assertLessEqual(browser.printed_pages(*size), self.sheets)

    def test_public_accessibility_rules_hold(self):
        if not axe:
            self.skipTest("asked with --axe only")
        for width, dark in ((PHONE, False), (DESKTOP, True)):
            self.open(width, dark=dark)
            browser.ask("document.querySelectorAll('details').forEach(d => d.open = true);")
            browser.ask(axe)
            found = browser.driver.execute_async_script(
                "const done = arguments[0]; axe.run().then(r => done(r.violations.map("
                "v => v.id + ': ' + v.nodes.map(n => n.target).join(' | '))));")
            self.assertEqual(found, [])


class Run(Pages, unittest.TestCase):
    arguments = ["run", DEMO, "--stays", "2000", "--doubt"]
    sheets = 3

    def charts(self):
        r = self.result
        hours = [step for step in r["generator"]["hours_histogram"]]
        while len(hours) > 1 and hours[-1]["share"] == 0:
            hours.pop()
        day = r["energy_wh_per_day"]
        uses = [line["wh_per_day"] for line in r["budget"]] + [day["draw"]]
        supplies = [day["panels"], day["vehicle"]]
        along = r["generator"]["days"]
        return {
            "risk": {"flat by then": [100 * d["flat_by_day"]["p"] for d in r["days"]],
                     "flat that day": [100 * d["flat_on_day"]["p"] for d in r["days"]],
                     "you accept": [100 * r["plan"]["accept_risk"]] * len(r["days"])},
            "risk-along": {"flat by then": [100 * d["flat_by_day"]["p"] for d in along],
                           "flat that day": [100 * d["flat_on_day"]["p"] for d in along],
                           "you accept": [100 * r["plan"]["accept_risk"]] * len(along)},
            "charge": {"typical stay": [100 * h["soc"]["p50"] for h in r["hours"]]},
            "charge-along": {"typical stay": [100 * h["soc_along"]["p50"] for h in r["hours"]]},
            "generator": {"share of stays": [100 * step["share"] for step in hours]},
            "budget": {"uses": uses + [None] * len(supplies),
                       "supplies": [None] * len(uses) + supplies},
            "guesses": {"share of the doubt":
                        [100 * p["share_of_doubt"] for p in r["guesses"]["parts"]]
                        + [100 * r["guesses"]["rest"]]},
        }

    def tables(self):
        r = self.result
        low = lambda d, q: None if d["morning_low_soc"] is None else [100 * d["morning_low_soc"][q]]
        fuel, day = r["generator"]["fuel_l"], r["energy_wh_per_day"]
        spread = lambda s: {1: [s["p50"]], 2: [s["p90"]], 3: [s["p99"]], 4: [s["mean"]]}
        both = [r["stay"], r["generator"]["stay"]]
        return {
            "stay": [spread(stay[name]) for stay in both
                     for name in ("flat_nights", "flat_h", "missing_wh")],
            "risk": [{1: share(d["flat_on_day"]), 2: interval(d["flat_on_day"]),
                      3: share(d["flat_by_day"]), 4: interval(d["flat_by_day"]),
                      5: share(d["flat_by_day"], climate=True), 6: low(d, "p50"),
                      7: low(d, "p05")} for d in r["days"]],
            "charge": [{c: [100 * h["soc"][q]] for c, q in
                        enumerate(("p05", "p25", "p50", "p75", "p95"), start=1)}
                       for h in r["hours"]],
            "fuel": [{}, {1: [fuel["p50"]], 2: [fuel["p90"]], 3: [fuel["p99"]]}, {}, {}, {}],
            "budget": [{1: [line["wh_per_day"]]} for line in r["budget"]]
                      + [{1: [day["draw"]]}, {1: [day["panels"]]}, {1: [day["panels_dull_day"]]},
                         {1: [day["panels_clear_day"]]},
                         {1: [day["panels"] + day["shade_takes"]]}, {1: [day["vehicle"]]}],
            "camps": [{1: [c["draw"]], 2: [c["panels"] + c["vehicle"]],
                       3: [c["panels"] + c["vehicle"] - c["draw"]]} for c in day["camps"]],
        }


def risk_cells(risk, first=2):
    """Flat, sampling and climate of a table's row, from column `first` on."""
    flat = risk["flat"]
    return {first: share(flat), first + 1: interval(flat),
            first + 2: None if flat["climate_low"] is None else share(flat, climate=True)}


class Calendar(Pages, unittest.TestCase):
    arguments = ["calendar", DEMO, "--stays", "400"]
    sheets = 2

    def charts(self):
        weeks = self.result["weeks"]
        accepted = [100 * self.result["plan"]["accept_risk"]] * len(weeks)
        return {
            "weeks": {"flat": [100 * w["flat"]["p"] for w in weeks], "you accept": accepted},
            "along": {"flat": [100 * w["generator"]["flat"]["p"] for w in weeks],
                      "you accept": accepted},
            "hours": {"on average": [w["generator"]["hours_mean"] for w in weeks],
                      "1 in 10": [w["generator"]["hours_p90"] for w in weeks]},
        }

    def tables(self):
        weeks = self.result["weeks"]
        hours = lambda w, first: {first: [w["generator"]["hours_mean"]],
                                  first + 1: [w["generator"]["hours_p90"]]}
        return {
            "weeks": [{**risk_cells(w), 5: share(w["generator"]["flat"]), **hours(w, 6)}
                      for w in weeks],
            "along": [risk_cells(w["generator"]) for w in weeks],
            "hours": [hours(w, 1) for w in weeks],
        }


class Where(Pages, unittest.TestCase):
    arguments = ["where", DEMO, "--stays", "400", "--box", "32,-120,42,-110", "--top", "7"]

    def charts(self):
        places, word = self.result["places"], {"yes": "works", "close": "close", "no": "no"}
        plot = {"the plan's camps": [c["latitude"] for c in self.result["plan"]["camp"]]}
        for stands in word:
            group = [p["latitude"] for p in places if p["holds"] == stands]
            plot[f"{word[stands]}: {len(group)}"] = group
        return {"map": plot, "places": {"flat": [100 * p["flat"]["p"] for p in places[:7]]}}

    def tables(self):
        places = self.result["places"]
        return {
            "map": [{1: share(p["flat"]), 2: interval(p["flat"]),
                     3: share(p["generator"]["flat"])} for p in places],
            "places": [{**risk_cells(p), 5: share(p["generator"]["flat"]),
                        6: [p["generator"]["hours_mean"]]} for p in places[:7]],
        }

    def scales(self):
        return browser.ask("""
            const {chartArea: a, scales: {x, y}} = Chart.getChart("map-chart");
            const middle = (y.min + y.max) / 2 * Math.PI / 180;
            return {east: (a.right - a.left) / (x.max - x.min) / Math.cos(middle),
                    north: (a.bottom - a.top) / (y.max - y.min), width: x.max - x.min,
                    inside: Chart.getChart("map-chart").data.datasets.flatMap(set => set.data).every(
                        p => p.x >= x.min && p.x <= x.max && p.y >= y.min && p.y <= y.max)};""")

    def test_a_mile_is_as_long_to_the_east_as_to_the_north(self):
        for width in (320, PHONE, DESKTOP):
            with self.subTest(width):
                self.open(width)
                scales = self.scales()
                self.assertTrue(scales["inside"])
                self.assertAlmostEqual(scales["east"] / scales["north"], 1.0, delta=0.01)

    def test_the_plot_can_be_seen_closer_and_wider(self):
        self.open(PHONE)
        whole = self.scales()
        press = lambda name: browser.driver.find_element(
            By.XPATH, f"//button[text()='{name}']").click()
        press("Zoom in")
        closer = self.scales()
        self.assertLess(closer["width"], 0.75 * whole["width"])
        self.assertAlmostEqual(closer["east"] / closer["north"], 1.0, delta=0.01)
        press("All")
        self.assertAlmostEqual(self.scales()["width"], whole["width"], delta=0.01)
        press("Zoom out")
        self.assertGreater(self.scales()["width"], 1.5 * whole["width"])


class Hindcast(Pages, unittest.TestCase):
    arguments = ["hindcast", DEMO, "--stays", "1000",
                 "--record", os.path.join(RECORDS, "us_nv_reno.csv"), "--record-at", "39.5,-119.78",
                 "--set", "camp[1].place=reno-nv", "--set", "camp[2].place=reno-nv"]
    sheets = 2

    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        cls.result["verdict"] = cls.result["agreement"]

    def charts(self):
        past, model = self.result["past_years"], self.result["model"]
        return {
            "days": {"past years": [100 * d["flat_by_day"]["p"] for d in past["days"]],
                     "the model": [100 * d["flat_by_day"]["p"] for d in model["days"]],
                     "you accept": [10] * len(past["days"])},
            "years": {"flat": [100 * y["flat"] / y["periods"] for y in past["years"]]},
            "along": {"past years": [past["generator_hours"][q] for q in ("mean", "p50", "p90")]},
        }

    def tables(self):
        past, model = self.result["past_years"], self.result["model"]
        hours = past["generator_hours"]
        return {
            "days": [{1: share(a["flat_by_day"]), 2: interval(a["flat_by_day"]),
                      3: share(b["flat_by_day"]), 4: share(b["flat_by_day"], climate=True)}
                     for a, b in zip(past["days"], model["days"])],
            "years": [{1: [y["flat"]], 2: [y["periods"]], 3: [100 * y["flat"] / y["periods"]],
                       5: [y["shortfall_wh"]]} for y in past["years"]],
            "along": [{1: share(past["flat_along"]), 2: share(model["flat_along"])},
                      {1: interval(past["flat_along"]), 2: interval(model["flat_along"])},
                      {2: share(model["flat_along"], climate=True)},
                      *({1: [hours[q]]} for q in ("mean", "p50", "p90"))],
        }


class Size(Pages, unittest.TestCase):
    arguments = ["size", DEMO, "--stays", "1000", "--vary", "both", "--set",
                 'option=[{name="one more", battery_wh=4096, weight_kg=40, price=1800},'
                 '{name="more panels", panels_w=1200}]']
    sheets = 2

    def charts(self):
        r = self.result
        options = r["options"]
        return {
            "tried": {"sizes that were tried": [100 * risk["flat"]["p"] for risk in r["curve"]],
                      "you accept": [100 * (1 - r["confidence"])] * len(r["curve"]),
                      "the plan's": [100 * r["stated"]["flat"]["p"]],
                      "the least": [100 * r["least"]["flat"]["p"]]},
            "frontier": {"least battery": [p["least"]["battery_wh"] for p in r["frontier"]]},
            "options": {"flat": [100 * o["flat"]["p"] for o in options]},
        }

    def tables(self):
        r = self.result
        return {
            "tried": [{1: share(risk["flat"]), 2: interval(risk["flat"])} for risk in r["curve"]],
            "options": [{3: share(o["flat"]), 4: interval(o["flat"]),
                         5: share(o["flat"], climate=True),
                         6: None if o["weight_kg"] is None else [o["weight_kg"]],
                         7: None if o["price"] is None else [o["price"]]} for o in r["options"]],
        }


class Compare(Pages, unittest.TestCase):
    arguments = ["compare", DEMO, os.path.join(PLANS, "long-weekend.toml"), "--stays", "1000"]
    sheets = 3

    def charts(self):
        plans = self.result["plans"]
        planned = [p["generator"]["flat"] if p["generator"] else p["flat_home"] for p in plans]
        accepted = [100 * p["plan"]["accept_risk"] for p in plans]
        hours = lambda q: [p["generator"]["hours"][q] if p["generator"] else None for p in plans]
        other = plans[1]["against_first"]
        return {
            "home": {"flat": [100 * p["flat_home"]["p"] for p in plans], "it accepts": accepted},
            "planned": {"flat": [100 * f["p"] for f in planned], "it accepts": accepted},
            "differences": {"generators at home": [100 * other["flat_home"]["difference"]],
                            "as written": [100 * other["flat_as_planned"]["difference"]]},
            "generators": {"typical stay": hours("p50"), "one stay in ten": hours("p90")},
            "balances": {"uses": [p["draw_wh_per_day"] for p in plans],
                         "panels give": [p["panels_wh_per_day"] for p in plans],
                         "battery holds": [p["battery_usable_wh"] for p in plans]},
        }

    def tables(self):
        plans = self.result["plans"]
        other = plans[1]["against_first"]["flat_home"]
        ends = [100 * other["low"], 100 * other["high"]]
        home = [{1: share(p["flat_home"]), 2: interval(p["flat_home"]),
                 3: share(p["flat_home"], climate=True)} for p in plans]
        known = other["climate_low"] is not None  # not for other places or dates
        climate = [100 * other["climate_low"], 100 * other["climate_high"]] if known else None
        return {"home": home,
                "differences": [{1: [100 * other["difference"]], 2: ends, 3: climate}],
                "balances": [{2: [p["draw_wh_per_day"]], 3: [p["panels_wh_per_day"]],
                              4: [p["battery_usable_wh"]], 5: [p["days_of_autonomy"]]}
                             for p in plans]}

    def check_title(self, title, outline):
        pass  # its own title says how many plans; theirs are tested as names of any kind are


class Levers(Pages, unittest.TestCase):
    arguments = ["levers", DEMO, "--stays", "1000"]
    sheets = 3

    def groups(self):
        def group(lever):
            return ("helps", "unclear", "hurts").index(lever["says"])
        return [(group(lever), lever) for lever in sorted(self.result["levers"], key=group)]

    def charts(self):
        sets = {}
        for i, label in enumerate(("helps", "no clear difference", "makes it worse")):
            values = [100 * lever["difference"]["difference"] if group == i else None
                      for group, lever in self.groups()]
            if any(value is not None for value in values):
                sets[label] = values
        after = [self.result["flat_home"], *(lever["flat"] for _, lever in self.groups())]
        return {"levers": sets, "after": {"flat": [100 * flat["p"] for flat in after]}}

    def tables(self):
        rows = [{1: share(self.result["flat_home"])}]
        for _, lever in self.groups():
            d = lever["difference"]
            rows.append({1: share(lever["flat"]), 2: [100 * d["difference"]],
                         3: [100 * d["low"], 100 * d["high"]],
                         4: [100 * d["climate_low"], 100 * d["climate_high"]]})
        return {"levers": rows}


class Generator(Pages, unittest.TestCase):
    arguments = ["generator", DEMO, "--stays", "1000"]
    sheets = 2

    def charts(self):
        levels = [level for level in self.result["levels"] if level["start_below"] > 0]
        careful = self.result["careful"]
        return {
            "levels": {"start below": [100 * level["start_below"] for level in levels]},
            "careful": {"flat": [100 * rule["flat"]["p"] for rule in careful],
                        "generator hours": [rule["hours"] for rule in careful]},
        }

    def tables(self):
        own = {1: share(self.result["flat"]), 2: interval(self.result["flat"]),
               3: [self.result["flat_h"]["mean"]], 4: [self.result["hours"]["mean"]]}
        rules = self.result["careful"] + [self.result["plain"]]
        return {"careful": [own] + [{1: share(rule["flat"]), 2: interval(rule["flat"]),
                                     3: [rule["flat_h"]], 4: [rule["hours"]]} for rule in rules]}


class Audit(Pages, unittest.TestCase):
    readings = ('[{charge_from=0.95, charge_to=0.6, from=2027-05-14T22:00:00, to=2027-05-15T05:00:00},'
                '{draw_w=60, at=2027-05-14T23:00:00, on=[], counts="battery"},'
                '{panels_w=380, at=2027-05-15T13:00:00, camp="open", sky="clear"},'
                '{panels_w=150, at=2027-05-15T13:20:00, camp=1, sky="clear"}]')
    plan = ["audit", DEMO, "--stays", "1000"]
    arguments = [*plan, "--checklist", "--set", "reading=" + readings]
    sheets = 3

    @staticmethod
    def change(figure, value):
        stated = figure["stated"]
        return 100 * (value / stated - 1 if figure["spread_is"] == "share" else value - stated)

    def charts(self):
        r = self.result
        return {"readings": {"off by": [reading["off_by"] for reading in r["readings"]]},
                "figures": {"corrected by": [self.change(f, f["corrected"]) for f in r["figures"]]}}

    def tables(self):
        r = self.result
        ends = lambda s: [s["low"], s["high"]]
        return {
            "readings": [{4: [reading["off_by"]]} for reading in r["readings"]],
            "figures": [{2: [f["stated"]], 3: ends(f["range_by_list"]), 4: [f["corrected"]],
                         5: ends(f["range_corrected"])} for f in r["figures"]],
        }

    def test_ranges_are_those_of_the_json(self):
        self.open(DESKTOP)
        drawn = browser.ask("""
            const [set] = Chart.getChart("figures-chart").data.datasets;
            return {before: set.bands, now: set.marks};""")
        for key, drawn_as in (("range_by_list", "before"), ("range_corrected", "now")):
            for figure, got in zip(self.result["figures"], drawn[drawn_as], strict=True):
                for end, value in zip(("low", "high"), got):
                    expected = self.change(figure, figure[key][end])
                    self.assertAlmostEqual(value, expected, delta=5.01e-6 * abs(expected) + 1e-9)

    def test_both_dashes_are_in_sight(self):
        for width in (320, PHONE, DESKTOP):
            self.open(width)
            x = browser.ask('const {x} = Chart.getChart("readings-chart").scales;'
                            "return [x.min, x.max];")
            self.assertLess(x[0], -3)
            self.assertGreater(x[1], 3)

    def test_a_list_to_fill_in_has_room_to_write(self):
        alone, result = page_and_json(self.plan)
        for page, following, listed in ((self.page, 4, self.result), (alone, 0, result)):
            self.open(DESKTOP, page=page)
            rows = self.ask("tables")["checklist"]
            # The readings to take, in order, each with a row or more.
            listed_as = [int(row[0].split(":")[0]) for row in rows]
            self.assertEqual(sorted(set(listed_as)),
                             [following + 1 + i for i in range(len(listed["next"]))])
            self.assertEqual(listed_as, sorted(listed_as))
            for row in rows:
                self.assertEqual(row[1:3], ["", ""])
                self.assertIn(row[3], ("%", "W", "Wh"))
            browser.command("Emulation.setEmulatedMedia", media="print")
            sizes = browser.ask("""return [...document.querySelectorAll("#checklist td:nth-child(4)")]
                .map(cell => cell.getBoundingClientRect()).map(box => [box.width, box.height]);""")
            browser.command("Emulation.setEmulatedMedia", media="")
            for width, height in sizes:  # a figure written by hand, in CSS pixels of 1/96 inch
                self.assertGreaterEqual(width, 80)
                self.assertGreaterEqual(height, 24)

    def test_a_plan_without_readings_has_a_page_without_charts(self):
        page, result = page_and_json(self.plan)
        for width, dark in ((320, False), (PHONE, True), (DESKTOP, False)):
            self.open(width, dark=dark, page=page)
            self.assertEqual(self.ask("charts"), [])
            self.assertLessEqual(self.ask("overflow"), 0)
            self.assertEqual(self.ask("faint"), [])
            self.assertEqual(browser.console(), [])
        self.assertEqual(len(self.ask("tables")["figures"]), len(result["figures"]))
        for size in (A4, LETTER):
            self.assertLessEqual(browser.printed_pages(*size), 3)


class Shade(Pages, unittest.TestCase):
    arguments = ["shade", DEMO]
    sheets = 3
    skies = ("clear", "mixed", "overcast", "rain")

    def charts(self):
        charts = {}
        for camp in self.result["camps"]:
            here = {day["sky"]: day["here_w"] for day in camp["skies"]}
            charts[f"hours-{camp['camp']}"] = here | {
                day["sky"] + ", in the open": day["open_w"] for day in camp["skies"]}
            charts[f"canopy-{camp['camp']}"] = {
                sky: [row["watts"][sky] for row in camp["by_canopy"]] for sky in self.skies}
        return charts

    def tables(self):
        tables = {}
        for camp in self.result["camps"]:
            pairs = [zip(day["here_w"], day["open_w"]) for day in camp["skies"]]
            tables[f"hours-{camp['camp']}"] = [
                {column: list(pair) for column, pair in enumerate(row, start=1)}
                for row in zip(*pairs)]
            tables[f"energy-{camp['camp']}"] = [
                {1: [day["here_wh"]], 2: [day["open_wh"]],
                 3: [day["shade_takes_wh"], 100 * day["shade_takes"]]} for day in camp["skies"]]
            tables[f"canopy-{camp['camp']}"] = [
                {column: [row["watts"][sky]] for column, sky in enumerate(self.skies, start=1)}
                for row in camp["by_canopy"]]
        return tables

    def test_every_line_is_told_by_more_than_its_colour(self):
        self.open(PHONE)
        looks = browser.ask("""
            return Chart.getChart("hours-1-chart").data.datasets.map(
                set => [set.pointRadius ? set.pointStyle : "", (set.borderDash || []).join()].join("|"));""")
        solid = [look for look in looks if look.endswith("|")]
        self.assertEqual(len(solid), 4)
        self.assertEqual(len(set(solid)), 4)


COMMANDS = {"run": Run, "generator": Generator, "size": Size, "compare": Compare, "levers": Levers,
            "calendar": Calendar, "where": Where, "hindcast": Hindcast, "audit": Audit,
            "shade": Shade}


if __name__ == "__main__":
    words = sys.argv[1:]
    if words[:1] == ["--axe"]:
        with open(words[1], encoding="utf-8") as file:
            axe = file.read()
        words = words[2:]
    end = words.index("--")
    program, commands = words[:end], words[end + 1:]
    if commands == ["all"]:
        commands = list(COMMANDS)
    suite = unittest.TestSuite(unittest.defaultTestLoader.loadTestsFromTestCase(COMMANDS[c])
                               for c in commands)
    with tempfile.TemporaryDirectory(prefix="dullspell-pages-") as workplace:
        browser = Browser()
        try:
            outcome = unittest.TextTestRunner(verbosity=2).run(suite)
        finally:
            browser.close()
    sys.exit(not outcome.wasSuccessful())
