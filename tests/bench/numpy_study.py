#!/usr/bin/python3
"""The demo study in numpy, vectorised over stays: numpy_study.py TABLES CHUNK STAYS SEED.

The physics are those of engine/stay.cpp for what the demo plan has. Arrays are [track, stay], the
generator left at home on track 0 and along on track 1. Prints time and counts as JSON; the time is
that of the study alone, CPU time of this process.
"""

import json
import math
import sys
import time

import numpy as np
from numpy.core.umath import clip  # np.clip without its wrapper's overhead

SERVED_WH = 1e-6
BINS = 257  # of charge, full being a bin of its own


class Plan:
    """Tables as arrays, with what follows from them once and for all."""

    def __init__(self, tables):
        self.__dict__.update(tables)
        self.hours = [dict(zip(tables["hours"], row)) for row in zip(*tables["hours"].values())]
        for segment in self.segments:
            for name in ("k_of_chi", "at_25_w", "per_k_w"):
                segment[name] = np.array(segment[name])
        for load in self.loads:
            load["use_of_draw"] = np.array(load["use_of_draw"])
        self.controller_limit_w = [math.inf if w is None else w for w in self.controller_limit_w]
        self.fridge_w = np.array(self.fridge["watts"])
        battery = self.battery
        self.cold_c = battery["cold_from_c"] + battery["cold_step_k"] * np.arange(
            len(battery["cold_share"])
        )
        self.cut_off_wh = (1.0 - np.array(battery["cold_share"])) * battery["usable_wh"]
        self.days = len(self.links)


def at_equal_steps(table, position):
    """Linear in between; positions beyond the ends are clipped."""
    position = clip(position, 0.0, len(table) - 1.0)
    cell = np.minimum(position.astype(np.intp), len(table) - 2)
    low = table.take(cell)
    return low + (position - cell) * (table.take(cell + 1) - low)


def of_normal(table, draw):
    return at_equal_steps(table, (draw + 6.0) * ((len(table) - 1) / 12.0))


class Segment:
    """Weather and use of one segment."""

    def __init__(self, plan, number, chi, warm, use_draws):
        segment = plan.segments[number]
        k = of_normal(segment["k_of_chi"], chi)
        self.mean_c = (
            segment["temp_mean_c"] + segment["temp_per_chi"] * chi + segment["temp_per_innovation"] * warm
        )
        self.range_c = np.maximum(
            1.0, segment["range_mean_c"] + segment["range_k_slope"] * (k - segment["k_mean"])
        )
        dullness = clip((0.50 - k) * 4.0, 0.0, 1.0)
        self.use = []
        for load, draw in zip(plan.loads, use_draws):
            use = 1.0 + (load["dull_day_factor"] - 1.0) * dullness
            if load["varies"]:
                use *= of_normal(load["use_of_draw"], draw)
            self.use.append(np.minimum(use, load["most"][number]))
        self.tables = list(zip(segment["at_25_w"], segment["per_k_w"], plan.controller_limit_w))
        nodes = len(segment["at_25_w"][0][0])
        position = clip(k, 0.0, 1.0) * (nodes - 1)
        self.node = np.minimum(position.astype(np.intp), nodes - 2)
        self.next_node = self.node + 1
        self.weight = position - self.node

    def between_nodes(self, table):
        low = table.take(self.node)
        out = table.take(self.next_node)
        out -= low
        out *= self.weight
        out += low
        return out

    def panels_w(self, hour, air_c):
        warmer_k = air_c - 25.0
        total_w = 0.0
        for at_25_w, per_k_w, limit_w in self.tables:
            watts = self.between_nodes(per_k_w[hour["hour_of_day"]])
            watts *= warmer_k
            watts += self.between_nodes(at_25_w[hour["hour_of_day"]])
            total_w = total_w + clip(watts, 0.0, limit_w, out=watts)
        total_w *= hour["at_camp"]
        return total_w


def cabin(plan, hour, air_c):
    """Furnace and fridge power, and the cabin's temperature with the furnace and without."""
    f = plan.furnace
    unheated_c = air_c + f["gains_w"] / f["heat_loss_w_per_k"]
    unheld = f["unheld_share"][hour["hour_of_day"]]
    held_c = unheld * unheated_c
    furnace_w = 0.0
    for share, set_point_c in f["hold"][hour["hour_of_day"]]:
        warmest_c = air_c + (f["output_w"] + f["gains_w"]) / f["heat_loss_w_per_k"]
        duty = f["heat_loss_w_per_k"] * (set_point_c - air_c)
        duty -= f["gains_w"]
        duty /= f["output_w"]
        furnace_w = furnace_w + share * f["blower_w"] * clip(duty, 0.0, 1.0, out=duty)
        held_c += share * clip(set_point_c, unheated_c, warmest_c)
    fridge_w = at_equal_steps(plan.fridge_w, held_c - plan.fridge["coldest_c"])
    return furnace_w, fridge_w, held_c, unheated_c


