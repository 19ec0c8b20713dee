#!/usr/bin/env bash
# How many sashes a second, and how much memory at its most, on a street of so many sashes that all differ:
#   tests/bench/street.sh target/release/fillister 1000 10000
# Every output is made, into a folder that is taken away again. Needs GNU time.
set -euo pipefail
fillister=$1
shift
room=$(mktemp -d)
trap 'rm -rf "$room"' EXIT

for count in "$@"; do
    survey=$room/street-$count.toml
    awk -v count="$count" 'BEGIN {
        srand(1)
        print "house = \"Tern Street\"\n[defaults]\nkind = \"fixed\"\nthickness = 57\ntimber = \"scots-pine\""
        print "stiles = { width = 57 }\nrails = { top = 70, bottom = 74 }\nrebate = { width = 9, depth = 17 }"
        print "moulding = { shape = \"ovolo\", width = 8, depth = 10 }\nunit = { build_up = \"4-6-4\", gas = \"argon\" }"
        for (one = 1; one <= count; one++)
            printf "[[sash]]\nid = \"s-%d\"\nsight = { width = %d, height = %d }\n", one, 400 + 500 * rand(), 500 + 500 * rand()
    }' > "$survey"
    run() {
        local what=$1 status=0
        shift
        command time -o "$room/time" -f "%e %M" "$@" > /dev/null || status=$?
        [ "$status" -lt 2 ]
        # Where a run ends with another status than 0, time says so first.
        tail -n 1 "$room/time" | awk -v what="$what" -v count="$count" \
            '{ printf "%s %d: %.0f s, %.0f sashes a second, %.0f MB at most\n", what, count, $1, count / $1, $2 / 1024 }'
    }
    run check "$fillister" check "$survey"
    run make "$fillister" make "$survey" --out "$room/out"
    run "make again" "$fillister" make "$survey" --out "$room/out"
    rm -rf "$room/out"
done
