#!/usr/bin/env python3
"""Plans every variant of every instance here with the program, has each layout checked, and says how good they are.

    python3 tests/packing/check_all.py target/release/scantling [--effort quick|normal|thorough] [FOLDER]

Python 3.9 or newer, nothing else. Exit status 1 where a layout is invalid or a bound is above a known layout.
"""
import argparse
import json
import pathlib
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).parent))
import check_layout


def main():
    parser = argparse.ArgumentParser(description="check the program's layouts of all instances")
    parser.add_argument("program")
    parser.add_argument("folder", nargs="?", default=pathlib.Path(__file__).parent, type=pathlib.Path)
    parser.add_argument("--effort", default="normal", choices=["quick", "normal", "thorough"])
    asked = parser.parse_args()
    rows, wrong = [], 0
    for file in sorted(asked.folder.glob("*.json")):
        instance = check_layout.load(file)
        for variant in instance["variants"]:
            with tempfile.TemporaryDirectory() as folder:
                out = pathlib.Path(folder) / "layout.json"
                command = [asked.program, "cut", file, "--variant", variant["id"], "--effort", asked.effort, "--out", out]
                made = subprocess.run(command, capture_output=True, text=True, check=True)
                said = json.loads(made.stdout)
                found = check_layout.check(instance, check_layout.load(out), variant)
            objective, bound, best = found["objective"], said["bound"], variant["best"]
            wrong += not found["valid"] or bound > best or said["objective"] != objective
            rows.append((instance.get("objective"), objective, bound, best))
            print(f"{instance['id']:24} {variant['id']:8} {objective:>10}  bound {bound:>10}  best known {best:>10}"
                  f"  {'valid' if found['valid'] else found['errors']}")
    counted = [row[1:] for row in rows if row[0] != "cost"]
    money = [row[1:] for row in rows if row[0] == "cost"]
    say = {
        "proven best": sum(objective == bound for objective, bound, _ in counted),
        "within one of the own bound": sum(objective <= bound + 1 for objective, bound, _ in counted),
        "meet the best known": sum(objective == best for objective, _, best in counted),
        "beat it": sum(objective < best for objective, _, best in counted),
        "miss it by one": sum(objective == best + 1 for objective, _, best in counted),
        "miss it by more": sum(objective > best + 1 for objective, _, best in counted),
    }
    print(f"\n{len(rows)} questions at {asked.effort} effort, {len(counted)} of them count sheets or bars: "
          + ", ".join(f"{count} {what}" for what, count in say.items()))
    if money:
        worst = max(objective / best - 1 for objective, _, best in money)
        print(f"{len(money)} count money, at most {100 * worst:.2f} % over the best known")
    print(f"{wrong} invalid, above a known layout, or not what the program says of it")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