def cold_acceptance_w(plan, battery_c):
    battery = plan.battery
    above_k = battery_c - battery["charge_min_c"]
    watts = (0.1 + 0.02 * above_k) * battery["capacity_wh"]
    return np.where(above_k < 5.0, np.where(above_k < 0.0, 0.0, watts), np.inf)


class Tracks:
    """Both tracks of a chunk of stays."""

    def __init__(self, plan, stays, tally):
        self.plan, self.tally = plan, tally
        self.stored_wh = np.full((2, stays), plan.battery["start_wh"])
        self.was_flat = np.zeros((2, stays), bool)
        self.running = np.zeros(stays, bool)
        self.must_run_h = np.zeros(stays)
        self.generator_h, self.fuel_l, self.starts = (np.zeros(stays) for _ in range(3))

    def acceptance_w(self, held_c, powerless_c):
        b = self.plan.battery
        least_w = min(b["charge_limit_w"], b["taper_to_c"] * b["capacity_wh"])
        fall_w = (b["charge_limit_w"] - least_w) / (1.0 - b["taper_from"])
        watts = 1.0 - self.stored_wh / b["usable_wh"]
        watts *= fall_w
        watts += least_w
        clip(watts, least_w, b["charge_limit_w"], out=watts)
        if min(held_c.min(), powerless_c.min()) < b["charge_min_c"] + 5.0:
            cold_w = np.where(
                self.was_flat,
                cold_acceptance_w(self.plan, powerless_c),
                cold_acceptance_w(self.plan, held_c),
            )
            np.minimum(watts, cold_w, out=watts)
        return watts

    def step(self, hour, weather, air_c):
        plan, battery, inverter, tally = self.plan, self.plan.battery, self.plan.inverter, self.tally
        stored_wh = self.stored_wh
        furnace_w, fridge_w, held_c, powerless_c = cabin(plan, hour, air_c)
        dc_w = fridge_w + furnace_w
        dc_w += hour["fixed_dc_w"]
        ac_w = hour["fixed_ac_w"]
        for load, use in zip(plan.loads, weather.use):
            watts = load["watts"][tally.hour]
            if watts == 0.0:
                continue
            watts = watts * use
            if load["optional_below_wh"] > 0.0:
                kept = stored_wh >= load["optional_below_wh"]
                kept_w = kept * watts
                tally.add("given_up_wh", watts - kept_w)
                watts = kept_w
            if load["ac"]:
                ac_w = ac_w + watts
            else:
                dc_w = dc_w + watts
        inverted_w = np.minimum(ac_w, inverter["rated_w"])
        overload_w = ac_w - inverted_w
        idle_w = inverter["standby_w"] * hour["inverter_on"]
        loss_w = (inverter["linear"] + inverter["quadratic_per_w"] * inverted_w) * inverted_w
        outside_w = hour["vehicle_w"]
        if hour["lit"]:
            outside_w = outside_w + weather.panels_w(hour, air_c)
        draw_wh = np.empty_like(stored_wh)
        draw_wh[:] = dc_w + (inverted_w + loss_w)
        draw_wh += idle_w
        net_wh = outside_w - draw_wh

        # The cabin cools without the blower's power.
        cut_off_wh = np.interp(held_c, plan.cold_c, plan.cut_off_wh)
        if plan.furnace["hold"][hour["hour_of_day"]] and self.was_flat.any():
            cut_off_wh = np.where(
                self.was_flat, np.interp(powerless_c, plan.cold_c, plan.cut_off_wh), cut_off_wh
            )

        allowed = hour["generator_allowed"]
        may_charge = hour["lit"] or hour["vehicle_w"] > 0.0 or allowed > 0.0
        if may_charge:
            acceptance_w = self.acceptance_w(held_c, powerless_c)
        offered_wh = None
        if allowed > 0.0:
            along = [np.broadcast_to(w, stored_wh.shape)[1] for w in (inverted_w, loss_w, dc_w)]
            offered_wh = self.run_generator(
                hour, *along, idle_w, outside_w, acceptance_w[1], net_wh[1], draw_wh[1]
            )
        else:
            self.running[:] = False
            self.must_run_h[:] = 0.0

        need_wh = np.maximum(-net_wh, 0.0)
        limited_wh = np.minimum(need_wh, battery["discharge_limit_w"])
        deliverable_wh = stored_wh - cut_off_wh
        deliverable_wh *= battery["discharge_efficiency"]
        np.maximum(deliverable_wh, 0.0, out=deliverable_wh)
        drawn_wh = np.minimum(limited_wh, deliverable_wh)
        flat = limited_wh - deliverable_wh > SERVED_WH
        short_wh = need_wh - drawn_wh
        shortfall_wh = overload_w
        is_short = short_wh > SERVED_WH
        if is_short.any():
            # Outside power carries its share of the alternating current to the full.
            served_inside_w = dc_w + inverted_w
            if offered_wh is not None:
                served_inside_w = np.broadcast_to(served_inside_w, stored_wh.shape).copy()
                served_inside_w[1] -= self.share * along[0]
            shortfall_wh = shortfall_wh + is_short * short_wh / draw_wh * served_inside_w
        if allowed > 0.0:
            tally.sums["shortfall_wh"][1] += (self.share * (along[0] - self.carried_w)).sum()
        tally.add("shortfall_wh", shortfall_wh)
        tally.add("demand_wh", dc_w + ac_w)

        if may_charge:
            surplus_wh = np.maximum(net_wh, 0.0, out=net_wh)
            room_wh = (battery["usable_wh"] - stored_wh) / battery["charge_efficiency"]
            charged_wh = np.minimum(surplus_wh, acceptance_w)
            np.minimum(charged_wh, room_wh, out=charged_wh)
            spilled_wh = surplus_wh
            spilled_wh -= charged_wh
            if offered_wh is not None:
                held_back_wh = np.minimum(spilled_wh[1], offered_wh)
                spilled_wh[1] -= held_back_wh
                self.burn(offered_wh - held_back_wh)
            tally.add("spilled_wh", spilled_wh)
            charged_wh *= battery["charge_efficiency"]
            stored_wh += charged_wh
        drawn_wh /= battery["discharge_efficiency"]
        stored_wh -= drawn_wh
        stored_wh *= 1.0 - battery["self_discharge_per_h"]
        clip(stored_wh, 0.0, battery["usable_wh"], out=stored_wh)
        self.was_flat = flat

    def run_generator(self, hour, inverted_w, loss_w, dc_w, idle_w, outside_w, acceptance_w, net_wh,
                      draw_wh):
        """Charger's offer on the second track, whose balance it changes in place."""
        plan, battery, generator = self.plan, self.plan.battery, self.plan.generator
        allowed = hour["generator_allowed"]
        carried_w = np.minimum(inverted_w, generator["rated_w"])
        charger_w = (generator["rated_w"] - carried_w) * generator["charger_efficiency"]
        wanted_w = acceptance_w + dc_w
        wanted_w += idle_w
        wanted_w -= outside_w
        np.minimum(charger_w, np.maximum(wanted_w, 0.0, out=wanted_w), out=charger_w)
        np.minimum(charger_w, generator["charger_w"], out=charger_w)

        share = np.zeros_like(net_wh)
        wanted = self.running | (self.stored_wh[1] < hour["start_below_wh"])
        if wanted.any():
            missing_wh = min(hour["stop_at_wh"], battery["usable_wh"]) - self.stored_wh[1]
            missing_wh *= np.where(
                missing_wh >= 0.0, 1.0 / battery["charge_efficiency"], battery["discharge_efficiency"]
            )
            missing_wh -= net_wh
            gain_wh = charger_w + inverted_w
            gain_wh += loss_w
            runs = wanted & (missing_wh > SERVED_WH)
            share[runs] = allowed
            np.divide(missing_wh, gain_wh, out=share, where=runs & (gain_wh > SERVED_WH))
            np.minimum(share, allowed, out=share)
        self.must_run_h[(share > 0.0) & ~self.running] = generator["min_run_h"]
        np.maximum(share, np.minimum(self.must_run_h, allowed), out=share)
        np.maximum(self.must_run_h - share, 0.0, out=self.must_run_h)
        runs = share > 0.0
        self.starts += runs & ~self.running
        self.running = runs & (share >= allowed)
        self.share, self.carried_w = share, carried_w
        offered_wh = share * charger_w
        relief_wh = share * (inverted_w + loss_w)
        draw_wh -= relief_wh
        net_wh += offered_wh
        net_wh += relief_wh
        return offered_wh

    def burn(self, charger_wh):
        generator = self.plan.generator
        served_wh = self.share * self.carried_w
        served_wh += charger_wh / generator["charger_efficiency"]
        self.generator_h += self.share
        self.fuel_l += self.share * generator["fuel_l_per_h_idle"]
        self.fuel_l += served_wh * (0.001 * generator["fuel_l_per_kwh"])


