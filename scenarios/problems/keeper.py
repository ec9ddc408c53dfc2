import json, sys

for line in sys.stdin:                                     # one line a morning
    day = json.loads(line)
    here = None if day["first"] else here                  # a possible year begins
    plots = {p["name"]: p for p in day["plots"] if not p["shut"]}
    if here not in plots or plots[here]["cover"] < 0.75:   # time to leave: where to?
        ready = [n for n, p in plots.items() if p["cover"] > 0.88 and p["days_at_rest"] >= 28]
        here = max(ready, key=lambda n: plots[n]["days_at_rest"], default=None)
    print(json.dumps({"date": day["date"], "open": [here] if here else []}), flush=True)
