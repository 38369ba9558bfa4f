#!/usr/bin/env python3
"""Speed of whole commands, from start to files written: `benches/whole.py [PROGRAM] [logs]`, some five minutes on an idle machine.

Prints a line for each figure; medians of three runs, single ones of `learn --scenario`. With `logs` only of commands that read a
catch log. Run it from the root of the repository.
"""
import json
import math
import os
import resource
import subprocess
import sys
import tempfile
import time

WORDS = [word for word in sys.argv[1:] if word != "logs"]
PROGRAM = os.path.abspath(WORDS[0] if WORDS else "target/release/shoalwise")
WATER = "scenarios/tern-bar.toml"
ONE_PLAN = ["--plan", "bar-five-minutes"]
PLANS = ["bar-two-minutes", "bar-five-minutes", "bar-twelve-minutes", "bar-lead"]


def run(arguments):
    """Time on the clock [s], time of the processor [s], peak memory [MB]."""
    with tempfile.TemporaryDirectory() as folder:
        arguments = [argument.replace("OUT", f"{folder}/out") for argument in arguments]
        before, begun = resource.getrusage(resource.RUSAGE_CHILDREN), time.monotonic()
        command = ["/usr/bin/time", "-f", "%M", PROGRAM, *arguments]
        done = subprocess.run(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True)
        clock_s, after = time.monotonic() - begun, resource.getrusage(resource.RUSAGE_CHILDREN)
    if done.returncode != 0:
        sys.exit(f"{arguments}: {done.stderr}")
    cpu_s = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    return clock_s, cpu_s, int(done.stderr.split()[-1]) / 1024


def median(arguments):
    return sorted(run(arguments) for _ in range(3))[1]


def compare(scenario, *more, days=None, threads=1):
    fixed = [] if days is None else ["--days", str(days)]
    return ["compare", scenario, *fixed, "--threads", str(threads), "--quiet", "--out", "OUT", *more]


def events_of(result):
    """Events a session of the first plan of a result."""
    if isinstance(result, dict):
        if isinstance(result.get("events"), float):
            return result["events"]
        result = list(result.values())
    found = (events_of(part) for part in result) if isinstance(result, list) else ()
    return next((events for events in found if events is not None), None)


def rates():
    for name, plans, count in [("bar-five-minutes", ONE_PLAN, 1), ("all five plans", [], 5)]:
        few, many = 200 // count, 1200 // count
        some = median(compare(WATER, *plans, days=few, threads=2))
        more = median(compare(WATER, *plans, days=many, threads=2))
        rate = (many - few) * count / (more[0] - some[0])
        print(f"{name}, report left out, 2 threads: {rate:.0f} sessions/s; peak {more[2]:.0f} MB")
    some, more = (median(compare(WATER, *ONE_PLAN, days=days)) for days in (100, 400))
    cpu_ms = (more[1] - some[1]) / 300 * 1e3
    command = [PROGRAM, *compare(WATER, *ONE_PLAN, "--json", days=400, threads=2)]
    command[command.index("OUT")] = "-"
    events = events_of(json.loads(subprocess.run(command, capture_output=True, text=True, check=True).stdout))
    print(f"1 thread: {cpu_ms:.2f} ms a session and its day, {events:.0f} events, {cpu_ms * 1e6 / events:.0f} ns an event")


def waits(short):
    for scenario in (WATER, "scenarios/first-try.toml"):
        clock_s, cpu_s, peak_mb = median(compare(scenario, threads=2))
        print(f"{scenario} until the verdict is clear: {clock_s:.2f} s, {cpu_s:.2f} s of CPU, {peak_mb:.0f} MB")
    clock_s, cpu_s, _ = median(compare(short, *ONE_PLAN, "--set", "session.length=1 h", days=2000, threads=2))
    print(f"2,000 sessions of an hour, with report: {clock_s:.2f} s, {cpu_s:.2f} s of CPU")