class Tally:
    """Sums over both tracks, charge by hour and morning, days on which stays are flat."""

    def __init__(self, plan):
        self.plan = plan
        self.hour = 0
        self.stays = 0
        self.charge = np.zeros((len(plan.hours), 2 * BINS), np.int64)
        self.morning_low = np.zeros((plan.days, 2 * BINS), np.int64)
        self.flat_on_day = np.zeros((plan.days, 2), np.int64)
        self.flat_by_day = np.zeros((plan.days, 2), np.int64)
        self.flat_hours = np.zeros((len(plan.hours), 2), np.int64)
        names = ("demand_wh", "shortfall_wh", "given_up_wh", "spilled_wh")
        self.sums = {name: np.zeros(2) for name in names}
        self.per_stay = {name: [0.0, 0.0] for name in ("generator_h", "fuel_l", "starts")}
        self.histograms = {name: np.zeros(4096, np.int64) for name in self.per_stay}

    def add(self, name, values):
        """Values of both tracks, or the same ones for both."""
        if np.ndim(values) == 2:
            self.sums[name] += values.sum(axis=1)
        else:
            self.sums[name] += np.sum(values) * (1 if np.ndim(values) else self.chunk)

    def count_hour(self, slot, tracks):
        bins = (tracks.stored_wh * ((BINS - 1) / self.plan.battery["usable_wh"])).astype(np.intp)
        bins[1] += BINS
        self.charge[self.hour] += np.bincount(bins.ravel(), minlength=2 * BINS)
        if slot["hour_of_day"] < 12:
            self.low = bins if self.low is None else np.minimum(self.low, bins, out=self.low)
        if tracks.was_flat.any():
            self.flat_hours[self.hour] += tracks.was_flat.sum(axis=1)
            self.today |= tracks.was_flat

    def begin(self, stays):
        self.chunk = stays
        self.ever = np.zeros((2, stays), bool)
        self.begin_day()

    def begin_day(self):
        self.today = np.zeros_like(self.ever)
        self.low = None

    def end_day(self, day):
        self.flat_on_day[day] += self.today.sum(axis=1)
        self.ever |= self.today
        self.flat_by_day[day] += self.ever.sum(axis=1)
        if self.low is not None:
            self.morning_low[day] += np.bincount(self.low.ravel(), minlength=2 * BINS)
        self.begin_day()

    def end(self, tracks):
        self.stays += self.chunk
        for name, bins_per_unit in (("generator_h", 16), ("fuel_l", 32), ("starts", 1)):
            values = getattr(tracks, name)
            self.histograms[name] += np.bincount(
                (values * bins_per_unit).astype(np.intp), minlength=4096
            )
            self.per_stay[name][0] += values.sum()
            self.per_stay[name][1] += values.dot(values)


