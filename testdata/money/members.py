"""A second implementation of the money of a purchase, in plain Python (standard library only).

It reads what two plans did month by month (ledger.csv) and the prices (prices.json), both written
by the test that runs it, and works out from them, without any code of the program:

  money and hours of the members a year, money of an hour, the worth of an hour at which the
  purchase breaks even with its 95 % interval, the net present value at the stated worth of an hour,
  and the share of futures in which an instalment of the loan is not covered.

Usage: python3 members.py FOLDER   (prints one JSON object)
"""

import csv
import json
import math
import sys
from collections import defaultdict
from statistics import mean, variance


def read(folder):
    with open(folder + "/prices.json", encoding="utf-8") as f:
        prices = json.load(f)
    plans = {"today": defaultdict(list), "then": defaultdict(list)}
    with open(folder + "/ledger.csv", encoding="utf-8", newline="") as f:
        for row in csv.DictReader(f):
            plan = row.pop("plan")
            row = {k: float(v) for k, v in row.items()}
            plans[plan][int(row["season"])].append(row)
    for seasons in plans.values():
        for months in seasons.values():
            months.sort(key=lambda r: r["month"])
    return prices, plans


def month_money(p, m, dryers, days_of_season):
    """What a month brings and costs: sold good stalks, all the rest, and of the rest what is paid to
    members."""
    part_of_year = m["days"] / days_of_season
    wood_price = p["wood_in_rains_per_kg"] if m["rain_mm"] > 100 else p["wood_per_kg"]
    pay = (
        m["cut"] * p["pay_per_stalk_cut"]
        + m["other_h"] * p["wage_per_h"]
        + m["night_h"] * p["night_extra_per_h"]
    )
    others = (
        m["wood_kg"] * wood_price
        + m["trips"] * p["collection_trip"]
        + m["sent"] * (p["transport_per_stalk"] + p["bags_per_stalk"])
        + m["firing_h"] * p["upkeep_per_firing_h"]
        + dryers * p["upkeep_per_dryer_year"] * part_of_year
        + p["rent_per_site_year"] * part_of_year
        + m["missing"] * p["penalty_per_missing_stalk"]
    )
    sold = m["delivered"] * p["price_per_good_stalk"]
    second = m["second"] * p["second_grade_price_per_stalk"]
    second += m["left_over"] * p["left_over_price_per_stalk"]
    return sold, second - others - pay, pay


def flows(p, years, dryers):
    """Cash and members' money month by month over linked years, and hours by year."""
    n = 12 * len(years) + p["paid_after_months"] + 12
    cash, members, hours = [0.0] * n, [0.0] * n, []
    income = []
    for y, months in enumerate(years):
        days = sum(m["days"] for m in months)
        earned = 0.0
        for k, m in enumerate(months):
            sold, rest, pay = month_money(p, m, dryers, days)
            cash[12 * y + k] += rest
            cash[12 * y + k + p["paid_after_months"]] += sold
            members[12 * y + k] += rest + pay
            members[12 * y + k + p["paid_after_months"]] += sold
            earned += sold + rest + pay
        income.append(earned)
        hours.append(sum(m["cutting_h"] + m["other_h"] for m in months))
    return cash, members, income, hours


def funding(p):
    """Own part and instalments, in whole hundredths."""
    cost = round(100 * p["dryer_cost"])
    grant, loan = round(cost * p["grant_fraction"]), round(cost * p["loan_fraction"])
    rate, months = p["loan_interest_per_year"] / 12, p["loan_months"]
    level = round(loan * (rate / (1 - (1 + rate) ** -months) if rate else 1 / months))
    left, instalments = loan, []
    for k in range(months):
        interest = round(left * rate)
        paid = min(level, left + interest) if k < months - 1 else left + interest
        left -= paid - interest
        instalments.append(paid / 100)
    return (cost - grant - loan) / 100, instalments


