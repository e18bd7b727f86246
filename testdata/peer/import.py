"""What a plain script needs for a club's jobs, to compare the program with.

    import.py read FILE...        read each job's file with json, and no more
    import.py import DB FILE...   read them, and put each entry into SQLite, in one transaction

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


def take_in(path, files):
    db = sqlite3.connect(path)
    with db:
        db.execute("create table jobs (id text primary key, started text)")
        db.execute("create table entries (job text, seq integer, entry text, primary key (job, seq))")
        for job in jobs(files):
            db.execute("insert into jobs values (?, ?)", (job["id"], job["started"]))
            db.executemany(
                "insert into entries values (?, ?, ?)",
                ((job["id"], entry["seq"], json.dumps(entry)) for entry in job["entries"]),
            )
    count = db.execute("select count(*) from entries").fetchone()[0]
    db.close()
    return count


began = time.monotonic()
count = take_in(sys.argv[2], sys.argv[3:]) if sys.argv[1] == "import" else read(sys.argv[2:])
print("%d entries, %.3f s" % (count, time.monotonic() - began))
