"""What tests/same-output asks of the program: every command, and input that is wrong."""
import pathlib
import re

from random_plan import RandomPlan

ROOT = pathlib.Path(__file__).resolve().parents[2]
RECORDS = ROOT / "datasets/records"
DAVIS = RECORDS / "us_ca_davis.csv"
DAVIS_IS_AT = ["--latitude", "38.54", "--longitude", "-121.78", "--utc-offset", "-8"]
COMMANDS = ["run", "size", "compare", "levers", "generator", "shade", "calendar", "where", "hindcast", "audit",
            "budget", "places", "weather", "fit", "new", "man", "completion"]
UNITS = ["metric", "us"]
ENGINE = ["--cpu", "baseline", "--seed", "7"]
JSON = ["--json", "out.json"]
CSV = ["--csv", "out.csv"]
HTML = ["--html", "out.html"]

# Near Davis, for a record of many years to be replayed.
DAVIS_PLAN = """arrive = 2027-12-10T14:00:00
[[camp]]
place = { latitude = 38.5, longitude = -121.7 }
nights = 6
[battery]
capacity_wh = 1800
[[panels]]
rated_w = 400
mount = { tilt_deg = 40, azimuth_deg = 180 }
[[load]]
name = "all"
watts = 30
[generator]
rated_w = 1000
charger_w = 500
allowed = [["17:00", "20:00"]]
"""


def stays(number):
    return ENGINE + ["--stays", str(number)]


