"""What a plain script needs for a club's jobs, to compare the program with.

    import.py read FILE...        read each job's file with json, and no more
    import.py import DB FILE...   read them, and put each entry into SQLite, in one transaction
    import.py newest DB           list the newest job of each unit
    import.py jobs DB             list all jobs
    import.py unit DB UNIT        read the entries of all jobs of a unit

It prints the seconds that this took, without the start of Python.
"""

import json
import sqlite3
import sys
import time


def jobs(files):
    for name in files:
        with open(name, encoding="utf-8") as file:
            yield json.load(file)["job"]


def read(files):
    return sum(len(job["entries"]) for job in jobs(files))


def unit_of(job):
    named = {entry["topic"]: entry["value"]["text"] for entry in job["entries"] if entry["topic"] in ("prepare.vehicle", "prepare.unit")}
    return named["prepare.vehicle"] + ", " + named["prepare.unit"]


def listed(path, what):
    rows = sqlite3.connect(path).execute("select id, %s, unit from jobs %s order by 2 desc" % what).fetchall()
    for row in rows:
        print(*row)
    return len(rows)


def of_unit(path, unit):
    rows = sqlite3.connect(path).execute(
        "select entry from entries join jobs on job = id where unit = ? order by started, seq", (unit,))
    return len([json.loads(entry) for (entry,) in rows])


def take_in(path, files):
    db = sqlite3.connect(path)
    with db:
        db.execute("create table jobs (id text primary key, started text, unit text)")
        db.execute("create index units on jobs (unit, started)")
        db.execute("create table entries (job text, seq integer, entry text, primary key (job, seq))")
        for job in jobs(files):
            db.execute("insert into jobs values (?, ?, ?)", (job["id"], job["started"], unit_of(job)))
            db.executemany(
                "insert into entries values (?, ?, ?)",
                ((job["id"], entry["seq"], json.dumps(entry)) for entry in job["entries"]),
            )
    count = db.execute("select count(*) from entries").fetchone()[0]
    db.close()
    return count


began = time.monotonic()
do, *names = sys.argv[1:]
if do == "import":
    count = take_in(names[0], names[1:])
elif do == "newest":
    count = listed(names[0], ("max(started)", "group by unit"))
elif do == "jobs":
    count = listed(names[0], ("started", ""))
elif do == "unit":
    count = of_unit(*names)
else:
    count = read(names)
print("%d entries, jobs or units, %.3f s" % (count, time.monotonic() - began))