def logs(folder):
    """Commands that read a catch log."""
    def written(name, *more):
        """A log as `replay` writes it."""
        path = f"{folder}/{name}.csv"
        with open(path, "w") as file:
            subprocess.run([PROGRAM, "replay", WATER, *more, "--log"], stdout=file, check=True)
        return path

    def shown(name, measured):
        clock_s, cpu_s, peak_mb = measured
        print(f"{name}: {clock_s:.2f} s, {cpu_s:.2f} s of CPU, {peak_mb:.0f} MB")

    def casts(path):
        with open(path) as file:
            return file.read().splitlines()

    one = written("one", "--plan", "bar-five-minutes", "--day", "1")
    other = written("other", "--plan", "bar-two-minutes", "--day", "2")
    two = f"{folder}/two.csv"
    with open(two, "w") as file:
        # The first column is the session.
        rows = [f"second,{row.split(',', 1)[1]}" for row in casts(other)[1:]]
        file.write("\n".join(casts(one) + rows) + "\n")
    head, *rows = casts("scenarios/invented-log.csv")
    head, rows = next((row, rows[n:]) for n, row in enumerate([head, *rows]) if not row.startswith("#"))
    big = f"{folder}/big.csv"
    with open(big, "w") as file:
        again = (f"{row.split(',')[0]}-{n},{row.split(',', 1)[1]}" for n in range(5000) for row in rows)
        file.write("\n".join([head, *(row for _, row in zip(range(5000), again))]) + "\n")
    common = ["--threads", "2", "--quiet", "--out", "OUT"]
    fit = ["learn", two, "--scenario", WATER, *common]
    few = ["--logs", "300", "--days", "20"]
    shown("learn, 5,000 casts, three pictures", median(["learn", big, *common]))
    shown("learn, 5,000 casts, no files", median(["learn", big, "--threads", "2", "--json", "--out", "-"]))
    shown("learn --scenario, 2,000 logs of two sessions of five hours", run(fit))
    with_few = run([*fit, *few])
    shown("the same with 300 logs and 20 days", with_few)
    with_next = run([*fit, *few, "--next"])
    shown("the same with --next, 1,000 waters", with_next)
    print(f"so --next by itself: {with_next[0] - with_few[0]:.1f} s, {with_next[1] - with_few[1]:.1f} s of CPU")
    for at in ("0:42", "2:30", "4:00"):
        command = ["now", WATER, "--log", one, "--plan", "bar-five-minutes", "--threads", "2"]
        shown(f"now, {at} h into five hours", median([*command, "--at", at]))


def growth(short, text, folder):
    fixed_s = median(compare(WATER, *ONE_PLAN, days=2))[1]

    def exponents(name, commands):
        taken = [(size, median(command)[1] - fixed_s) for size, command in commands]
        pairs = zip(taken, taken[1:])
        slopes = [math.log(s2 / s1) / math.log(n2 / n1) for (n1, s1), (n2, s2) in pairs]
        times = ", ".join(f"{size}: {s:.2f} s" for size, s in taken)
        print(f"growth with {name}: {times}; exponents {', '.join(f'{slope:.2f}' for slope in slopes)}")

    def lines(count):
        path = f"{folder}/lines-{count}.toml"
        with open(path, "w") as file:
            file.write(text)
            for number in range(count - 2):
                file.write(f'\n[line.more-{number}]\ndistance = "{30 + 3 * number} m"\n')
        return path

    def fish(count):
        return ["--set", f"shoal.bar-fish.count={count}", "--set", f"shoal.reed-fish.count={count // 2}"]

    def plans(count):
        return [word for plan in PLANS[:count] for word in ("--plan", plan)]

    def hours(count):
        return compare(short, *ONE_PLAN, "--set", f"session.length={count} h", days=60)

    exponents("days", [(n, compare(WATER, *ONE_PLAN, days=n)) for n in (100, 200, 400)])
    exponents("fish", [(n, compare(WATER, *ONE_PLAN, *fish(n), days=60)) for n in (60, 120, 240)])
    exponents("plans", [(n, compare(WATER, *plans(n), days=60)) for n in (1, 2, 4)])
    exponents("hours", [(n, hours(n)) for n in (2, 4, 8)])
    exponents("lines", [(n, compare(lines(n), *ONE_PLAN, days=60)) for n in (2, 4, 8)])


def main():
    with open(WATER) as file:
        text = file.read().replace("#:schema scenario.schema.json\n", "")
    print(f"{PROGRAM}, load {os.getloadavg()[0]:.1f}")
    with tempfile.TemporaryDirectory() as folder:
        # Without the plan and the move whose times do not fit a session of an hour.
        if "logs" in sys.argv:
            return logs(folder)
        short = f"{folder}/short.toml"
        head, rest = text.split("[shoal.reed-fish.move.afternoon]")
        plans = rest[rest.index("[plan."):rest.index("# As five minutes, but the margin")]
        with open(short, "w") as file:
            file.write(head + plans)
        rates()
        waits(short)
        growth(short, text, folder)
        logs(folder)


if __name__ == "__main__":
    main()