def missed(p, cash, own, instalments, years):
    """Whether an instalment finds too little cash; what a year leaves is shared out at its end, all
    but the opening cash and the instalments of the next year."""
    balance, failed = p["opening_cash"] - own, False
    for k in range(12 * years):
        balance += cash[k]
        if k < len(instalments):
            failed = failed or balance < instalments[k] - 0.0049  # whole hundredths
            balance -= instalments[k]
        if (k + 1) % 12 == 0:
            keep = p["opening_cash"] + sum(instalments[k + 1 : k + 13])
            balance = min(balance, keep)
    return failed


def present(rate, monthly, years):
    """Present value of months, each with its year; what comes after the years counts as their end."""
    return sum(x / (1 + rate) ** min(years, k // 12 + 1) for k, x in enumerate(monthly))


def t_quantile(df, level=0.975):
    """Quantile of Student's t by bisection of its integrated density (Simpson's rule)."""
    c = math.exp(math.lgamma((df + 1) / 2) - math.lgamma(df / 2)) / math.sqrt(df * math.pi)

    def upto(x, n=2000):
        h = x / n
        f = [c * (1 + (i * h) ** 2 / df) ** (-(df + 1) / 2) for i in range(n + 1)]
        return 0.5 + h / 3 * (f[0] + f[-1] + 4 * sum(f[1:-1:2]) + 2 * sum(f[2:-1:2]))

    low, high = 0.0, 100.0
    for _ in range(60):
        mid = (low + high) / 2
        low, high = (mid, high) if upto(mid) < level else (low, mid)
    return (low + high) / 2


def fieller(num, den):
    """Ratio of paired means with the interval of Fieller's theorem, solved as a quadratic."""
    n, x, y = len(num), mean(num), mean(den)
    sxy = sum((a - x) * (b - y) for a, b in zip(num, den)) / (n - 1)
    k = t_quantile(n - 1) ** 2 / n
    a, b, c = y * y - k * variance(den), x * y - k * sxy, x * x - k * variance(num)
    root = math.sqrt(b * b - a * c)
    return x / y, (b - root) / a, (b + root) / a


def main(folder):
    p, plans = read(folder)
    years = p["dryer_life_years"]
    own, instalments = funding(p)
    rate = p["discount_per_year"]
    paid = own + sum(x / (1 + rate) ** (k // 12 + 1) for k, x in enumerate(instalments))
    level = rate / (1 - (1 + rate) ** -years)
    out = {"money": {}, "hours": {}}
    futures = len(plans["today"]) // years
    income, hours = {"today": [], "then": []}, {"today": [], "then": []}
    gains, freed, failed = [], [], 0
    for f in range(futures):
        members, worked = {}, {}
        for name, dryers in (("today", p["dryers_today"]), ("then", p["dryers_then"])):
            run = [plans[name][f * years + y] for y in range(years)]
            cash, members[name], earned, worked[name] = flows(p, run, dryers)
            income[name].append(mean(earned))
            hours[name].append(mean(worked[name]))
            if name == "then" and missed(p, cash, own, instalments, years):
                failed += 1
        gains.append(present(rate, members["then"], years) - present(rate, members["today"], years) - paid)
        freed.append(sum((a - b) / (1 + rate) ** (y + 1) for y, (a, b) in enumerate(zip(worked["today"], worked["then"]))))
    for name in ("today", "then"):
        out["money"][name] = mean(income[name]) - (level * paid if name == "then" else 0)
        out["hours"][name] = mean(hours[name])
    out["money_of_an_hour"] = {name: out["money"][name] / out["hours"][name] for name in ("today", "then")}
    out["break_even_hour"] = fieller([-g for g in gains], freed)
    out["net_present_value"] = mean(g + p["worth_of_hour"] * h for g, h in zip(gains, freed))
    out["missed"] = failed
    out["futures"] = futures
    print(json.dumps(out))


main(sys.argv[1])
