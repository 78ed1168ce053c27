"""What the tests of the outputs run: each command on invented gardens, so that every key is seen.

The gardens are those of examples/ and of tests/pages/eight; what those do not show (frost, a rule
that binds, a hostile name, valves that share) is changed in copies of them.
"""

import os
import shutil
import subprocess

GALLERY = ("kitchen", "vegetables", "lawn", "orchard", "park")
RUN_BY_HAND = "2027-07-15"  # the first day of the heatwave's plan of Wednesday


class Runs:
    """A folder with copies of the gardens, and the program run in it."""

    def __init__(self, runnel, source, folder):
        self._runnel = runnel
        self.folder = folder
        for name in (*GALLERY, "terrace", "audit", "heatwave"):
            shutil.copytree(os.path.join(source, "examples", name), os.path.join(folder, name))
        shutil.copytree(os.path.join(source, "tests/pages/eight"), os.path.join(folder, "eight"))
        self._make_gardens()
        self._live_through_heatwave()

    def read(self, path):
        with open(os.path.join(self.folder, path), encoding="utf-8") as file:
            return file.read()

    def write(self, path, text):
        with open(os.path.join(self.folder, path), "w", encoding="utf-8") as file:
            file.write(text)

    def change(self, old, new, *changes):
        """Writes `new`, the file `old` with each first text of a pair replaced by the second."""
        text = self.read(old)
        for before, after in changes:
            assert before in text, (old, before)
            text = text.replace(before, after)
        self.write(new, text)

    def run(self, args, ends=(0, 1)):
        result = subprocess.run([self._runnel, *args], cwd=self.folder, capture_output=True,
                                check=False)
        assert result.returncode in ends, (args, result.returncode, result.stderr.decode())
        return result.stdout.decode("utf-8")

    def _make_gardens(self):
        terrace = "terrace/garden.yaml"
        self.change(terrace, "terrace/formulas.yaml", ("terrace bed", "'=1+1'"),
                    ("wall border", "'+x'"), ("pots by the door", "'-x'"),
                    ("garden: Larkspur Terrace", "garden: '@x'"))
        self.change(terrace, "terrace/programmes.yaml", ("  starts per valve: 4\n", "  programmes: 2\n"))
        self.change(terrace, "terrace/shared.yaml",
                    ("    valve: 2\n", "    valve: 1\n    shared valve: yes\n"),
                    ("    valve: 1\n    area: 18", "    valve: 1\n    shared valve: yes\n    area: 18"))
        self.change(terrace, "terrace/ruled.yaml",
                    ("watering hours:", "rules: [{days: [Mon, Thu]}]\nwatering hours:"))
        self.change(terrace, "terrace/cold.yaml", ("forecast.csv", "cold.csv"))
        self.write("terrace/cold.csv", "date,tmax,tmin,rain\n" + "".join(
            f"2027-07-{day},{10 if day < 14 else 24},{-3 if day < 14 else 14},{30 if day == 12 else 0}\n"
            for day in range(12, 23)))
        self.write("terrace/broken.yaml", "garden: Broken\n")
        self.write("cans.csv", "# run: 10 min\ncan,depth [mm]\n=1,2\n+2,3\n3,2.5\n4,0\n")
        self.write("winter.csv", "date,tmax,tmin,rain\n" + "".join(
            f"2027-01-{day:02d},{-4 - day % 3},{-11.5 - day % 2},0\n" for day in range(1, 9)))
        hours = [max(0.0, 2.5 - 0.07 * (hour - 12) ** 2) for hour in range(24)]
        self.write("hours.csv", "time,tmean,rhmean,wind,radiation\n" + "".join(
            f"2027-06-15T{hour:02d}:00,{18 + hour % 12},60,2,{value:.3f}\n"
            for hour, value in enumerate(hours)))

    def _live_through_heatwave(self):
        """As examples/heatwave.sh: planned on Monday, looked at again on Wednesday."""
        story = "story"
        os.mkdir(os.path.join(self.folder, story))
        self.change("terrace/garden.yaml", story + "/garden.yaml")
        self.change("heatwave/forecast-monday.csv", story + "/forecast.csv")
        self.change("terrace/weather.csv", story + "/weather.csv")
        garden = story + "/garden.yaml"
        self.run(["plan", garden, "--save", story + "/monday.yaml"])
        happened = [line for line in self.read("heatwave/happened.csv").splitlines()
                    if line[:10] in ("2027-07-12", "2027-07-13", "2027-07-14")]
        assert len(happened) == 3
        self.write(story + "/weather.csv",
                   self.read(story + "/weather.csv") + "\n".join(happened) + "\n")
        self.change(garden, story + "/felt.yaml",
                    ("watering hours:", "log: felt.csv\nwatering hours:"))
        self.write(story + "/felt.csv", "date,zone,what,amount\n2027-07-13,wall border,depletion,8 mm\n")
        self.change("heatwave/forecast-wednesday.csv", story + "/forecast.csv")
        self.run(["replan", garden, "--after", story + "/monday.yaml", "--save",
                  story + "/wednesday.yaml"])

    def cases(self):
        """(kind, arguments, endings) of each command that has a JSON form."""
        story = "story/garden.yaml"
        again = ["--after", "story/wednesday.yaml", "--from", RUN_BY_HAND]
        for garden in ("terrace/garden", "terrace/short-morning", "terrace/formulas",
                       "terrace/programmes", "terrace/shared", "terrace/ruled", "terrace/cold",
                       *(name + "/garden" for name in GALLERY), "eight/garden"):
            yield "plan", ["plan", garden + ".yaml"], (0, 1)
        yield "plan", ["plan", story, "--after", "story/monday.yaml"], (0, 1)
        yield "plan", ["plan", "story/felt.yaml", "--after", "story/monday.yaml"], (0, 1)
        yield "plan", ["plan", story, *again], (0, 1)
        yield "until", ["plan", "terrace/away.yaml", "--until", "2027-08-08"], (1,)
        yield "until", ["plan", "terrace/garden.yaml", "--until", "2027-07-20"], (0, 1)
        yield "gardens", ["plan", "terrace/garden.yaml", "terrace/broken.yaml",
                          "terrace/formulas.yaml"], (3,)
        yield "replan", ["replan", story, "--after", "story/monday.yaml"], (0, 1)
        yield "replan", ["replan", story, *again], (0, 1)
        yield "compare", ["compare", "terrace/garden.yaml"], (0,)
        yield "compare", ["compare", "kitchen/garden.yaml"], (0,)
        yield "between", ["compare", "terrace/garden.yaml", "--between", "wall border",
                          "pots by the door"], (0,)
        yield "between", ["compare", "terrace/formulas.yaml", "--between", "+x", "=1+1"], (0,)
        yield "doubts", ["plan", "terrace/formulas.yaml", "--doubts"], (0, 1)
        yield "audit", ["audit", "audit/cans.csv"], (0,)
        yield "audit", ["audit", "cans.csv"], (0,)