def run_chunk(plan, stays, random, tally):
    year = random.standard_normal(stays)
    tracks = Tracks(plan, stays, tally)
    tally.begin(stays)
    day, z, warm = -1, None, None
    segment = -1
    for tally.hour, hour in enumerate(plan.hours):
        if hour["day"] != day:
            if day >= 0:
                tally.end_day(day)
            day = hour["day"]
            link = plan.links[day]
            sky, warmth = random.standard_normal((2, stays))
            z = sky if day == 0 else link["sky_kept"] * z + link["sky_new"] * sky
            warm = warmth if day == 0 else link["innovation_kept"] * warm + link["innovation_new"] * warmth
            chi = link["of_year"] * year + link["of_day"] * z
            use_draws = [
                random.standard_normal(stays) if load["varies"] else None for load in plan.loads
            ]
        if hour["segment"] != segment:
            segment = hour["segment"]
            weather = Segment(plan, segment, chi, warm, use_draws)
        air_c = weather.range_c * hour["temperature_swing"]
        air_c += weather.mean_c
        tracks.step(hour, weather, air_c)
        tally.count_hour(hour, tracks)
    tally.end_day(day)
    tally.end(tracks)


def main():
    tables, chunk, stays, seed = sys.argv[1], *map(int, sys.argv[2:])
    with open(tables, encoding="utf-8") as file:
        plan = Plan(json.load(file))
    random = np.random.default_rng(seed)
    tally = Tally(plan)
    begin = time.process_time()
    for _ in range(math.ceil(stays / chunk)):
        run_chunk(plan, chunk, random, tally)
    seconds = time.process_time() - begin
    json.dump(
        {
            "ns_per_stay_hour": 1e9 * seconds / (tally.stays * len(plan.hours)),
            "stays": tally.stays,
            "flat_on_day": tally.flat_on_day.T.tolist(),
            "flat_by_day": tally.flat_by_day.T.tolist(),
            "sums": {name: sums.tolist() for name, sums in tally.sums.items()},
            "per_stay": tally.per_stay,
        },
        sys.stdout,
    )


if __name__ == "__main__":
    main()
