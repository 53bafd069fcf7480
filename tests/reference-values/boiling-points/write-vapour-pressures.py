"""Writes vapour-pressures.csv beside this file from published vapour-pressure constants.

python3 write-vapour-pressures.py CHECKOUT, with a checkout of github.com/CalebBell/chemicals (MIT) at 82faef9.

Of each parent of the table with a CAS number one set of constants is taken, from the first source that has one: Perry's
(DIPPR), VDI Heat Atlas, McGarry, Poling, Landolt-Boernstein. A set counts when it reaches 85 kPa and puts the normal boiling
point within 5 degrees C of a listed one. It is evaluated within its own stated temperatures only.
"""
import csv
import math
import pathlib
import sys

HERE = pathlib.Path(__file__).parent
SEED = HERE.parents[2] / "seed-tables"
STANDARD = 101.325
PRESSURES = [0.1, 0.2, 0.5, 1, 1.333, 2, 5, 10, 20, 40, 60, 80, 90, 110]


def wagner(last, middle):
    def log_pressure(row, kelvin):
        a, b, c, d, critical, pressure = (float(row[name]) for name in ("A", "B", "C", "D", "Tc", "Pc"))
        t = 1 - kelvin / critical
        return math.log(pressure) + (a * t + b * t**1.5 + c * t**middle + d * t**last) * critical / kelvin
    return log_pressure


def antoine(base):
    return lambda row, kelvin: (float(row["A"]) - float(row["B"]) / (kelvin + float(row["C"]))) * math.log(base)


def dippr(row, kelvin):
    c = [float(row[f"C{i}"] or 0) for i in range(1, 6)]
    return c[0] + c[1] / kelvin + c[2] * math.log(kelvin) + c[3] * kelvin ** c[4]


SOURCES = [
    ("perry-8-table-2-8", "Table 2-8 Vapor Pressure of Inorganic and Organic Liquids", dippr, "Tmin", "Tmax"),
    ("vdi-heat-atlas-2", "VDI PPDS Boiling temperatures at different pressures", wagner(5, 2.5), "Tm", "Tc"),
    ("mcgarry-1983", "Wagner Original McGarry", wagner(6, 3), "Tmin", "Tc"),
    ("poling-5", "Antoine Collection Poling", antoine(10), "Tmin", "Tmax"),
    ("landolt-boernstein-iv-20", "Landolt_antoine_V20", antoine(math.e), "Tmin", "Tmax"),
]


def boils(log_pressure, row, kilopascals, low, high):
    wanted = math.log(kilopascals * 1000)
    for _ in range(100):
        middle = (low + high) / 2
        low, high = (low, middle) if log_pressure(row, middle) > wanted else (middle, high)
    return low


def main(checkout):
    with open(SEED / "parents.csv", encoding="utf-8") as file:
        parents = {row["cas_number"]: row["parent_key"] for row in csv.DictReader(file) if row["cas_number"]}
    listed = {}
    with open(SEED / "parent-constants.csv", encoding="utf-8") as file:
        for row in csv.DictReader(file):
            if row["property"] == "boiling-point" and 98 < float(row["pressure_kpa"] or STANDARD) < 105:
                listed.setdefault(row["parent_key"], []).append((float(row["low"]) + float(row["high"])) / 2)
    chosen = {}
    for source, name, log_pressure, lowest, highest in SOURCES:
        with open(pathlib.Path(checkout) / "chemicals" / "Vapor Pressure" / (name + ".tsv"), encoding="utf-8") as file:
            for row in csv.DictReader(file, delimiter="\t"):
                key = parents.get(row["CAS"])
                low, high = float(row[lowest]), float(row[highest]) - (highest == "Tc")
                if key is None or key in chosen or log_pressure(row, high) < math.log(85e3):
                    continue
                # A set that ends between 85 kPa and standard pressure is carried on over the last degrees.
                normal = boils(log_pressure, row, STANDARD, low, high + 20) - 273.15
                if min((abs(value - normal) for value in listed.get(key, [])), default=99) > 5:
                    continue
                inside = [p for p in PRESSURES if log_pressure(row, low) <= math.log(p * 1000) <= log_pressure(row, high)]
                chosen[key] = [
                    [key, row["CAS"], p, f"{boils(log_pressure, row, p, low, high) - 273.15:.2f}", f"{normal:.2f}", source]
                    for p in inside]
    with open(HERE / "vapour-pressures.csv", "w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["parent_key", "cas_number", "kilopascals", "celsius", "normal_celsius", "source"])
        for key in sorted(chosen):
            writer.writerows(chosen[key])


main(sys.argv[1])
