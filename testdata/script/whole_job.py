"""Does the oil change of a unit that has a drain port only, over "tundish guide --json",
and prints the verdict: python3 whole_job.py TUNDISH STORE. The form is that of
tui/stream/doc.go, the figures are those of model/report/FORMATS.md."""
import datetime, json, subprocess, sys

answers = {  # by topic; of a choice that is not here the first option is taken
    "prepare.capacity": "600-680", "prepare.capacity_means": "refill", "prepare.prior_level": "believed",
    "prepare.hose_holds": "25", "drain.oil_temperature": "warm", "drain.magnet": "paste", "measure.amount": "588",
    "preload.amount": "730", "fill.left_in_vessel": "22", "seat.washer": "new", "seat.tightened": "wrench",
    "seat.escaped": "46", "close.decision": "accept", "close.leak_check": "dry", "close.washer_recheck": "dry"}
takes = {"drain.magnet": 25, "seat.floor_and_exhaust": 15, "close.leak_check": 180, "close.washer_recheck": 1200}  # minutes
guide = subprocess.Popen([sys.argv[1], "--store", sys.argv[2], "guide", "--json"], stdin=-1, stdout=-1, text=True)
now = datetime.datetime.now(datetime.timezone.utc) - datetime.timedelta(days=30)
for line in guide.stdout:
    out = json.loads(line)
    if "refused" in out or "doubt" in out:
        sys.exit(line)
    if "figures" in out:
        last = out
    if "prompt" not in out:
        continue
    prompt = out["prompt"]
    topic, reply = prompt.get("topic"), {"complete": True}
    if prompt["kind"] == "confirm":
        reply = {"key": prompt["key"]}
    elif prompt["kind"] != "complete":
        known = [answers[t] for t in prompt["topics"] if t in answers]
        reply = {"answer": known[0] if known else prompt["options"][0]["token"]}
    now += datetime.timedelta(minutes=takes.get(topic, 1))
    asked = [{"figures": True}] if topic == "close.washer_recheck" else []
    for request in asked + [reply | {"at": now.isoformat(timespec="seconds")}]:
        print(json.dumps(request), file=guide.stdin, flush=True)
print(last["figures"]["unit_state"], "off by %.0f ± %.0f ml" % (last["off"]["ml"], 2 * last["off"]["u_ml"]), *last["findings"], sep="\n")
sys.exit(guide.wait())