class Cases:
    """A list of (name, words of the command line); inputs are written into a folder."""

    def __init__(self, folder, plans):
        self.folder = folder
        self.list = []
        self.answers()
        demos = sorted((ROOT / "datasets/plans").glob("*.toml")) + [self.write("davis-plan.toml", DAVIS_PLAN)]
        for demo in demos:
            for units in UNITS:
                self.plan(demo.stem, demo, units, thorough=True)
        for number in range(plans):
            path = self.write(f"random-{number}.toml", RandomPlan(number).text())
            # Twice as many plans rather than each in both units where a command takes long.
            for units in UNITS:
                self.plan(path.stem, path, units, thorough=False, long=units == UNITS[number % 2])
        self.records()
        self.bad_plans(demos[1])
        self.bad_words(demos[0])
        self.bad_records()

    def write(self, name, text):
        path = self.folder / name
        path.write_text(text, encoding="utf-8")
        return path

    def add(self, name, *words):
        self.list.append((name, [str(word) for word in words]))

    def answers(self):
        self.add("no arguments")
        self.add("--help", "--help")
        self.add("--version", "--version")
        for command in COMMANDS:
            self.add(f"{command} --help", command, "--help")
        for shell in ["bash", "zsh", "fish"]:
            self.add(f"completion {shell}", "completion", shell)
        self.add("man", "man")
        self.add("new", "new")
        self.add("new to a file", "new", "mystay.toml")
        for units in UNITS:
            self.add(f"places {units}", "places", "--units", units)
            self.add(f"places near {units}", "places", "--near", "41.8,-124.1", "--units", units)
            self.add(f"places kind {units}", "places", "--kind", "measured", "--units", units)
            for place in ["daggett-ca", "crescent-city-ca", "south-lake-tahoe-ca"]:
                self.add(f"weather {place} {units}", "weather", place, "--units", units)
        self.add("places text", "places", "lake", "--count", "5")
        for place in ["daggett-ca", "moab-ut"]:
            self.add(f"weather {place} --days", "weather", place, "--days", "14", "--from",
                     "2027-01-05", "--stays", "20")

    def plan(self, name, path, units, thorough, long=True):
        """Each command that takes a plan. What takes long is asked on few stays."""
        said = ["--units", units]

        def add(command, *words):
            words = [str(word) for word in words]
            told_apart = [word for word in words[:1] if word not in ENGINE]
            self.add(" ".join([name, command, units] + told_apart), command, path, *words, *said)

        add("budget")
        add("shade", *JSON, *CSV, *HTML)
        add("run", *stays(300), *JSON, *HTML)
        add("size", *stays(200), *JSON, *CSV, *HTML)
        if long:
            add("size", "--with-generator", *stays(200), *JSON, *CSV, *HTML)
            self.add(f"{name} compare {units}", "compare", path, self.folder / "davis-plan.toml",
                     *stays(200), *JSON, *CSV, *HTML, *said)
            add("levers", *stays(100), *JSON, *CSV, *HTML)
            self.add(f"{name} audit {units}", "audit", path, "--checklist", *stays(200), *JSON, *HTML)
            add("calendar", *stays(100), *JSON, *CSV, *HTML)
            add("where", "--near", "41.8,-124.1", "--within", "250", *stays(100), *JSON, *CSV, *HTML,
                "--geojson", "out.geojson")
            add("hindcast", "--record", DAVIS, "--window", "2", *stays(200), *JSON, *HTML)
        if thorough:
            add("run", "--doubt", *stays(200), *JSON, *HTML)
            add("run", "--record", DAVIS, *stays(200), *JSON, *HTML)
            add("run", "--precision", "0.05", *ENGINE, "--threads", "2")
            add("run", "--fail-on-risk", *stays(200), "--json", "-")
            add("run", "--set", "battery.health=0.7", *stays(200))
            add("size", "--vary", "panels", "--confidence", "0.8", *stays(200), *JSON, *CSV, *HTML)
            add("size", "--vary", "both", *stays(200), *JSON, *CSV, *HTML)
            add("levers", "--top", "4", *stays(200))
            add("shade", "--camp", "1", "--seen", "41", "--at", "13:00", "--sky", "mixed", *JSON, *CSV, *HTML)
            add("generator", *stays(200), *JSON, *HTML, "--levels", "levels.toml")
            add("where", "--kind", "estimated", "--top", "9", *stays(100), *CSV)
            add("where", "--box=31,-118,38,-107", "--elevation", "0,900", *stays(100), "--csv", "-")

    def records(self):
        for path in sorted(RECORDS.glob("*.csv")) + sorted(RECORDS.glob("*.epw")):
            for units in UNITS:
                at = [] if path.name.startswith(("tmy3", "europe", "uscrn", "typical")) else DAVIS_IS_AT
                typical = ["--typical-year"] if path.name.startswith("hourly") else []
                self.add(f"fit {path.stem} {units}", "fit", path, *at, *typical, "--out", "place.toml",
                         "--units", units)
        self.add("fit of one site", "fit", RECORDS / "europe_daily.csv", "--site", "at_graz", "--latitude",
                 "47.08", "--longitude", "15.45", "--utc-offset", "1", "--elevation", "366", "--name",
                 "Graz", "--source", "invented words", "--out", "place.toml")
        self.add("fit of many sites", "fit", RECORDS / "typical_daily_us.csv",
                 RECORDS / "uscrn_2020_daily.csv", "--sites", ROOT / "datasets/places/us_sites.tsv",
                 "--out", "us.csv")
        rows = DAVIS.read_text(encoding="utf-8").splitlines(keepends=True)
        gaps = self.write("gaps.csv", "".join(row for i, row in enumerate(rows[:2500]) if i % 7 != 5))
        self.add("fit of a record with gaps", "fit", gaps, *DAVIS_IS_AT, "--out", "place.toml")
        dry = self.write("no-temperatures.csv", "".join(
            row if i == 0 or i % 5 else re.sub(r",[^,]*,[^,]*,([^,]*)$", r",,,\1", row)
            for i, row in enumerate(rows[:2500])))
        self.add("fit without some temperatures", "fit", dry, *DAVIS_IS_AT, "--out", "place.toml")

    def bad_plans(self, good):
        """Each line of a rich plan in turn: taken out, twice, and its value replaced."""
        lines = good.read_text(encoding="utf-8").splitlines()
        number = 0
        for at, line in enumerate(lines):
            if not line.strip() or line.startswith("#"):
                continue
            key = line.split("=")[0]
            new_lines = [[], [line, line]]
            if "=" in line:
                new_lines += [[f"{key}= {value}"] for value in
                              ("-1", "1e9", "nan", '"some text"', "true", "[]", "[1, 2]", "{ a = 1 }", "")]
                new_lines.append([line.replace(key.strip(), key.strip()[:-1] + "q", 1)])
            else:
                new_lines.append([line.replace("[", "", 1)])
            for new in new_lines:
                number += 1
                path = self.write(f"bad-{number}.toml", "\n".join(lines[:at] + new + lines[at + 1:]) + "\n")
                self.add(f"bad plan {number}, line {at + 1}", "budget", path)
        for name, text in [("empty", ""), ("blank", "\n\n"), ("binary", "\0" * 40), ("junk", "]]=[["),
                           ("only-dates", "arrive = 2027-05-21T15:00:00\n")]:
            self.add(f"plan that is {name}", "run", self.write(f"{name}.toml", text), *stays(100))
        self.add("plan that is not there", "run", self.folder / "none.toml")
        self.add("plan that is a folder", "run", ROOT / "datasets")

    def bad_words(self, good):
        for command in ["run", "size", "levers", "calendar", "where", "budget"]:
            for words in (["--stays", "x"], ["--stays", "5"], ["--seed", "-1"], ["--threads", "0"],
                          ["--cpu", "v9"], ["--units", "feet"], ["--set", "battery.health=9"],
                          ["--set", "batery.health=1"], ["--set", "health"], ["--precision", "nan"],
                          ["--unheard-of"], ["--json"], ["--json", "no/such/folder/x.json"],
                          ["--confidence", "2"], ["--vary", "wheels"], ["--top", "0"], ["--csv", "."]):
                self.add(f"{command} with {' '.join(words)}", command, good, *words)
        for words in (["rum"], ["run"], ["run", "--stay", "5"], ["places", "--near", "north"],
                      ["places", "qqq"], ["places", "--kind", "guessed"], ["places", "--count", "-1"],
                      ["weather", "dagget-ca"], ["weather", "daggett-ca", "--days", "9", "--from", "2027-02-30"],
                      ["weather", "daggett-ca", "--days", "0"], ["completion", "csh"], ["compare", good],
                      ["where", good, "--near", "91,0"], ["where", good, "--within", "5"],
                      ["where", good, "--box=1,2,3"], ["where", good, "--elevation", "9,1"],
                      ["run", good, "--set", "now=2027-09-11T09:00:00"], ["new", good],
                      ["run", good, "--json", "a", "--html", "a"], ["run", good, "--window", "3"],
                      ["hindcast", good], ["hindcast", good, "--record", DAVIS, "--record-at", "38.54,-121.78"]):
            self.add("words " + " ".join(map(str, words)), *words)

    def bad_records(self):
        head = "date,ghi_kwh_m2,tmax_c,tmin_c\n"
        day = "2001-01-{:02},2.5,10,1\n"
        for name, text in [("empty", ""), ("no-days", head), ("no-ghi", head.replace("ghi_kwh_m2", "rain")),
                           ("short-row", head + "2001-01-01,2.5\n"),
                           ("not-a-number", head + "2001-01-01,two,10,1\n"),
                           ("not-a-date", head + "2001-02-31,2.5,10,1\n"),
                           ("one-month", head + "".join(day.format(d) for d in range(1, 32))),
                           ("twice", head + day.format(1) * 2), ("backwards", head + day.format(2) + day.format(1)),
                           ("too-bright", head + "2001-01-01,25,10,1\n"), ("cut-epw", "LOCATION,Here,XX\n")]:
            path = self.write(f"record-{name}.csv", text)
            self.add(f"fit of a record: {name}", "fit", path, *DAVIS_IS_AT, "--out", "place.toml")
        self.add("fit without a place", "fit", DAVIS)
        self.add("fit of no file", "fit", self.folder / "none.csv", *DAVIS_IS_AT)
        plan = self.folder / "davis-plan.toml"
        for name, text in [("empty", ""), ("no-months", "latitude = 40\nlongitude = -120\nutc_offset_h = -8\n"),
                           ("not-toml", "= = =\n")]:
            path = self.write(f"place-{name}.toml", text)
            self.add(f"place file: {name}", "run", plan, "--set", f'camp[1].place="{path}"', *stays(100))
            self.add(f"weather of a place file: {name}", "weather", path)
