#!/bin/sh
# Keeps the classes of one short training run in an archive for the Java that is here: the program starts faster then.
set -e
archive="$DPKG_ROOT/usr/share/evenwash/evenwash-logger.jsa"
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
rm -f "$archive"
timeout 120 /usr/bin/java -XX:+UseSerialGC -Xmx256m -XX:ArchiveClassesAtExit="$archive" -Xlog:cds=off -Xlog:cds+dynamic=off \
    -jar "$DPKG_ROOT/usr/share/evenwash/evenwash-logger.jar" serve --data "$scratch/data" --port 0 --broker-port 0 >"$scratch/out" 2>&1 &
program=$!
for second in $(seq 90); do
    grep -q 'Pages at' "$scratch/out" && break
    kill -0 $program || break
    sleep 1
done
kill $program 2>/dev/null || true
wait $program || true
[ -f "$archive" ]
