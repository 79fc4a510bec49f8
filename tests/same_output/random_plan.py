"""Plans of all kinds of kit, invented by chance: the same number makes the same plan."""
import random

PLACES = ["crescent-city-ca", "south-lake-tahoe-ca", "moab-ut", "tucson-az", "miami-fl",
          "daggett-ca", "bishop-ca"]
TYPED_PLACE = """[camp.place]
latitude     = -41.3
longitude    = 174.8
utc_offset_h = 12
ghi_kwh_m2   = [6.4, 5.6, 4.3, 2.9, 1.9, 1.5, 1.7, 2.5, 3.6, 4.9, 5.9, 6.4]
temp_mean_c  = [17, 17, 16, 14, 11, 9, 9, 9, 11, 12, 14, 16]
"""
TEMPERATURES = "temp_mean_c = [-3, -1, 3, 7, 12, 16, 20, 19, 15, 9, 3, -2]\n"


class RandomPlan:
    """Its text is a plan that the program takes; `arrive` and `nights` say when."""

    def __init__(self, number):
        self.chance = random.Random(f"plan {number}")
        self.camps = self.whole(1, 3)
        self.nights = [self.whole(1, 4) for _ in range(self.camps)]
        self.year_month_day = (2027, self.whole(1, 12), self.whole(1, 24))
        self.arrive_hour = self.whole(0, 23)
        self.hookup = False
        self.inverter = self.often()
        self.nominal_v = self.chance.choice([None, 12.8, 25.6])
        self.panel_groups = self.whole(0, 3)

    def whole(self, low, high):
        return self.chance.randint(low, high)

    def real(self, low, high, digits=2):
        return round(self.chance.uniform(low, high), digits)

    def often(self):
        return self.whole(0, 2) > 0

    def rarely(self):
        return self.whole(0, 2) == 0

    def when(self, day):
        year, month, first = self.year_month_day
        return f"{year}-{month:02}-{first + day:02}"

    def text(self):
        now = self.rarely() and sum(self.nights) > 2
        out = [self.dates(now)]
        out += [self.camp(i) for i in range(self.camps)]
        out += [self.battery(now), self.inverters(), self.controller()]
        out += [self.panels(i) for i in range(self.panel_groups)]
        out += [self.load(i) for i in range(self.whole(1, 5))]
        if self.rarely():
            out.append(self.furnace())
        if self.rarely():
            side = "ac" if self.inverter and self.often() else "dc"
            out.append(f'[fridge]\nrunning_w = {self.real(20, 80)}\nside = "{side}"\n')
            if self.rarely():
                out.append("duty_at = [[10, 0.15], [25, 0.3], [40, 0.7]]\n")
        if self.often():
            out.append(self.generator())
        if self.camps > 1 and self.often():
            out.append(f"[vehicle]\ncharge_w = {self.real(0, 600)}\n")
        if self.hookup:
            out.append(f"[hookup]\ncharger_w = {self.real(100, 1500)}\n")
        if self.rarely():
            out.append(f"[guesses]\nloads = {self.real(0, 0.5)}\nhealth = {self.real(0, 0.2)}\n")
        if self.rarely():
            out.append(self.options())
        return "".join(out)

    def dates(self, now):
        out = f'title = "Invented"\narrive = {self.when(0)}T{self.arrive_hour:02}:00:00\n'
        out += f'leave = "{self.whole(0, 23):02}:00"\n'
        if self.rarely():
            out += f"summer_time = true\naccept_risk = {self.real(0, 0.4)}\n"
        start = self.whole(1, sum(self.nights) - 1) if now else 0
        if now:
            out += f"now = {self.when(start)}T{self.whole(0, 23):02}:00:00\n"
        if self.rarely():
            out += "yesterday = " + self.chance.choice(['"overcast"', '"clear"', "0.45"]) + "\n"
        if self.rarely():
            out += 'currency = "USD"\n'
        # Tables come after keys.
        for day in range(start, sum(self.nights)):
            if self.whole(0, 5) == 0:
                sky = self.chance.choice(['sky = "clear"', 'sky = "mixed"', 'sky = "overcast"',
                                          f"k = {self.real(0.1, 0.7)}",
                                          f"k = {self.real(0.1, 0.7)}\nk_spread = 0.04"])
                out += f"[[forecast]]\ndate = {self.when(day)}\n{sky}\n"
        return out

    def camp(self, number):
        out = f"[[camp]]\nnights = {self.nights[number]}\n"
        if self.rarely():
            out += f"canopy = {self.real(0, 0.8)}\n"
        if number > 0 and self.often():
            out += f"drive_in_h = {self.real(0, 12)}\n"
        if self.whole(0, 5) == 0:
            out += "hookup = true\n"
            self.hookup = True
        temperatures = self.chance.choice(["", "", f"elevation_m = {self.real(0, 2500, 0)}\n",
                                           TEMPERATURES])
        out += temperatures
        if self.rarely():
            out += ("skyline = [ { from_deg = 40, to_deg = 140, height_deg = 30, lets_through = 0.2 }, "
                    f"{{ from_deg = 200, to_deg = 380, height_deg = {self.real(5, 60)} }} ]\n")
        kind = self.whole(0, 7)
        if kind == 0:
            return out + TYPED_PLACE
        if kind == 1:
            return out + f"place = {{ latitude = {self.real(33, 45)}, longitude = {self.real(-122, -105)} }}\n"
        return out + f'place = "{self.chance.choice(PLACES)}"\n'

    def battery(self, now):
        out = "[battery]\n"
        if self.nominal_v and self.rarely():
            out += f"capacity_ah = {self.real(40, 300)}\n"
        else:
            out += f"capacity_wh = {self.real(300, 4000)}\n"
        if self.nominal_v:
            out += f"nominal_v = {self.nominal_v}\n"
        if now or self.rarely():
            out += f"start_charge = {self.real(0, 1)}\n"
        for line in (f"health = {self.real(0.6, 1)}", 'where = "outside"', 'chemistry = "nmc"',
                     f"charge_limit_w = {self.real(50, 900)}",
                     f"discharge_limit_w = {self.real(60, 900)}",
                     f"charge_min_c = {self.real(-10, 8)}", "taper_from = 1.0",
                     f"usable_share = {self.real(0.6, 1)}", f"taper_to_c_rate = {self.real(0.02, 0.3)}",
                     f"self_discharge_per_month = {self.real(0, 0.1)}"):
            if self.rarely():
                out += line + "\n"
        return out

    def inverters(self):
        out = ""
        if self.inverter:
            out += f"[inverter]\nrated_w = {self.real(150, 2000)}\nstandby_w = {self.real(0, 25)}\n"
            out += self.chance.choice(["", 'on = [["07:00", "22:30"]]\n',
                                       'on = [["06:20", "09:10"], ["17:00", "01:00"]]\n'])
            if self.rarely():
                out += "efficiency_at = [ [0.1, 0.91], [0.5, 0.93], [1.0, 0.90] ]\n"
            if self.rarely():
                out += f"[converter]\nefficiency = {self.real(0.7, 0.95)}\nstandby_w = {self.real(0, 5)}\n"
        return out

    def controller(self):
        self.shared = self.panel_groups > 1 and self.rarely()
        if not self.shared:
            return ""
        return f'[[controller]]\nname = "shared"\nlimit_w = {self.real(100, 900)}\n'

    def panels(self, number):
        out = f"[[panels]]\nrated_w = {self.real(50, 800)}\n"
        out += self.chance.choice([
            "", f"mount = {{ tilt_deg = {self.real(0, 70)}, azimuth_deg = {self.real(90, 270)} }}\n",
            'mount = { aimed_at = ["09:00", "12:00", "15:30"] }\n'])
        if self.rarely():
            out += f'losses = {self.real(0, 0.3)}\ndull_light = "poor"\n'
        if self.shared and number < 2:
            out += 'controller = "shared"\n'
        elif self.rarely():
            out += f"controller_limit_w = {self.real(50, 500)}\n"
        return out

    def load(self, number):
        sides = ["dc", "ac", "dc-via-ac"] if self.inverter else ["dc"]
        side = self.chance.choice(sides)
        out = f'[[load]]\nname = "load {number + 1}"\nside = "{side}"\n'
        if side == "dc" and self.nominal_v and self.rarely():
            out += f"amps = {self.real(0.2, 8)}\n"
        else:
            out += f"watts = {self.real(2, 180)}\n"
        kind = self.whole(0, 3)
        if kind == 0:
            out += 'between = [["06:30", "08:00"], ["19:15", "00:30"]]\n'
        elif kind > 1:
            out += 'between = ["08:00", "21:30"]\n'
            if self.rarely():
                out += 'away = [["10:30", "14:00"]]\n'
            out += f"hours_per_day = {self.real(0.5, 8)}\n"
            if self.often():
                out += f"varies = {self.real(0, 0.8)}\n"
            if self.rarely():
                out += f"dull_day_factor = {self.real(0.5, 2.5)}\n"
        if self.rarely():
            out += f"optional_below = {self.real(0.05, 0.6)}\n"
        return out

    def furnace(self):
        out = (f"[furnace]\nblower_w = {self.real(10, 110)}\noutput_w = {self.real(1000, 6000)}\n"
               f"heat_loss_w_per_k = {self.real(30, 300)}\ngains_w = {self.real(0, 300)}\n"
               f'hold_c = [ {{ from = "21:30", to = "07:00", c = {self.real(5, 22)} }}')
        if self.rarely():
            out += f', {{ from = "07:00", to = "10:30", c = {self.real(10, 20)} }}'
        out += " ]\n"
        if self.often():
            out += f"other_heat_c = {self.real(5, 20)}\n"
        return out

    def generator(self):
        allowed = self.chance.choice(['[["08:00", "10:00"], ["16:30", "20:00"]]',
                                      '[["09:20", "11:50"]]', '[["20:00", "02:00"]]'])
        out = (f"[generator]\nrated_w = {self.real(300, 2500)}\ncharger_w = {self.real(50, 1200)}\n"
               f"min_run_h = {self.real(0, 3)}\nallowed = {allowed}\n")
        if self.rarely():
            below = self.real(0.1, 0.5)
            out += (f'rule = "below"\nstart_below = {below}\n'
                    f"stop_at = {round(below + self.real(0.1, 0.4), 2)}\n")
        if self.rarely():
            out += f"tank_l = {self.real(2, 10)}\nfuel_l_per_kwh = {self.real(0.2, 0.6)}\n"
        return out

    def options(self):
        out = (f'[[option]]\nname = "small"\nbattery_wh = {self.real(500, 2000)}\n'
               "weight_kg = 12.5\nprice = 700\n"
               f'[[option]]\nname = "large"\nbattery_wh = {self.real(2000, 6000)}\nprice = 1900\n')
        if self.panel_groups:
            out += f"panels_w = {self.real(200, 900)}\n"
        return out
